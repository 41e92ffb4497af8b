namespace Ventwright.Diagnosis;

/// <summary>
/// What readings of one check have taught of the unit's own properties there: the deviation of this check, and which component of each
/// mode holds. Repeated readings share both, so that repeating a reading does not count twice.
/// </summary>
internal sealed class GroupMemory
{
    private List<(Component[] Mode, double[] Weights)>? _weights;

    public double OwnMean { get; set; }

    public double OwnVariance { get; set; } = 1;

    /// <summary>Weights of a mode's components after the readings so far.</summary>
    public double Weight(Component[] mode, int component)
    {
        foreach ((Component[] known, double[] weights) in _weights ?? [])
        {
            if (ReferenceEquals(known, mode)) return weights[component];
        }

        return mode[component].Weight;
    }

    /// <summary>Multiplies the weights of a mode's components by likelihoods, for a mode that held with the given share.</summary>
    public void Learn(Component[] mode, ReadOnlySpan<double> likelihoods, double share)
    {
        _weights ??= [];
        int at = _weights.FindIndex(w => ReferenceEquals(w.Mode, mode));
        if (at < 0)
        {
            at = _weights.Count;
            _weights.Add((mode, [.. mode.Select(c => c.Weight)]));
        }

        double[] weights = _weights[at].Weights;
        double sum = 0;
        for (int i = 0; i < weights.Length; i++) sum += weights[i] * likelihoods[i];
        if (sum <= 0) return;
        for (int i = 0; i < weights.Length; i++) weights[i] *= (1 - share) + (share * likelihoods[i] / sum);
    }
}
