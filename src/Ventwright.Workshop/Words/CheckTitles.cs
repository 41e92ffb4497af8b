using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>Checks and faults in sentences that a person would say at the bench: name first, id second.</summary>
public static class CheckTitles
{
    /// <summary>What to look at, such as <c>Volts at mod.9 on Test plug</c>.</summary>
    public static string Of(UnitModel model, Observable what)
    {
        string part = SettingWords.PartName(model, what.Target);
        return what.Kind switch
        {
            ObservableKind.Volts when Over(model, what) is { } over => $"Volts over {over}, {what.Target} against {what.Second}",
            ObservableKind.Volts => $"Volts at {what.Target}{(what.Second is null ? OwnerText(model, what) : $" against {what.Second}")}",
            ObservableKind.Ohms => $"Ohms between {what.Target} and {what.Second}{OwnerText(model, what)}",
            ObservableKind.Amps => $"Current through {part}",
            ObservableKind.Vacuum => $"Vacuum in hose {what.Target}{OwnerText(model, what)}",
            ObservableKind.Position => $"Position of {part}",
            ObservableKind.Motion => $"Does {part} run?",
            ObservableKind.Airflow => $"Air out of {part}",
            ObservableKind.Light => $"Does {part} light up?",
            ObservableKind.Sound => $"Click of {part} as it is switched",
            ObservableKind.Loses => $"Vacuum that {part} loses in a minute",
            ObservableKind.Falls => $"Vacuum lost in a minute by hose {what.Target}{OwnerText(model, what)}, with all that hangs on it",
            ObservableKind.Contacts => $"Contacts of {part}, the plug pulled",
            ObservableKind.Sweep => $"Track of {part}, swept from end to end",
            _ => $"Seconds of {part} from end to end",
        };
    }

    /// <summary>The part that a voltage between two nets lies over, or null.</summary>
    public static string? Over(UnitModel model, Observable what)
    {
        if (what is not { Kind: ObservableKind.Volts, Second: { } second }) return null;
        int part = Array.FindIndex(model.MainBranch, b => b >= 0 && model.Nets[model.Electric[b].A] == what.Target && model.Nets[model.Electric[b].B] == second);
        return part < 0 ? null : model.Parts[part].Title;
    }

    /// <summary>Where a check is made, or null for one that is no point of the sheet.</summary>
    public static Place? PlaceOf(UnitModel model, Observable what) => PointOf(model, what) is { } point ? model.Places[point.Place] : null;

    /// <summary>Where the probe goes and how the bench has to stand for it.</summary>
    public static string How(ObservableKind kind, PointState when) => (kind, when) switch
    {
        (ObservableKind.Volts, _) => "Red probe there, black probe on the ground of the supply.",
        (ObservableKind.Ohms, _) => "Supply off and disconnected, one probe on each.",
        (ObservableKind.Amps, _) => "Clamp meter round the lead, or a fused ammeter in it.",
        (ObservableKind.Falls, _) => "Gauge on a tee in the hose. Take the hose off the vacuum supply and watch for a minute; then put it back.",
        (ObservableKind.Vacuum, _) => "Gauge on a tee in the hose.",
        (ObservableKind.Sweep, _) => "Part unplugged, ohmmeter from the low end of its track to the wiper. Turn the shaft slowly from end to end, a servo by straight supply on its motor; a needle shows a jump best.",
        (ObservableKind.Contacts, _) => "Supply off. Pull the plug and look at all contacts of both halves with a lamp: green, white or burnt ones are corroded. Push it home again.",
        (_, PointState.HandPump) => "Take the part off its hose, pump it to 50 kPa (15 inHg), shut off, watch for a minute.",
        (_, PointState.Direct) => "Straight supply on its motor, time it with a watch.",
        (ObservableKind.Airflow, _) => "Hand or a strip of paper in front of it.",
        (ObservableKind.Sound, _) => "Listen as the setting is made; a finger on it helps.",
        _ => "Look at it.",
    };

    /// <summary>What to beware of at a kind of check, or null.</summary>
    public static string? Caution(ObservableKind kind) => kind switch
    {
        ObservableKind.Ohms => "Supply off and disconnected before the ohmmeter goes on.",
        ObservableKind.Contacts => "Supply off and disconnected before the plug is pulled.",
        ObservableKind.Amps => "High current. Clamp or fused meter; hands, sleeves and hair off fans that may start.",
        ObservableKind.Seconds or ObservableKind.Sweep => "Straight supply: through a fuse of a few amperes, on the motor alone; fingers out of gears and flaps.",
        _ => null,
    };

    /// <summary>A set of faults by part: <c>Screen flap valve (Y3): stuck shut</c>.</summary>
    public static string OfFaults(UnitModel model, IEnumerable<int> faults)
    {
        string text = string.Join(" with ", faults.Select(f => FaultTitle(model, model.Faults[f])));
        return text.Length == 0 ? "Nothing wrong" : text;
    }

    /// <summary>A fault: the part's name, its id, and what is wrong with it.</summary>
    public static string FaultTitle(UnitModel model, Fault fault) => $"{model.Parts[fault.Part].Title}: {fault.Words}";

    /// <summary>Many faults, each part named once: <c>Cabin sensor (RT1): drifted, open; Outside sensor (RT2): open</c>.</summary>
    public static string ByPart(UnitModel model, IEnumerable<Fault> faults) =>
        string.Join("; ", faults.GroupBy(f => f.Part).Select(g => $"{model.Parts[g.Key].Title}: {string.Join(", ", g.Select(f => f.Words))}"));

    /// <summary>The point that a check belongs to, or null.</summary>
    public static Point? PointOf(UnitModel model, Observable what) => Array.Find(model.Points, p => p.What == what);

    private static string OwnerText(UnitModel model, Observable what) => PointOf(model, what) is { } point ? $", {SettingWords.PartName(model, model.Parts[point.Part].Id)}" : "";
}
