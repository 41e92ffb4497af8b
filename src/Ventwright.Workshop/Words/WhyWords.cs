using System.Globalization;
using Ventwright.Quantities;
using Ventwright.Simulation.Why;

namespace Ventwright.Workshop;

/// <summary>The steps of a chain of parts and laws in words.</summary>
public static class WhyWords
{
    private const double LeastAmps = 1e-6;

    /// <summary>What a step says, its values and its law, in one line.</summary>
    public static string Line(WhyStep step, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(step);
        string title = step.Title.Length == 0 ? "" : $" {step.Title}", now = Now(step, units);
        return step.Name + title + (step.Says.Length == 0 ? "" : $": {step.Says}") + (now.Length == 0 ? "" : $"; {now}") + (step.Formula is { } f ? $"  [{f.Name}]" : "");
    }

    /// <summary>The values that a step has now; empty where it has none.</summary>
    public static string Now(WhyStep step, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(step);
        return string.Join(", ", step.Now.Select(v => Value(v, step, units)));
    }

    /// <summary>A tolerance and how far it moves the check.</summary>
    public static string Tolerance(WhyTolerance tolerance, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(tolerance);
        string effect = tolerance.Dimension == Dimension.None
            ? tolerance.Effect.ToString("G3", CultureInfo.InvariantCulture) : ReadingWords.Of(tolerance.Effect, Difference(tolerance.Dimension), units);
        return $"{tolerance.Name} moves it by {effect} within its tolerance";
    }

    /// <summary>What a difference of two such quantities measures.</summary>
    public static Dimension Difference(Dimension dimension) => dimension == Dimension.Temperature ? Dimension.TemperatureDifference : dimension;

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
}
