namespace Ventwright.Reports;

/// <summary>A report cannot be made; the message says why and what to do.</summary>
public sealed class ReportException(string message) : Exception(message);
