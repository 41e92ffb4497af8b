using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Bench.Sensors;

/// <summary>A thermistor of the unit, as far as calibrating it and standing in for it need it.</summary>
/// <param name="Id">Id on the sheet.</param>
/// <param name="Name">Name in words.</param>
/// <param name="Condition">The condition that it feels, such as cabin.</param>
/// <param name="UsualKelvin">That condition on the sheet, K.</param>
/// <param name="Curve">The sheet's curve, which is also what the module takes it to have.</param>
/// <param name="ToleranceK">The sheet's tolerance, K.</param>
/// <param name="Nets">Its two nets.</param>
/// <param name="Pins">Connector pins that lead to it, such as "X4 pin 1"; empty when there is no plug.</param>
/// <param name="Input">Name of the module's input that reads it, or null.</param>
public sealed record SensorPart(
    string Id, string Name, string Condition, double UsualKelvin, ThermistorCurve Curve, double ToleranceK, (string A, string B) Nets, IReadOnlyList<string> Pins, string? Input)
{
    /// <summary>Index of its branch.</summary>
    internal int Branch { get; private init; }

    /// <summary>Index of the module's signal that it becomes, or -1.</summary>
    internal int Signal { get; private init; } = -1;

    /// <summary>Finds a thermistor.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="id">Its id.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static SensorPart? TryFind(UnitModel model, string id, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(model);
        int part = model.PartIndex(id);
        int branch = Array.FindIndex(model.Electric, b => b.Part == part && b.Law == ElectricLaw.Thermistor);
        if (part < 0 || branch < 0)
        {
            problem = NotASensor(model, part, id);
            return null;
        }

        problem = null;
        ElectricBranch at = model.Electric[branch];
        Condition condition = Array.Find(model.Conditions, c => c.Variable == at.Variable)!;
        double tolerance = Array.Find(model.Tolerances, t => t.Parameter == at.Parameter + 2)?.Amount ?? 0;
        ThermistorCurve curve = model.CurveOf(at);
        ModuleInput? input = model.Module?.Inputs.FirstOrDefault(i => ReferenceEquals(i.Curve, curve));
        return new(
            id, model.Parts[part].Name, condition.Name, model.Variables[condition.Variable].Start, curve, tolerance, (model.Nets[at.A], model.Nets[at.B]), PinsOf(model, at.A, at.B), input?.Name)
        {
            Branch = branch,
            Signal = input?.Signal ?? -1,
        };
    }

    /// <summary>Ids of all thermistors of a unit.</summary>
    public static IReadOnlyList<string> All(UnitModel model) => [.. model.Electric.Where(b => b.Law == ElectricLaw.Thermistor).Select(b => model.Parts[b.Part].Id)];

    /// <summary>The setting word that puts a resistance in its place.</summary>
    internal (string Name, string Value) StandIn(double ohms) => ($"stand-in {Id}", ohms.ToString("R", CultureInfo.InvariantCulture) + " ohm");

    /// <summary>Names of the pins of the one connector that carries all of some nets; empty when there is none.</summary>
    internal static IReadOnlyList<string> PinsOf(UnitModel model, params int[] nets)
    {
        var pins = model.Electric.Where(b => b.Name.StartsWith("pin ", StringComparison.Ordinal) && model.Parts[b.Part].Kind == "connector" && (nets.Contains(b.A) || nets.Contains(b.B)) && !(b.A == 0 || b.B == 0))
            .Select(b => (Part: model.Parts[b.Part].Id, Text: $"{model.Parts[b.Part].Id} {b.Name}")).ToList();
        // A net with many pins is a rail, such as the sensors' common ground; the plug of the part itself is the one that carries all its nets.
        string? own = pins.GroupBy(p => p.Part).FirstOrDefault(g => g.Count() == nets.Length)?.Key;
        return [.. pins.Where(p => p.Part == own).Select(p => p.Text)];
    }

    private static string NotASensor(UnitModel model, int part, string id)
    {
        IReadOnlyList<string> all = All(model);
        if (all.Count == 0) return "this sheet has no thermistor";
        string known = $"thermistors are {string.Join(", ", all)}";
        if (part >= 0) return $"{id} is a {model.Parts[part].Kind}, not a thermistor; {known}";
        return NearMiss.Suggest(id, all) is { } near ? $"there is no part '{id}'; did you mean '{near}'?" : $"there is no part '{id}'; {known}";
    }
}
