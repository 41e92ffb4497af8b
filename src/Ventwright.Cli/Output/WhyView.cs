using System.Globalization;
using Ventwright.Quantities;
using Ventwright.Simulation.Why;
using Ventwright.Workshop;

namespace Ventwright.Cli.Output;

/// <summary>A chain of parts and laws: as an indented tree, or as nested objects.</summary>
internal static class WhyView
{
    private const double LeastAmps = 1e-6;

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
        Tolerances = step.Tolerances.Select(t => new { t.Name, Effect = Output.Json.Number(QuantityText.ToUnit(t.Effect, Difference(t.Dimension), units)), Unit = QuantityText.Unit(Difference(t.Dimension), units) }),
        Line = step.SheetLine == 0 ? (int?)null : step.SheetLine,
        From = step.From.Select(s => Json(s, units)),
    };

    private static void Write(WhyStep step, UnitSystem units, int depth)
    {
        string indent = new(' ', 2 * depth);
        Screen.Line(indent + Line(step, units));
        if (step.Fault is not null) Screen.Line($"{indent}  ! fault {step.Fault}");
        foreach (WhyTolerance t in step.Tolerances) Screen.Line($"{indent}  +- {t.Name} moves it by {Effect(t, units)} within its tolerance");
        foreach (WhyStep below in step.From) Write(below, units, depth + 1);
    }

    private static string Line(WhyStep step, UnitSystem units)
    {
        string title = step.Title.Length == 0 ? "" : $" {step.Title}", says = step.Says.Length == 0 ? "" : $": {step.Says}";
        string now = step.Now.Count == 0 ? "" : $"; {string.Join(", ", step.Now.Select(v => Value(v, step, units)))}";
        string law = step.Formula is { } f ? $"  [{f.Name}]" : "";
        return step.Name + title + says + now + law;
    }

    private static string Value(WhyValue value, WhyStep step, UnitSystem units)
    {
        string name = value.Name == step.Name && step.Kind is (WhyKind.Signal or WhyKind.Setting) ? "" : value.Name + " ";
        if (value.Word is { } word) return value.Dimension == Dimension.Fraction ? $"{name}{word} ({Number(value, units)})" : name + word;
        return name + Number(value, units);
    }

    private static string Number(WhyValue value, UnitSystem units)
    {
        if (value.Dimension == Dimension.Ampere && Math.Abs(value.Si) < LeastAmps) return "none";
        return double.IsNaN(value.Si) ? "none" : ReadingWords.Of(value.Si, value.Dimension, units);
    }

    private static string Effect(WhyTolerance t, UnitSystem units) =>
        t.Dimension == Dimension.None ? t.Effect.ToString("G3", CultureInfo.InvariantCulture) : ReadingWords.Of(t.Effect, Difference(t.Dimension), units);

    private static Dimension Difference(Dimension dimension) => dimension == Dimension.Temperature ? Dimension.TemperatureDifference : dimension;
}
