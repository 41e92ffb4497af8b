namespace Ventwright.Rig.Definition;

/// <summary>How the value of an output is made by the points of its device.</summary>
public abstract class OutputLaw
{
    /// <summary>Raw numbers for a value, one for each point, as near as the device can.</summary>
    public abstract double[] ToRaw(double value);

    /// <summary>The value that raw numbers make, SI.</summary>
    public abstract double ToValue(IReadOnlyList<double> raw);
}

/// <summary>One point with a calibration.</summary>
/// <param name="calibration">What raw numbers mean.</param>
/// <param name="isStepped">Whether raw numbers are whole.</param>
public sealed class ScaledLaw(Calibration calibration, bool isStepped) : OutputLaw
{
    /// <inheritdoc/>
    public override double[] ToRaw(double value)
    {
        double raw = calibration.ToRaw(value);
        return [isStepped ? Math.Round(raw) : raw];
    }

    /// <inheritdoc/>
    public override double ToValue(IReadOnlyList<double> raw) => calibration.ToValue(raw[0]);
}

/// <summary>
/// Resistors that contacts switch: in parallel (a closed contact adds its resistor; none closed is open) or in series (a closed contact bridges its resistor).
/// The combination nearest on a log scale is taken.
/// </summary>
public sealed class SwitchedResistors : OutputLaw
{
    /// <summary>Most resistors in a bank.</summary>
    public const int Most = 12;

    private readonly double[] _ohms;
    private readonly bool _isParallel;
    private readonly (double Ohms, int Closed)[] _all;

    /// <summary>Works all combinations out.</summary>
    /// <param name="ohms">Resistors, at most <see cref="Most"/>.</param>
    /// <param name="isParallel">Parallel or series.</param>
    public SwitchedResistors(double[] ohms, bool isParallel)
    {
        (_ohms, _isParallel) = (ohms, isParallel);
        _all = [.. Enumerable.Range(0, 1 << ohms.Length).Select(closed => (Total(closed), closed)).OrderBy(c => c.Item1)];
    }

    /// <summary>Smallest and largest resistance apart from open and bridged, ohm.</summary>
    public (double Low, double High) Range => (_all.First(c => c.Ohms > 0).Ohms, _all.Last(c => double.IsFinite(c.Ohms)).Ohms);

    /// <inheritdoc/>
    public override double[] ToRaw(double value)
    {
        int closed = double.IsInfinity(value) ? _all[^1].Closed : _all.MinBy(c => Distance(c.Ohms, value)).Closed;
        return [.. _ohms.Select((_, i) => (closed >> i) & 1).Select(b => (double)b)];
    }

    /// <inheritdoc/>
    public override double ToValue(IReadOnlyList<double> raw) => Total(_ohms.Select((_, i) => raw[i] >= 0.5 ? 1 << i : 0).Sum());

    private static double Distance(double ohms, double value) =>
        double.IsInfinity(ohms) || ohms <= 0 ? double.MaxValue : Math.Abs(Math.Log(ohms / Math.Max(value, 1e-3)));

    private double Total(int closed)
    {
        double sum = 0;
        for (int i = 0; i < _ohms.Length; i++)
        {
            bool isClosed = ((closed >> i) & 1) == 1;
            if (isClosed == _isParallel) sum += _isParallel ? 1 / _ohms[i] : _ohms[i];
        }

        return _isParallel ? 1 / sum : sum;
    }
}
