namespace Ventwright.Diagnosis;

/// <summary>A component in the form that the filter works with; words are taken apart into one component for each word.</summary>
internal readonly record struct Component(ComponentKind Kind, double Weight, double Mean, double Sd, double[] Shared, int Word, ExampleUnits Units = default);

/// <summary>
/// A prediction made ready for the filter. Which mode holds is drawn anew at each reading (does the intermittent fault show?); which component
/// of a mode holds is a property of the unit, so that repeated readings of a check share it.
/// </summary>
internal sealed class CompiledPrediction
{
    private CompiledPrediction(double[] modeWeights, Component[][] modes)
    {
        (ModeWeights, Modes, Count) = (modeWeights, modes, modes.Sum(m => m.Length));
        TellsUnits = modes.Any(m => m.Any(c => c.Units.Share is > 0 and < 1));
        UnitsKnown = modes.SelectMany(m => m).Where(c => c.Units.Of > 0).Select(c => c.Units.Of).DefaultIfEmpty().Min();
    }

    /// <summary>Number of components of all modes.</summary>
    public int Count { get; }

    /// <summary>Whether a reading tells something about which of the example units this one is like.</summary>
    public bool TellsUnits { get; }

    /// <summary>How many of the example units every state was looked for in, 0 for none.</summary>
    public int UnitsKnown { get; }

    /// <inheritdoc cref="Prediction.IsOneOfPlaces"/>
    public bool IsOneOfPlaces { get; private init; }

    public double[] ModeWeights { get; }

    public Component[][] Modes { get; }

    public static CompiledPrediction Of(Prediction prediction, CheckEntry check) => new([1], [Expand(prediction, check)]) { IsOneOfPlaces = prediction.IsOneOfPlaces };

    public static CompiledPrediction Mix(double[] weights, IReadOnlyList<CompiledPrediction> parts) => new(weights, [.. parts.Select(p => p.Modes[0])]) { IsOneOfPlaces = parts.Any(p => p.IsOneOfPlaces) };

    /// <summary>What a unit shows that goes by the one or by the other, both as likely; each of a single mode.</summary>
    public static CompiledPrediction EitherOf(CompiledPrediction one, CompiledPrediction other) =>
        new([1], [[.. one.Modes[0].Concat(other.Modes[0]).Select(c => c with { Weight = c.Weight / 2 })]]) { IsOneOfPlaces = one.IsOneOfPlaces || other.IsOneOfPlaces };

    /// <summary>True when both say the same, so that a fault that makes the difference does not act on the check.</summary>
    public bool SameAs(CompiledPrediction other, CheckEntry check)
    {
        if (ReferenceEquals(this, other)) return true;
        if (Modes.Length != 1 || other.Modes.Length != 1 || Modes[0].Length != other.Modes[0].Length) return false;
        double near = 1e-6 * Math.Abs(check.RangeHigh - check.RangeLow);
        for (int i = 0; i < Modes[0].Length; i++)
        {
            if (!Same(Modes[0][i], other.Modes[0][i], near)) return false;
        }

        return true;
    }

    private static bool Same(in Component a, in Component b, double near) =>
        a.Kind == b.Kind && a.Word == b.Word && Math.Abs(a.Weight - b.Weight) < 1e-6
        && Math.Abs(a.Mean - b.Mean) <= near && Math.Abs(a.Sd - b.Sd) <= near;

    private static Component[] Expand(Prediction prediction, CheckEntry check)
    {
        var result = new List<Component>();
        foreach (PredictionComponent c in prediction.Components)
        {
            if (c.Kind != ComponentKind.Words)
            {
                result.Add(Number(c, check));
                continue;
            }

            for (int word = 0; word < c.WordShares.Count; word++)
            {
                if (c.WordShares[word] > 0) result.Add(new(ComponentKind.Words, c.Weight * c.WordShares[word], 0, 0, [], word, word < c.Units.Count ? c.Units[word] : default));
            }
        }

        return [.. result];
    }

    private static Component Number(PredictionComponent c, CheckEntry check)
    {
        ExampleUnits units = c.Units.Count > 0 ? c.Units[0] : default;
        if (c.Kind != ComponentKind.Number) return new(c.Kind, c.Weight, 0, 0, [], -1);
        bool beyond = c.Mean < check.RangeLow || c.Mean > check.RangeHigh;
        return beyond
            ? new(c.Kind, c.Weight, Math.Clamp(c.Mean, check.RangeLow, check.RangeHigh), 0, [], -1, units)
            : new(c.Kind, c.Weight, c.Mean, c.Sd, [.. c.Shared], -1, units);
    }
}
