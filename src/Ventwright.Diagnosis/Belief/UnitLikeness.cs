namespace Ventwright.Diagnosis;

/// <summary>
/// How much the unit at hand is like each of the example units, under one hypothesis: where one tolerance lies near a switching point, several readings come out of
/// the same side of it. Known apart from the shared unknowns, as if the two had nothing to do with each other.
/// </summary>
internal sealed class UnitLikeness
{
    /// <summary>How far the examples are trusted: a few dozen units are not all units.</summary>
    private const double Trust = 0.8;

    private const int Most = 64;
    private double[]? _share;

    /// <summary>A copy that learns apart.</summary>
    public UnitLikeness Copy() => new() { _share = (double[]?)_share?.Clone() };

    /// <summary>Weights of a mode's components for this unit: those of all units, moved toward the states of the examples that it is like; false while nothing is known.</summary>
    public bool Weigh(Component[] mode, Span<double> weights)
    {
        if (_share is null) return false;
        double sum = 0, before = 0;
        for (int c = 0; c < mode.Length; c++)
        {
            before += weights[c] = mode[c].Weight;
            if (mode[c].Units.Share is > 0 and < 1) weights[c] *= 1 - Trust + (Trust * Ratio(mode[c].Units));
            sum += weights[c];
        }

        for (int c = 0; c < mode.Length && sum > 0; c++) weights[c] *= before / sum;
        return true;
    }

    /// <summary>Learns from a reading.</summary>
    /// <param name="prediction">What was predicted.</param>
    /// <param name="likelihoods">How likely each component, mode by mode, makes the reading.</param>
    public void Learn(CompiledPrediction prediction, ReadOnlySpan<double> likelihoods)
    {
        _share ??= [.. Enumerable.Repeat(1.0 / Most, Most)];
        double all = 0, sum = 0;
        for (int u = 0; u < prediction.UnitsKnown; u++)
        {
            double fit = 0;
            for (int m = 0, at = 0; m < prediction.Modes.Length; at += prediction.Modes[m++].Length)
                fit += prediction.ModeWeights[m] * Fit(prediction.Modes[m], likelihoods[at..], u);
            all += _share[u];
            _share[u] *= fit;
            sum += _share[u];
        }

        if (sum <= 0) return;
        for (int u = 0; u < prediction.UnitsKnown; u++) _share[u] *= all / sum;
    }

    /// <summary>Likelihood of a reading for one example unit, its state known.</summary>
    private static double Fit(Component[] mode, ReadOnlySpan<double> likelihoods, int unit)
    {
        double fit = 0;
        for (int c = 0; c < mode.Length; c++)
        {
            ExampleUnits units = mode[c].Units;
            if (units.Of == 0) fit += mode[c].Weight * likelihoods[c];
            else if ((units.Members >> unit & 1) == 1) fit += mode[c].Weight / units.Share * likelihoods[c];
        }

        return fit;
    }

    /// <summary>
    /// How much likelier a state is for this unit than for all. Few units are in a rare state: that none of those which this one is like is among them says nothing.
    /// </summary>
    private double Ratio(ExampleUnits units)
    {
        double ratio = Among(units) / units.Share;
        return units.Share < 0.5 ? Math.Max(1, ratio) : ratio;
    }

    /// <summary>Share of the examples, as they are weighted now, that are members.</summary>
    private double Among(ExampleUnits units)
    {
        double members = 0, all = 0;
        for (int u = 0; u < units.Of; u++)
        {
            all += _share![u];
            if ((units.Members >> u & 1) == 1) members += _share[u];
        }

        return all > 0 ? members / all : units.Share;
    }
}
