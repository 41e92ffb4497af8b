namespace Ventwright.Workshop;

/// <summary>One unit's turn on the bench: what was tried, on which sheet, since when.</summary>
/// <param name="Id">Short id that a person can type and read out, such as <c>b7k2</c>; letter case does not matter.</param>
/// <param name="Title">What the person calls it.</param>
/// <param name="SheetPath">Where the sheet was read from, for display; the file may have moved or changed since.</param>
/// <param name="SheetText">The sheet as it was when the session started: the readings belong to this text.</param>
/// <param name="Started">When the session was started, with the offset of the local clock.</param>
public sealed record BenchSession(string Id, string Title, string SheetPath, string SheetText, DateTimeOffset Started);
