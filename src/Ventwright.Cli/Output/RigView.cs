using Ventwright.Quantities;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Rig.Wiring;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Cli.Output;

/// <summary>Shows a rig: cautions, wiring check, runs.</summary>
internal static class RigView
{
    /// <summary>What to beware of.</summary>
    public static void Cautions(RigDefinition rig)
    {
        foreach (string caution in rig.Cautions) Screen.Line($"Caution: {caution}");
        Screen.Line("The vehicle maker's procedure and local law come first.");
    }

    /// <summary>The table of a wiring check.</summary>
    public static void Wiring(WiringReport report, UnitSystem units)
    {
        Screen.Line(report.IsLive ? "Wiring with the supply on:" : "Wiring with everything off:");
        Screen.Table(["channel", "wired to", "expected", "found", "verdict", "look at"], report.Rows.Select(r => (string[])
            [r.Channel.Name, r.WiredTo, RigWords.Expected(r, units), r.Channel.Kind.Text(r.Found, units), Word(r.Verdict), r.Look]));
        int bad = report.Rows.Count(r => r.Verdict is WiringVerdict.Off or WiringVerdict.NoAnswer);
        Screen.Line(bad == 0 ? "No channel is off." : $"{bad} of {report.Rows.Count} channels are off or do not answer.");
    }

    /// <summary>The table as JSON.</summary>
    public static object Json(WiringReport report) => new
    {
        report.IsLive,
        Good = report.IsGood,
        Rows = report.Rows.Select(r => new
        {
            Channel = r.Channel.Name,
            r.Channel.Device,
            r.WiredTo,
            Unit = QuantityText.Unit(r.Channel.Kind.Dimension(), UnitSystem.Metric),
            Low = Number(r.Channel.Kind, r.Low),
            High = Number(r.Channel.Kind, r.High),
            Found = Number(r.Channel.Kind, r.Found),
            Verdict = Word(r.Verdict),
            Look = r.Look.Length == 0 ? null : r.Look,
        }),
    };

    /// <summary>A value in the unit of its kind.</summary>
    public static double? Number(ChannelKind kind, double value) => Output.Json.Number(QuantityText.ToUnit(value, kind.Dimension(), UnitSystem.Metric));

    /// <summary>A row of a run on one line.</summary>
    public static void Sample(RigBench rig, RunSample sample, UnitSystem units)
    {
        IEnumerable<string> given = rig.Definition.Outputs.Select(o => $"{o.Name} {o.Kind.Text(sample.Given.GetValueOrDefault(o.Name, double.NaN), units)}");
        IEnumerable<string> measured = rig.Definition.Inputs.Select(i => $"{i.Name} {i.Kind.Text(sample.Measured[i.Name], units)}");
        IEnumerable<string> shows = sample.Shows.Select(s => $"{s.Name} {QuantityText.Format(s.Value, s.Dimension, units)}");
        Screen.Line(FormattableString.Invariant($"{sample.Seconds,7:0.0} s  {sample.State.ToString().ToLowerInvariant()}: {string.Join(", ", given)} | {string.Join(", ", measured.Concat(shows))}"));
        foreach (string note in sample.Notes) Screen.Line($"           {note}");
        Screen.Flush();
    }

    /// <summary>How a run went.</summary>
    public static void Report(RunReport report)
    {
        RunStatistics s = report.Statistics;
        Screen.Line($"Ended: {report.Why}");
        Screen.Line(FormattableString.Invariant($"{s.Rounds} rounds at {s.RateHz:0.00} Hz; begun at most {1e3 * s.LatestS:0.0} ms late (standard deviation {1e3 * s.JitterS:0.0} ms), {s.Missed} missed; a round took {1e3 * s.MeanWorkS:0.0} ms, {1e3 * s.LongestWorkS:0.0} ms at most."));
        foreach (string note in report.Notes) Screen.Line(note);
        Screen.Line(report.Safe.ToString());
    }

    /// <summary>How a run went, as JSON.</summary>
    public static object Json(RunReport report, RigBench rig, RunSample? last, object? sound)
    {
        RunStatistics s = report.Statistics;
        return new
        {
            V = 1,
            report.Why,
            Fault = report.IsFault,
            Safe = report.Safe.IsSafe,
            Unreached = report.Safe.Unreached.Select(u => new { Output = u.Output.Name, u.Reason }),
            Statistics = new
            {
                s.Rounds,
                s.Missed,
                RateHz = Output.Json.Number(s.RateHz),
                LatestMs = Output.Json.Number(1e3 * s.LatestS),
                JitterMs = Output.Json.Number(1e3 * s.JitterS),
                MeanWorkMs = Output.Json.Number(1e3 * s.MeanWorkS),
                LongestWorkMs = Output.Json.Number(1e3 * s.LongestWorkS),
            },
            report.Notes,
            Last = last is null ? null : rig.Definition.Inputs.Select(i => new { Channel = i.Name, Unit = QuantityText.Unit(i.Kind.Dimension(), UnitSystem.Metric), Value = Number(i.Kind, last.Measured[i.Name]) }),
            Sound = sound,
        };
    }

    private static string Word(WiringVerdict verdict) => verdict switch
    {
        WiringVerdict.Agrees => "agrees",
        WiringVerdict.CannotTell => "cannot tell",
        WiringVerdict.Off => "off",
        _ => "no answer",
    };
}
