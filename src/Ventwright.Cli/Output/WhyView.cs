using Ventwright.Quantities;
using Ventwright.Simulation.Why;
using Ventwright.Workshop;

namespace Ventwright.Cli.Output;

/// <summary>A chain of parts and laws: as an indented tree, or as nested objects.</summary>
internal static class WhyView
{
    /// <summary>Writes the tree, and under it the laws that it names.</summary>
    public static void Write(WhyStep step, UnitSystem units)
    {
        Write(step, units, 0);
        foreach (Formula law in step.All().Select(s => s.Formula).OfType<Formula>().Distinct()) Screen.Line($"[{law.Name}] {law.Text} ({law.Source})");
    }

    /// <summary>The tree for other programs.</summary>
    public static object Json(WhyStep step, UnitSystem units) => new
    {
        Kind = step.Kind.ToString().ToLowerInvariant(),
        step.Name,
        step.Title,
        step.Says,
        Now = step.Now.Select(v => new
        {
            v.Name,
            Value = Output.Json.Number(QuantityText.ToUnit(v.Si, v.Dimension, units)),
            Unit = v.Dimension == Dimension.Conductance ? "m3/(s Pa)" : QuantityText.Unit(v.Dimension, units),
            v.Word,
        }),
        step.Formula,
        step.Fault,
        Tolerances = step.Tolerances.Select(t => new { t.Name, Effect = Output.Json.Number(QuantityText.ToUnit(t.Effect, WhyWords.Difference(t.Dimension), units)), Unit = QuantityText.Unit(WhyWords.Difference(t.Dimension), units) }),
        Line = step.SheetLine == 0 ? (int?)null : step.SheetLine,
        From = step.From.Select(s => Json(s, units)),
    };

    private static void Write(WhyStep step, UnitSystem units, int depth)
    {
        string indent = new(' ', 2 * depth);
        Screen.Line(indent + WhyWords.Line(step, units));
        if (step.Fault is not null) Screen.Line($"{indent}  ! fault {step.Fault}");
        foreach (WhyTolerance t in step.Tolerances) Screen.Line($"{indent}  +- {WhyWords.Tolerance(t, units)}");
        foreach (WhyStep below in step.From) Write(below, units, depth + 1);
    }
}
