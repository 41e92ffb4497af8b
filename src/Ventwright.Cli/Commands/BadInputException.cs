namespace Ventwright.Cli.Commands;

/// <summary>Something that the person gave cannot be used. The message says what, where, and what to do; it is all that is printed.</summary>
internal sealed class BadInputException(string message) : Exception(message);
