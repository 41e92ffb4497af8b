using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Wiring;

/// <summary>What a channel's wiring looks like.</summary>
public enum WiringVerdict
{
    /// <summary>It shows what the model expects.</summary>
    Agrees,

    /// <summary>Nothing can be said of it in this state.</summary>
    CannotTell,

    /// <summary>It shows something else.</summary>
    Off,

    /// <summary>It shows nothing.</summary>
    NoAnswer,
}

/// <summary>A channel in the wiring check.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="WiredTo">Where it is wired to, for people.</param>
/// <param name="Low">Lowest value that agrees, SI; NaN when there is none.</param>
/// <param name="High">Highest value that agrees, SI; NaN when there is none.</param>
/// <param name="Found">What it shows, SI; NaN when nothing.</param>
/// <param name="Verdict">Verdict.</param>
/// <param name="Look">What to look at, in words; empty when it agrees.</param>
public sealed record WiringRow(ChannelDefinition Channel, string WiredTo, double Low, double High, double Found, WiringVerdict Verdict, string Look);

/// <summary>A wiring check.</summary>
/// <param name="IsLive">Whether it was made with the supply on.</param>
/// <param name="Rows">Outputs, then inputs.</param>
public sealed record WiringReport(bool IsLive, IReadOnlyList<WiringRow> Rows)
{
    /// <summary>Whether no channel is off or without an answer.</summary>
    public bool IsGood => Rows.All(r => r.Verdict is WiringVerdict.Agrees or WiringVerdict.CannotTell);
}
