namespace Ventwright.Drawing;

/// <summary>What a net shows.</summary>
/// <param name="Net">Name of the net.</param>
/// <param name="Volts">Volts to ground; NaN for a floating net.</param>
/// <param name="Floating">Whether it has no path to ground.</param>
/// <param name="Energised">Whether it is at work: carries a load's current, or, where no load hangs on it, stands above a volt.</param>
/// <param name="Text">Ready to show.</param>
public sealed record NetState(string Net, double Volts, bool Floating, bool Energised, string Text);

/// <summary>What a hose shows.</summary>
/// <param name="Hose">Name of the hose.</param>
/// <param name="DepressionPa">Depression below ambient, Pa.</param>
/// <param name="HasVacuum">Whether there is enough to call it vacuum: 5 kPa.</param>
/// <param name="Text">Ready to show.</param>
public sealed record HoseState(string Hose, double DepressionPa, bool HasVacuum, string Text);

/// <summary>What an air branch shows.</summary>
/// <param name="Branch">Index of the branch.</param>
/// <param name="FlowM3PerS">Flow from its end A to its end B, m3/s; negative when it runs back.</param>
/// <param name="Text">Ready to show.</param>
/// <param name="WarmEnters">Share of what flows into it that has been through the heater core, 0..1.</param>
/// <param name="WarmLeaves">The same of what leaves it.</param>
public sealed record AirState(int Branch, double FlowM3PerS, string Text, double WarmEnters, double WarmLeaves);

/// <summary>How busy a part is.</summary>
public enum Activity
{
    /// <summary>There is nothing to say: a resistor, a duct.</summary>
    Plain,

    /// <summary>At rest: relay out, lamp dark, motor still.</summary>
    Idle,

    /// <summary>At work: relay in, lamp lit, motor running.</summary>
    Working,

    /// <summary>Blown, as a fuse.</summary>
    Blown,

    /// <summary>Not there or unplugged.</summary>
    Absent,
}

/// <summary>What a part, control or pin shows.</summary>
/// <param name="Id">Id of the part, or name of the control.</param>
/// <param name="Activity">How busy it is.</param>
/// <param name="Share">Position 0..1 of a flap or mover, speed of a motor (1 = rated); NaN for others.</param>
/// <param name="Word">Its state in a word, or "".</param>
/// <param name="Text">Short text for its box.</param>
/// <param name="Lines">All there is to say, a line each.</param>
public sealed record PartState(string Id, Activity Activity, double Share, string Word, string Text, IReadOnlyList<string> Lines);
