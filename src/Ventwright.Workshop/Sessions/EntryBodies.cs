using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop;

/// <summary>A reading as it is kept.</summary>
/// <param name="Set">How the unit stood, by name and text.</param>
/// <param name="At">The check.</param>
/// <param name="Got">What was read, as it was written.</param>
/// <param name="Accuracy">Accuracy of the meter, as it was written; null for an ordinary one.</param>
/// <param name="Turn">The turn of a slow drive that it answers, or null.</param>
public sealed record ReadingBody(Dictionary<string, string> Set, string At, string Got, string? Accuracy = null, SlowTurnMark? Turn = null);

/// <summary>A turn of a slow drive, as a reading that answers it names it.</summary>
/// <param name="Drive">Number of the entry that began the drive.</param>
/// <param name="Number">Number of the turn.</param>
public sealed record SlowTurnMark(long Drive, int Number);

/// <summary>A slow drive that was begun, as it is kept.</summary>
/// <param name="World">What the world does, and to which car.</param>
/// <param name="Hands">How the bench stood over the scenario's panel, by name and text.</param>
/// <param name="Sheet">Id of the sheet in the workshop that the session was tied to then; null for the text that it was started with.</param>
/// <param name="Version">Number of its version.</param>
public sealed record SlowDriveBody(WorldText World, Dictionary<string, string> Hands, string? Sheet, int? Version);

/// <summary>A repaired or swapped part as it is kept.</summary>
/// <param name="Part">Id of the part.</param>
public sealed record PartBody(string Part);

/// <summary>A symptom or a note as it is kept.</summary>
/// <param name="Text">In the person's own words.</param>
public sealed record TextBody(string Text);

/// <summary>How the panel stands, as it is kept.</summary>
/// <param name="Set">Name and text of all that differs from the sheet's own starting point.</param>
public sealed record PanelBody(Dictionary<string, string> Set);

/// <summary>Something that was put on the bench, taken off it, or fed directly, as it is kept.</summary>
/// <param name="Name">Name as a setting has it: <c>absent M1</c>, <c>feed sw.on</c>.</param>
/// <param name="Value">Its text, such as <c>yes</c> or <c>12 V</c>; null when it no longer holds.</param>
public sealed record BenchBody(string Name, string? Value);

/// <summary>A check that was passed over, as it is kept.</summary>
/// <param name="Set">How the unit was to stand.</param>
/// <param name="At">The check.</param>
public sealed record CheckBody(Dictionary<string, string> Set, string At);

/// <summary>The version of a sheet that a session is tied to from here on, as it is kept.</summary>
/// <param name="Sheet">Id of the sheet in the workshop.</param>
/// <param name="Version">Number of the version.</param>
/// <param name="Text">Its text, so that the session stands by itself; null for the text that the session was started with.</param>
public sealed record SheetBody(string Sheet, int Version, string? Text);

/// <summary>A box of the function chart that was ticked or cleared, as it is kept.</summary>
/// <param name="Set">The setting of the box.</param>
/// <param name="At">What was looked at.</param>
/// <param name="Ticked">Whether it is ticked.</param>
public sealed record TickBody(Dictionary<string, string> Set, string At, bool Ticked);
