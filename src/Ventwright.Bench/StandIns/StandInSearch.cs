using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.StandIns;

/// <summary>Works out stand-ins for any part that can have one.</summary>
public static class StandInSearch
{
    /// <summary>Works out what to put in place of a part.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="id">Id of the part.</param>
    /// <param name="value">What the unit shall believe: a temperature for a sensor, a position 0..1 for a feedback or an actuator, open or closed, or a temperature or pressure, for a switch, a depression for an actuator or a source.</param>
    /// <param name="drawer">The resistors at hand.</param>
    /// <param name="options">What is taken for granted.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static StandIn? TryMake(Simulator simulator, string id, string value, Drawer drawer, StandInOptions options, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(drawer);
        ArgumentNullException.ThrowIfNull(options);
        UnitModel model = simulator.Model;
        if (Setting.TryMake(model, options.Set ?? [], out problem) is null) return null;
        int part = model.PartIndex(id);
        if (part < 0)
        {
            string? near = NearMiss.Suggest(id, model.Parts.Select(p => p.Id));
            problem = near is null ? $"there is no part '{id}'; stand-ins are for {Known(model)}" : $"there is no part '{id}'; did you mean '{near}'?";
            return null;
        }

        switch (model.Parts[part].Kind)
        {
            case "thermistor": return SensorStandIns.TryMake(simulator, id, value, drawer, options, out problem);
            case "thermostatic-switch" or "pressure-switch": return OtherStandIns.Switch(simulator, part, value, out problem);
            case "vacuum-actuator" or "water-valve": return OtherStandIns.Actuator(model, part, value, out problem);
            case "vacuum-source": return OtherStandIns.Source(model, part, value, out problem);
            case "servo" or "potentiometer": return PositionStandIns.TryMake(simulator, id, value, drawer, options, out problem);
            default:
                problem = $"nothing can stand in for {id}, a {model.Parts[part].Kind}; stand-ins are for {Known(model)}";
                return null;
        }
    }

    /// <summary>Ids of all parts that something can stand in for.</summary>
    public static IReadOnlyList<string> All(UnitModel model) => [.. model.Parts
        .Where(p => p.Kind is "thermistor" or "thermostatic-switch" or "pressure-switch" or "vacuum-actuator" or "water-valve" or "vacuum-source" or "potentiometer" or "servo").Select(p => p.Id)];

    /// <summary>A position from a number, a percentage, or a word of the part; null with a problem.</summary>
    internal static double? Position(UnitModel model, int part, string value, out string? problem)
    {
        problem = null;
        if (model.PositionWords[part] is { } words)
        {
            if (value == words.AtRest) return 0;
            if (value == words.Moved) return 1;
        }

        if (QuantityText.TryParse(value, Dimension.Fraction, out double share, out problem) && share is >= 0 and <= 1) return share;
        problem = $"'{value}' is no position of {model.Parts[part].Id}; write 0 to 1" + (model.PositionWords[part] is { } known ? $", {known.AtRest} or {known.Moved}" : "");
        return null;
    }

    private static string Known(UnitModel model) => string.Join(", ", All(model).Take(20));
}
