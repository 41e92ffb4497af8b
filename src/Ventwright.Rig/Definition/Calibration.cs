namespace Ventwright.Rig.Definition;

/// <summary>
/// What a device's raw numbers mean: points with straight lines between them, and beyond the ends along the last piece. Raw numbers rise from point to point,
/// values rise or fall all along.
/// </summary>
public sealed class Calibration
{
    private readonly (double Raw, double Value)[] _points;

    private Calibration((double Raw, double Value)[] points) => _points = points;

    /// <summary>One to one.</summary>
    public static Calibration None { get; } = new([(0, 0), (1, 1)]);

    /// <summary>value = gain * raw + offset.</summary>
    /// <param name="gain">SI for each raw count, not 0.</param>
    /// <param name="offset">Value at raw 0, SI.</param>
    public static Calibration Line(double gain, double offset) => new([(0, offset), (1, gain + offset)]);

    /// <summary>Through points; says what is wrong with them in <paramref name="problem"/> if they cannot be used.</summary>
    public static Calibration? Through(IEnumerable<(double Raw, double Value)> points, out string? problem)
    {
        (double Raw, double Value)[] sorted = [.. points.OrderBy(p => p.Raw)];
        problem = sorted.Length < 2 ? "a calibration needs two points or more" : null;
        for (int i = 1; i < sorted.Length && problem is null; i++)
        {
            if (sorted[i].Raw <= sorted[i - 1].Raw) problem = $"two points have the raw number {sorted[i].Raw:G6}";
            else if (Math.Sign(sorted[i].Value - sorted[i - 1].Value) is var way && (way == 0 || way != Math.Sign(sorted[1].Value - sorted[0].Value)))
                problem = "the values must rise, or fall, from point to point";
        }

        return problem is null ? new(sorted) : null;
    }

    /// <summary>The value of a raw number, SI.</summary>
    public double ToValue(double raw)
    {
        int i = 1;
        while (i < _points.Length - 1 && raw > _points[i].Raw) i++;
        (double r0, double v0) = _points[i - 1];
        (double r1, double v1) = _points[i];
        return v0 + ((raw - r0) / (r1 - r0) * (v1 - v0));
    }

    /// <summary>The raw number for a value.</summary>
    public double ToRaw(double value)
    {
        bool rises = _points[1].Value > _points[0].Value;
        int i = 1;
        while (i < _points.Length - 1 && (rises ? value > _points[i].Value : value < _points[i].Value)) i++;
        (double r0, double v0) = _points[i - 1];
        (double r1, double v1) = _points[i];
        return r0 + ((value - v0) / (v1 - v0) * (r1 - r0));
    }
}
