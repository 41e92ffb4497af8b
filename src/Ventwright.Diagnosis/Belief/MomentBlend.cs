namespace Ventwright.Diagnosis;

/// <summary>
/// Conditions a Gaussian state on a reading under several Gaussian components at once and brings the mixture back to one Gaussian with
/// the same mean and covariance. The share that no component claims (a misread) leaves the state as it was; that share is squared against the
/// rest, because blending in a rare misread would widen the state far more than it is worth, and most where the reading was a surprise.
/// </summary>
internal ref struct MomentBlend(SharedState state)
{
    private double[]? _shift;
    private double[]? _second;
    private double _claimed;

    /// <summary>Adds a component with its prior weight and returns the density of the reading under it.</summary>
    public double Add(scoped in Component component, ReadingView reading, scoped ReadOnlySpan<double> slope, double weight)
    {
        if (reading.Event.Outcome.Kind != OutcomeKind.Number) return 0;
        int n = state.Size;
        Span<double> cross = stackalloc double[n];
        (double offset, double spread) = state.Project(slope, cross);
        double variance = spread + (reading.Meter.Absolute * reading.Meter.Absolute);
        double deviation = reading.Event.Outcome.Value - component.Mean - offset;
        double density = OutcomeLaw.Normal(deviation, variance);
        double share = weight * density;
        _claimed += Math.Max(share, 0);
        if (share <= 0 || spread <= 0) return density;
        _shift ??= new double[n];
        _second ??= new double[n * n];
        double step = deviation / variance;
        double curve = share * ((step * step) - (1 / variance));
        for (int i = 0; i < n; i++)
        {
            if (cross[i] == 0) continue;
            _shift[i] += share * step * cross[i];
            for (int j = 0; j < n; j++) _second[(i * n) + j] += curve * cross[i] * cross[j];
        }

        return density;
    }

    /// <summary>Writes the blend into the state.</summary>
    /// <param name="total">Likelihood of the reading, all components and the misread together.</param>
    public readonly void Apply(double total)
    {
        if (_shift is null || _second is null) return;
        double claimed = _claimed / total;
        double sharp = claimed * claimed / ((claimed * claimed) + ((1 - claimed) * (1 - claimed)));
        double scale = sharp / _claimed;
        int n = state.Size;
        for (int i = 0; i < n; i++) _shift[i] *= scale;
        for (int i = 0; i < n; i++)
        {
            state.Mean[i] += _shift[i];
            for (int j = 0; j < n; j++) state.Covariance[(i * n) + j] += (_second[(i * n) + j] * scale) - (_shift[i] * _shift[j]);
        }
    }
}
