using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>The laws of a part in words: what it joins, and what it does.</summary>
public static class Laws
{
    /// <summary>One line for each branch, variable and output of a part.</summary>
    public static IEnumerable<string> OfPart(UnitModel model, int part)
    {
        foreach (ElectricBranch branch in model.Electric.Where(b => b.Part == part)) yield return Electric(model, branch);
        foreach (VacuumBranch branch in model.Vacuum.Where(b => b.Part == part))
        {
            yield return $"{branch.Name}: air passes {(branch.OneWay ? "only from" : "between")} {model.Hoses[branch.A]} {(branch.OneWay ? "to" : "and")} {model.Hoses[branch.B]}"
                + $" as through a nozzle (ISO 6358){Gated(model, branch.Gate)}";
        }

        foreach (AirBranch branch in model.Air.Where(b => b.Part == part))
            yield return $"{branch.Name}: air between {model.Spaces[branch.A]} and {model.Spaces[branch.B]}, flow grows with the root of the pressure{(branch.Speed >= 0 ? ", driven by a fan" : "")}{Gated(model, branch.Gate)}";
        foreach (Variable variable in model.Variables.Where(v => v.Part == part && v.Law is not (VariableLaw.Given or VariableLaw.Output)))
            yield return $"{variable.Name}: {Moves(variable.Law)}";
        foreach (ModuleOutput output in (model.Module?.Outputs ?? []).Where(o => o.Part == part)) yield return $"{output.Name}: {output.Text}";
    }

    private static string Electric(UnitModel model, ElectricBranch branch)
    {
        string law = branch.Law switch
        {
            ElectricLaw.Ohmic => "current is volts over ohms",
            ElectricLaw.Source => "holds its voltage behind its source resistance, up to its current limit",
            ElectricLaw.Diode => "conducts one way, above its forward drop",
            ElectricLaw.Lamp => "a filament, its ohms grow with its volts",
            ElectricLaw.Motor => "a motor: its speed takes up volts, its load takes current",
            ElectricLaw.Thermistor => "ohms from its temperature by its curve",
            _ => $"a transistor stage steered by {model.Nets[branch.Control]}",
        };
        return $"{branch.Name} between {model.Nets[branch.A]} and {model.Nets[branch.B]}: {law}{Gated(model, branch.Gate)}";
    }

    private static string Gated(UnitModel model, Gate? gate) => gate is null ? "" : gate.Mode == GateMode.Conduct
        ? $"; made or broken by {model.Variables[gate.Variable].Name}" : $"; its size follows {model.Variables[gate.Variable].Name}";

    private static string Moves(VariableLaw law) => law switch
    {
        VariableLaw.Coil => "pulls in above its pull-in volts, drops out below its drop-out volts, else stays",
        VariableLaw.Threshold => "switches at its two thresholds, between them it stays",
        VariableLaw.Travel => "travels in line with the depression between starts and full",
        VariableLaw.Linkage => "follows what moves it through its linkage",
        VariableLaw.Servo => "runs while volts are on its motor",
        VariableLaw.Blocked => "stalls at an end stop or when jammed",
        VariableLaw.Speed => "runs as fast as its volts allow",
        VariableLaw.Fuse => "blows above its rating",
        VariableLaw.Graded => "depression in line with the coil's current",
        VariableLaw.Gap => "loses contact inside a worn spot",
        VariableLaw.Powered => "wakes and sleeps by its supply volts",
        _ => "is set from outside",
    };
}
