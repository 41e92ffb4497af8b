using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Sensing;
using Ventwright.Simulation;

namespace Ventwright.Bench.StandIns;

/// <summary>Dividers in place of tracks with a wiper.</summary>
internal static class PositionStandIns
{
    /// <summary>A divider may be so much smaller or larger than the track: the module's reference and its input allow that much (common practice, no source).</summary>
    private const double Span = 2;

    public static PositionStandIn? TryMake(Simulator simulator, string id, string value, Drawer drawer, StandInOptions options, out string? problem)
    {
        UnitModel model = simulator.Model;
        if (TrackPart.TryFind(model, id, out problem) is not { } track) return null;
        if (StandInSearch.Position(model, model.PartIndex(id), value, out problem) is not { } position) return null;
        ResistorDivider[] dividers = position is > 0 and < 1 ? [.. DividerSearch.Closest(drawer.Resistors, position, track.Ohms / Span, track.Ohms * Span, options.Choices)] : [];
        DividerChoice[] choices = [.. dividers.Select(d => new DividerChoice(d, Reads(simulator, track, d, options), d.WorstShares()))];
        return new(
            track, position, position * track.Ohms, (1 - position) * track.Ohms, new(track.Ohms, position, 0.01), choices,
            track.Name, Steps(track, position), Cautions(track), ($"stand-in {id}", position.ToString("R", CultureInfo.InvariantCulture)));
    }

    /// <summary>What the module reads with the two resistors in place of the track: the shaft held in the middle, the two pieces twice as large as the resistors.</summary>
    private static double Reads(Simulator simulator, TrackPart track, ResistorDivider divider, StandInOptions options)
    {
        if (track.Input is not { Reads: InputReads.Fraction } input) return divider.Share;
        UnitModel model = simulator.Model;
        if (track.Pieces.Lower.Gate is not { } gate || gate.Inputs is not [double low, double high]) return divider.Share;
        int part = model.PartIndex(track.Id);
        Edit[] edits =
        [
            new(track.Pieces.Lower.Parameter, EditKind.Set, 2 * divider.Lower.Ohms), new(track.Pieces.Upper.Parameter, EditKind.Set, 2 * divider.Upper.Ohms),
            new(model.Variables[gate.Variable].Parameter, EditKind.Set, (low + high) / 2),
        ];
        Setting setting = Setting.TryMake(model, options.Set ?? [], out _)!;
        Settled rest = simulator.Settle(setting, [new("divider", "divider", part, "divider", 1, "", edits, [])]);
        return rest.Verdict == Verdict.NotSolved || rest.Variables[model.Module!.Powered] < 0.5 ? divider.Share : rest.Signals[input.Signal];
    }

    private static List<string> Steps(TrackPart track, double position)
    {
        string where = track.Pins.Count > 0 ? $" ({string.Join(", ", track.Pins)})" : "";
        string make = position is > 0 and < 1
            ? $"Lower resistor from {track.LowNet} to {track.WiperNet}, upper resistor from {track.WiperNet} to {track.HighNet}; or a potentiometer with its ends there and its wiper on {track.WiperNet}."
            : $"Join {track.WiperNet} with {(position == 0 ? track.LowNet : track.HighNet)} through 100 ohm, and leave the track's other end open.";
        return ["Supply off.", $"Unplug {track.Id}{where}.", make, "Check with the meter, supply on and stand-in fitted: volts of the tap over volts of the two ends is the position."];
    }

    private static List<string> Cautions(TrackPart track) =>
    [
        .. track.IsFeedback ? (string[])["The module drives the motor until the feedback says it has arrived. With a fixed stand-in it never does: leave the motor's pins off, or it stalls at its stop and heats up."] : [],
        "Never join the two ends of the track: that shorts the module's reference.",
        "The maker's own procedure goes first.",
    ];
}
