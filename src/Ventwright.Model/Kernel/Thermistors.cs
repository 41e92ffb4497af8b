namespace Ventwright.Model.Kernel;

/// <summary>Resistance of a thermistor against temperature.</summary>
public sealed class ThermistorCurve
{
    private readonly double[] _inverseKelvin;
    private readonly double[] _logOhms;

    private ThermistorCurve(double[] inverseKelvin, double[] logOhms)
    {
        _inverseKelvin = inverseKelvin;
        _logOhms = logOhms;
    }

    /// <summary>R = R25 exp(B (1/T - 1/298.15)); the Beta form that component sheets define (IEC 60539-1, from memory).</summary>
    /// <param name="r25Ohm">Resistance at 25 degC.</param>
    /// <param name="betaK">Beta in kelvins.</param>
    public static ThermistorCurve Beta(double r25Ohm, double betaK)
    {
        const double cold = 1.0 / 200.0, hot = 1.0 / 450.0, at25 = 1.0 / 298.15;
        double logR25 = Math.Log(r25Ohm);
        return new([hot, cold], [logR25 + (betaK * (hot - at25)), logR25 + (betaK * (cold - at25))]);
    }

    /// <summary>A printed table: ln R is taken linear in 1/T between the points, and beyond them along the last piece.</summary>
    /// <param name="points">Temperature (K) and resistance (ohm), at least two, at different temperatures.</param>
    public static ThermistorCurve Table(IEnumerable<(double Kelvin, double Ohms)> points)
    {
        var sorted = points.OrderByDescending(p => p.Kelvin).ToArray();
        return new([.. sorted.Select(p => 1.0 / p.Kelvin)], [.. sorted.Select(p => Math.Log(p.Ohms))]);
    }

    /// <summary>Resistance in ohms at a temperature in kelvins.</summary>
    public double Ohms(double kelvin) => Math.Exp(Interpolate(_inverseKelvin, _logOhms, 1.0 / kelvin));

    /// <summary>Temperature in kelvins at a resistance in ohms. Open and shorted sensors give the ends of what the form can say.</summary>
    public double Kelvin(double ohms)
    {
        double log = Math.Log(Math.Clamp(ohms, 1e-3, 1e9));
        double inverse = _logOhms[^1] > _logOhms[0]
            ? Interpolate(_logOhms, _inverseKelvin, log)
            : Interpolate([.. _logOhms.Reverse()], [.. _inverseKelvin.Reverse()], log);
        return 1.0 / Math.Clamp(inverse, 1.0 / 500.0, 1.0 / 180.0);
    }

    private static double Interpolate(double[] x, double[] y, double at)
    {
        int i = 1;
        while (i < x.Length - 1 && x[i] < at) i++;
        return y[i - 1] + ((at - x[i - 1]) / (x[i] - x[i - 1]) * (y[i] - y[i - 1]));
    }
}
