namespace Ventwright.Diagnosis;

/// <summary>
/// What the readings so far say, under one hypothesis, of the unit-normal shared unknowns, the meters' gains and (last) the own deviation of
/// the check being read: mean and covariance.
/// </summary>
internal sealed class SharedState
{
    public SharedState(int size)
    {
        Size = size;
        Mean = new double[size];
        Covariance = new double[size * size];
        for (int i = 0; i < size; i++) Covariance[(i * size) + i] = 1;
    }

    public int Size { get; }

    public double[] Mean { get; }

    public double[] Covariance { get; }

    public int OwnSlot => Size - 1;

    public SharedState Copy()
    {
        var copy = new SharedState(Size);
        copy.Set(this);
        return copy;
    }

    public void Set(SharedState other)
    {
        other.Mean.CopyTo(Mean, 0);
        other.Covariance.CopyTo(Covariance, 0);
    }

    /// <summary>Starts the next check: its own deviation is a new unknown, independent of all others.</summary>
    public void RenewOwn(double mean = 0, double variance = 1)
    {
        int own = OwnSlot;
        for (int i = 0; i < own; i++) Covariance[(i * Size) + own] = Covariance[(own * Size) + i] = 0;
        Mean[own] = mean;
        Covariance[(own * Size) + own] = variance;
    }

    /// <summary>Mean and variance of a linear function of the unknowns; also leaves the covariance with it in <paramref name="cross"/>.</summary>
    public (double Mean, double Variance) Project(ReadOnlySpan<double> slope, Span<double> cross)
    {
        double mean = 0, variance = 0;
        cross.Clear();
        for (int j = 0; j < Size; j++)
        {
            if (slope[j] == 0) continue;
            mean += slope[j] * Mean[j];
            for (int i = 0; i < Size; i++) cross[i] += Covariance[(i * Size) + j] * slope[j];
        }

        for (int i = 0; i < Size; i++) variance += slope[i] * cross[i];
        return (mean, Math.Max(variance, 0));
    }
}
