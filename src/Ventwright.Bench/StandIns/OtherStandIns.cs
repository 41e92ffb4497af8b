using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.StandIns;

/// <summary>Bridges in place of switches, and a hand pump in place of the unit's vacuum.</summary>
internal static class OtherStandIns
{
    public static SwitchStandIn? Switch(Simulator simulator, int part, string value, out string? problem)
    {
        UnitModel model = simulator.Model;
        PartInfo info = model.Parts[part];
        if (IsClosed(simulator, part, value, out problem) is not { } closed) return null;
        ElectricBranch contact = model.Electric.First(b => b.Part == part);
        (string a, string b) = (model.Nets[contact.A], model.Nets[contact.B]);
        IReadOnlyList<string> pins = SensorPart.PinsOf(model, contact.A, contact.B);
        string where = pins.Count > 0 ? $" ({string.Join(", ", pins)})" : "";
        string make = closed ? $"Bridge {a} and {b}{where} with a fused lead, fuse no larger than that of the circuit." : $"Unplug {info.Id}{where} and leave its lead open; insulate the ends.";
        string[] cautions =
        [
            .. closed && info.Kind == "pressure-switch" ? (string[])["A bridged pressure switch no longer guards the compressor: on a charged circuit, or with the compressor turning, it stays as it is; refrigerant work is for licensed people."] : [],
            "What hangs behind it may start at once.", "The maker's own procedure goes first.",
        ];
        return new(info.Id, closed, (a, b), info.Name, ["Supply off.", make], cautions, ($"stand-in {info.Id}", closed ? "closed" : "open"));
    }

    /// <summary>From a word, or from a temperature or pressure through the sheet's own thresholds.</summary>
    private static bool? IsClosed(Simulator simulator, int part, string value, out string? problem)
    {
        problem = null;
        if (value is "closed" or "on") return true;
        if (value is "open" or "off") return false;
        UnitModel model = simulator.Model;
        Variable variable = model.Variables[model.MainVariable[part]];
        Condition? condition = Array.Find(model.Conditions, c => c.Variable == variable.Input);
        if (condition is null || Setting.TryMake(model, [(condition.Name, value)], out problem) is not { } setting)
        {
            problem = $"'{value}' is nothing for {model.Parts[part].Id}: write open, closed, or {(condition?.Dimension == Dimension.Pressure ? "a pressure such as 2 bar" : "a temperature such as 4 degC")}" + (problem is null ? "" : $" ({problem})");
            return null;
        }

        ElectricBranch contact = model.Electric.First(b => b.Part == part);
        return !simulator.Settle(setting, []).Open[Array.IndexOf(model.Electric, contact)];
    }

    public static VacuumStandIn? Actuator(UnitModel model, int part, string value, out string? problem)
    {
        PartInfo info = model.Parts[part];
        Variable travel = model.Variables[model.MainVariable[part]];
        double starts = model.Parameters[travel.Parameter + 1], full = model.Parameters[travel.Parameter + 2];
        bool pressure = QuantityText.TryParse(value, Dimension.Pressure, out double pascal, out _);
        double? position = pressure ? Math.Clamp((pascal - starts) / (full - starts), 0, 1) : StandInSearch.Position(model, part, value, out problem);
        problem = position is null ? $"'{value}' is nothing for {info.Id}: write a position from 0 to 1 or a depression such as 20 kPa" : !pressure || pascal >= 0 ? null : "a depression is not negative";
        if (position is not { } at || problem is not null) return null;
        bool twoStage = travel.Second >= 0;
        double first = twoStage && !pressure ? Math.Min(1, 2 * at) : at, second = Math.Max(0, (2 * at) - 1);
        var hoses = new List<HoseDepression> { Depression(model, travel, travel.Input, pressure ? pascal : Wanted(first), pressure) };
        if (twoStage) hoses.Add(Depression(model, travel, travel.Second, pressure ? pascal : Wanted(second), pressure));
        // To be surely at an end it takes the whole depression, or none.
        double Wanted(double share) => share <= 0 ? 0 : starts + (share * (full - starts));
        string[] steps =
        [
            .. hoses.Select(h => h.Pascal > 0
                ? $"Pull {h.Hose} off at the unit, put the hand pump on the hose or port of {info.Id} and pump to {Both(h.Pascal)}."
                : $"Leave {h.Hose} open to the air at {info.Id}."),
            "Shut the pump off and watch the gauge for a minute: what it loses is the diaphragm's leak.",
            "Look at the position; come to it from the low side, since the linkage lags on the way back.",
        ];
        return new(info.Id, hoses, at, info.Name, steps, Cautions(), ($"stand-in {info.Id}", at.ToString("R", CultureInfo.InvariantCulture)));
    }

    private static HoseDepression Depression(UnitModel model, Variable travel, int hose, double pascal, bool given)
    {
        double share = given || pascal == 0 ? 0 : model.Tolerances.Where(t => t.Parameter == travel.Parameter + 2).Select(t => t.Amount).FirstOrDefault();
        return new(Outer(model, travel.Part, hose), pascal, pascal * (1 - share), pascal * (1 + share));
    }

    /// <summary>The sheet's hose behind a part's own chamber.</summary>
    private static string Outer(UnitModel model, int part, int chamber)
    {
        VacuumBranch? neck = Array.Find(model.Vacuum, b => b.Part == part && (b.A == chamber || b.B == chamber) && b.A != 0 && b.B != 0);
        return model.Hoses[neck is null ? chamber : neck.A == chamber ? neck.B : neck.A];
    }

    public static VacuumStandIn? Source(UnitModel model, int part, string value, out string? problem)
    {
        PartInfo info = model.Parts[part];
        VacuumSource source = Array.Find(model.VacuumSources, s => s.Part == part)!;
        double usual = model.Parameters[source.Parameter];
        double tolerance = Array.Find(model.Tolerances, x => x.Parameter == source.Parameter) is { } t ? (t.Relative ? t.Amount * usual : t.Amount) : 0;
        problem = null;
        double pascal = value is "on" ? usual : value is "off" ? 0 : double.NaN;
        if (double.IsNaN(pascal) && (!QuantityText.TryParse(value, Dimension.Pressure, out pascal, out problem) || pascal < 0))
        {
            problem = $"'{value}' is nothing for {info.Id}: write on, off or a depression such as {Both(usual)}" + (problem is null ? "" : $" ({problem})");
            return null;
        }

        double spread = value == "on" ? tolerance : 0;
        string hose = Outer(model, part, source.Hose);
        string[] steps = [$"Put a pump with a gauge on {hose}: {Both(pascal)}.", "A hand pump feeds leaks for a moment only: for a unit that runs, take a small electric pump with a reservoir, or the engine."];
        return new(info.Id, [new(hose, pascal, pascal - spread, pascal + spread)], double.NaN, info.Name, steps, Cautions(), value is "off" ? ("pump", "off") : null);
    }

    private static string[] Cautions() =>
    [
        "No pressure on a vacuum line: diaphragms and valves tear. Set the pump to vacuum before it goes on.",
        "Flaps snap over: fingers out. Glass jars under vacuum are caged or taped, with goggles.",
        "The maker's own procedure and limits go first.",
    ];

    /// <summary>Gauges have either scale, whatever the person reads elsewhere.</summary>
    private static string Both(double pascal) => $"{QuantityText.Format(pascal, Dimension.Pressure, UnitSystem.Metric)} ({QuantityText.Format(pascal, Dimension.Pressure, UnitSystem.US)})";
}
