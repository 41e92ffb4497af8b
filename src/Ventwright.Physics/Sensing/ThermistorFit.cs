namespace Ventwright.Physics.Sensing;

/// <summary>A resistance read at a known temperature, with standard uncertainties.</summary>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="Ohms">Resistance, ohm.</param>
/// <param name="KelvinOwn">Standard uncertainty of this temperature alone, K.</param>
/// <param name="OhmsOwn">Standard uncertainty of this resistance alone, as a share of it.</param>
/// <param name="MeterGain">Standard uncertainty that all resistances share, as a share: the meter's gain.</param>
/// <param name="ThermometerShift">Standard uncertainty that this temperature shares with the others of the same thermometer, K; 0 for a fixed point.</param>
public readonly record struct CalibrationPoint(double Kelvin, double Ohms, double KelvinOwn, double OhmsOwn, double MeterGain = 0, double ThermometerShift = 0);

/// <summary>
/// A thermistor's curve fitted to readings by generalised least squares of 1/T against ln R: two constants (Beta form) or three (Steinhart-Hart). Errors of a
/// resistance are carried over by the slope of the curve; what readings share (the meter's gain, the thermometer's shift) goes in as covariance.
/// </summary>
public sealed class ThermistorFit
{
    private readonly double[,] _covariance;
    private readonly CalibrationPoint[] _points;
    private readonly int _constants;

    private ThermistorFit(CalibrationPoint[] points, int constants, SteinhartHart curve, double[,] covariance, double sum)
    {
        (_points, _constants, Curve, _covariance, Sum) = (points, constants, curve, covariance, sum);
        ResidualsK = [.. points.Select(p => curve.Kelvin(p.Ohms) - p.Kelvin)];
    }

    /// <summary>The curve.</summary>
    public SteinhartHart Curve { get; }

    /// <summary>Number of constants that were fitted: 2 or 3.</summary>
    public int Constants => _constants;

    /// <summary>Temperature by the curve less temperature as read, for each reading, K.</summary>
    public IReadOnlyList<double> ResidualsK { get; }

    /// <summary>Sum of squares of what is left over, in units of the stated uncertainty.</summary>
    public double Sum { get; }

    /// <summary>Readings beyond those that the curve needs.</summary>
    public int Freedom => _points.Length - _constants;

    /// <summary>Probability of leftovers as large as these if the uncertainties are as stated; NaN when nothing is left over.</summary>
    public double Probability => Freedom > 0 ? ChiSquare.AtLeast(Sum, Freedom) : double.NaN;

    /// <summary>Covariance of the constants in the order A, B, C.</summary>
    public double[,] Covariance() => (double[,])_covariance.Clone();

    /// <summary>Beta in kelvins over the temperatures of the readings, and its standard uncertainty; for a curve with three constants the Beta of its ends.</summary>
    public (double BetaK, double UncertaintyK) Beta()
    {
        double low = _points.Min(p => p.Kelvin), high = _points.Max(p => p.Kelvin);
        double l1 = Math.Log(Curve.Ohms(low)), l2 = Math.Log(Curve.Ohms(high)), cubes = _constants == 2 ? 0 : ((l1 * l1) + (l1 * l2) + (l2 * l2));
        double inverse = Curve.B + (Curve.C * cubes);
        double variance = Quadratic([0, 1, cubes]);
        return (1 / inverse, Math.Sqrt(variance) / (inverse * inverse));
    }

    /// <summary>Standard uncertainty of the temperature that the curve gives for the resistance it has at a temperature, K.</summary>
    /// <param name="kelvin">The temperature, K.</param>
    public double UncertaintyK(double kelvin)
    {
        double l = Math.Log(Curve.Ohms(kelvin));
        return kelvin * kelvin * Math.Sqrt(Quadratic([1, l, l * l * l]));
    }

    /// <summary>
    /// How far a curve with two constants may miss at a temperature because real thermistors bend: what the same readings of a common sensor would leave,
    /// K. 0 for three constants.
    /// </summary>
    /// <param name="kelvin">The temperature, K.</param>
    public double BendK(double kelvin)
    {
        if (_constants != 2) return 0;
        ThermistorFit straight = Fit([.. _points.Select(p => p with { Ohms = CommonCurve.Ohms(p.Kelvin) })], 2);
        return straight.Curve.Kelvin(CommonCurve.Ohms(kelvin)) - kelvin;
    }

    /// <summary>Fits.</summary>
    /// <param name="points">Readings, at least as many as constants, at different temperatures and resistances.</param>
    /// <param name="constants">2 for the Beta form, 3 for Steinhart-Hart.</param>
    /// <exception cref="ArgumentException">Too few readings, or they do not determine the curve.</exception>
    public static ThermistorFit Fit(IReadOnlyList<CalibrationPoint> points, int constants)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (constants is not (2 or 3)) throw new ArgumentException("a curve has two or three constants", nameof(constants));
        if (points.Count < constants) throw new ArgumentException($"{constants} constants need as many readings", nameof(points));
        CalibrationPoint[] all = [.. points];
        double[] l = [.. all.Select(p => Math.Log(p.Ohms))];
        double[][] columns = [[.. l.Select(_ => 1.0)], l, .. constants == 3 ? (double[][])[[.. l.Select(x => x * x * x)]] : []];
        double[] right = [.. all.Select(p => 1 / p.Kelvin)];
        SteinhartHart curve = SteinhartHart.OfBeta(1e4, 3900);
        Whitened? solved = null;
        // The slopes that carry the errors of the resistances over settle at once: they hardly matter for where the curve runs.
        for (int round = 0; round < 4; round++)
        {
            solved = new(columns, right, Errors(all, curve));
            curve = new(solved.Solution[0], solved.Solution[1], constants == 3 ? solved.Solution[2] : 0);
        }

        return new(all, constants, curve, solved!.Covariance(), solved.Sum);
    }

    /// <summary>Covariance of 1/T of the readings, errors of the resistances included.</summary>
    internal static double[,] Errors(IReadOnlyList<CalibrationPoint> points, SteinhartHart curve)
    {
        int n = points.Count;
        double[,] v = new double[n, n];
        double[] slope = [.. points.Select(p => curve.Slope(p.Ohms))], square = [.. points.Select(p => 1 / (p.Kelvin * p.Kelvin))];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                v[i, j] = (slope[i] * points[i].MeterGain * slope[j] * points[j].MeterGain) + (square[i] * points[i].ThermometerShift * square[j] * points[j].ThermometerShift);
            }

            v[i, i] += Math.Pow(square[i] * points[i].KelvinOwn, 2) + Math.Pow(slope[i] * points[i].OhmsOwn, 2);
        }

        return v;
    }

    private double Quadratic(double[] x)
    {
        double sum = 0;
        for (int i = 0; i < _constants; i++)
        {
            for (int j = 0; j < _constants; j++) sum += x[i] * _covariance[i, j] * x[j];
        }

        return Math.Max(0, sum);
    }
}
