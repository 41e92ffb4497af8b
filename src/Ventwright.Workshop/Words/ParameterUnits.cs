using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop;

/// <summary>What each parameter of a unit measures, from the law that it belongs to.</summary>
public static class ParameterUnits
{
    private const Dimension No = Dimension.None, V = Dimension.Volt, A = Dimension.Ampere, R = Dimension.Ohm, P = Dimension.Pressure;

    /// <summary>The dimension of each parameter, by index.</summary>
    public static Dimension[] Of(UnitModel model)
    {
        var units = new Dimension[model.Parameters.Length];
        foreach (ElectricBranch branch in model.Electric) Put(units, branch.Parameter, Electric(branch.Law));
        foreach (VacuumBranch branch in model.Vacuum) Put(units, branch.Parameter, [Dimension.Conductance, No]);
        foreach (AirBranch branch in model.Air) Put(units, branch.Parameter, [Dimension.Area, No, P, Dimension.Fraction]);
        foreach (VacuumSource source in model.VacuumSources) Put(units, source.Parameter, [P]);
        foreach (Variable variable in model.Variables) Put(units, variable.Parameter + 1, Variables(model, variable));
        return units;
    }

    private static Dimension[] Electric(ElectricLaw law) => law switch
    {
        ElectricLaw.Ohmic => [R],
        ElectricLaw.Source => [V, R, A],
        ElectricLaw.Diode => [V, R],
        ElectricLaw.Lamp => [R, V, No],
        ElectricLaw.Motor => [R, V, A, A],
        ElectricLaw.Thermistor => [No, No, Dimension.TemperatureDifference, R],
        _ => [No, V, R, V, No],
    };

    /// <summary>Units of what follows the force.</summary>
    private static Dimension[] Variables(UnitModel model, Variable variable) => variable.Law switch
    {
        VariableLaw.Coil or VariableLaw.Powered => [V, V],
        VariableLaw.Threshold => Threshold(model, variable.Input),
        VariableLaw.Travel => [P, P],
        VariableLaw.Servo => [No, V, No, Dimension.Second, V, No],
        VariableLaw.Fuse => [A],
        VariableLaw.Graded => [P, P],
        _ => [],
    };

    private static Dimension[] Threshold(UnitModel model, int input)
    {
        Dimension felt = Array.Find(model.Conditions, c => c.Variable == input)?.Dimension ?? No;
        return [felt, felt, felt == Dimension.Temperature ? Dimension.TemperatureDifference : felt];
    }

    private static void Put(Dimension[] units, int first, Dimension[] dimensions)
    {
        for (int i = 0; i < dimensions.Length && first + i < units.Length; i++) units[first + i] = dimensions[i];
    }
}
