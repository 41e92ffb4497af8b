namespace Ventwright.Physics.Vacuum;

/// <summary>A rise of pressure measured in a closed-off volume, with standard uncertainties (0 where a figure counts as exact).</summary>
/// <param name="FromDepressionPa">Depression at the start, Pa.</param>
/// <param name="ToDepressionPa">Depression at the end, Pa, above 0 and below the start.</param>
/// <param name="Seconds">Time between, s.</param>
/// <param name="VolumeM3">Volume, m3.</param>
/// <param name="DepressionUncertaintyPa">Standard uncertainty of each of the two depressions, independent, Pa.</param>
/// <param name="SecondsUncertainty">Standard uncertainty of the time, s.</param>
/// <param name="VolumeUncertaintyM3">Standard uncertainty of the volume, m3.</param>
/// <param name="CriticalRatioUncertainty">Standard uncertainty of the leak's critical ratio.</param>
public readonly record struct MeasuredRise(
    double FromDepressionPa, double ToDepressionPa, double Seconds, double VolumeM3,
    double DepressionUncertaintyPa = 0.0, double SecondsUncertainty = 0.0, double VolumeUncertaintyM3 = 0.0,
    double CriticalRatioUncertainty = 0.0);

/// <summary>A leak found from a measured rise.</summary>
/// <param name="Value">Sonic conductance, m3/(s Pa).</param>
/// <param name="Uncertainty">Its standard uncertainty, m3/(s Pa).</param>
public readonly record struct LeakConductance(double Value, double Uncertainty);

/// <summary>
/// Closed forms for one isothermal volume behind one restriction. Source: integration of the ISO 6358 law. With k = C p0 sqrt(T/T0) / V
/// (p0 = 100 kPa) and r = p/p1 the inflow from p1 is dr/dt = k up to r = b, then k sqrt(1 - ((r - b)/(1 - b))^2).
/// </summary>
public static class VacuumVolume
{
    /// <summary>Rate constant k = C p0 sqrt(T/T0) / V, 1/s.</summary>
    /// <param name="conductance">Sonic conductance, m3/(s Pa).</param>
    /// <param name="volumeM3">Volume, m3, above 0.</param>
    /// <param name="temperatureK">Gas temperature, K.</param>
    public static double RatePerS(double conductance, double volumeM3, double temperatureK = ReferenceAir.TemperatureK)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(conductance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(volumeM3);
        return conductance * ReferenceAir.PressurePa * Math.Sqrt(temperatureK / ReferenceAir.TemperatureK) / volumeM3;
    }

    /// <summary>Depression of a leaking volume after a time, Pa.</summary>
    /// <param name="startDepressionPa">Depression at the start, Pa, from 0 to ambient.</param>
    /// <param name="ratePerS">Rate constant of the leak, 1/s, see <see cref="RatePerS"/>.</param>
    /// <param name="criticalRatio">Critical ratio b of the leak.</param>
    /// <param name="ambientPa">Absolute pressure of the atmosphere, Pa.</param>
    /// <param name="seconds">Time, s.</param>
    public static double LeakUpDepressionPa(
        double startDepressionPa, double ratePerS, double criticalRatio, double ambientPa, double seconds)
    {
        double b = criticalRatio;
        double reached = Progress(Ratio(startDepressionPa, ambientPa), b) + ratePerS * seconds;
        if (reached <= b) return ambientPa * (1.0 - reached);
        double angle = (reached - b) / (1.0 - b);
        return angle >= 0.5 * Math.PI ? 0.0 : ambientPa * (1.0 - b) * (1.0 - Math.Sin(angle));
    }

    /// <summary>Time a leaking volume takes from one depression to a smaller one, s.</summary>
    /// <param name="fromDepressionPa">Depression at the start, Pa.</param>
    /// <param name="toDepressionPa">Depression at the end, Pa, from 0 to the start.</param>
    /// <param name="ratePerS">Rate constant of the leak, 1/s, above 0.</param>
    /// <param name="criticalRatio">Critical ratio b of the leak.</param>
    /// <param name="ambientPa">Absolute pressure of the atmosphere, Pa.</param>
    public static double LeakUpSeconds(
        double fromDepressionPa, double toDepressionPa, double ratePerS, double criticalRatio, double ambientPa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ratePerS);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(toDepressionPa, fromDepressionPa);
        return (Progress(Ratio(toDepressionPa, ambientPa), criticalRatio) - Progress(Ratio(fromDepressionPa, ambientPa), criticalRatio)) / ratePerS;
    }

    /// <summary>Sonic conductance of the leak behind a measured rise, with its uncertainty by linear propagation.</summary>
    /// <param name="rise">What was measured.</param>
    /// <param name="criticalRatio">Critical ratio b assumed for the leak.</param>
    /// <param name="ambientPa">Absolute pressure of the atmosphere, Pa, taken as exact.</param>
    /// <param name="temperatureK">Gas temperature, K.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rise has no length, or reaches atmosphere, where it no longer tells the leak.</exception>
    public static LeakConductance FromRise(
        in MeasuredRise rise, double criticalRatio, double ambientPa, double temperatureK = ReferenceAir.TemperatureK)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(rise.Seconds);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(rise.VolumeM3);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(rise.ToDepressionPa);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(rise.ToDepressionPa, rise.FromDepressionPa);
        (double from, double to) = (Ratio(rise.FromDepressionPa, ambientPa), Ratio(rise.ToDepressionPa, ambientPa));
        double progress = Progress(to, criticalRatio) - Progress(from, criticalRatio);
        double perProgress = 1.0 / (RatePerS(1.0, rise.VolumeM3, temperatureK) * rise.Seconds);
        double value = progress * perProgress;

        double ratioUncertainty = rise.DepressionUncertaintyPa / ambientPa;
        double byB = ProgressByCriticalRatio(to, criticalRatio) - ProgressByCriticalRatio(from, criticalRatio);
        double uncertainty = RootSumOfSquares(
            perProgress * ProgressByRatio(from, criticalRatio) * ratioUncertainty,
            perProgress * ProgressByRatio(to, criticalRatio) * ratioUncertainty,
            value * rise.SecondsUncertainty / rise.Seconds,
            value * rise.VolumeUncertaintyM3 / rise.VolumeM3,
            perProgress * byB * rise.CriticalRatioUncertainty);
        return new LeakConductance(value, uncertainty);
    }

    /// <summary>Absolute pressure of a volume that drains through a choked restriction, p0 exp(-k t), Pa.</summary>
    /// <param name="startPa">Absolute pressure at the start, Pa.</param>
    /// <param name="ratePerS">Rate constant, 1/s, see <see cref="RatePerS"/>.</param>
    /// <param name="seconds">Time, s.</param>
    public static double ChokedDrainPa(double startPa, double ratePerS, double seconds) => startPa * Math.Exp(-ratePerS * seconds);

    /// <summary>Time to pump a tight volume down at constant pumping speed, t = (V/S) ln(p1/p2), s.</summary>
    /// <param name="volumeM3">Volume V, m3.</param>
    /// <param name="speedM3PerS">Pumping speed S, m3/s.</param>
    /// <param name="startPa">Absolute pressure p1, Pa.</param>
    /// <param name="endPa">Absolute pressure p2, Pa, above 0.</param>
    public static double PumpDownSeconds(double volumeM3, double speedM3PerS, double startPa, double endPa)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(speedM3PerS);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(endPa);
        return volumeM3 / speedM3PerS * Math.Log(startPa / endPa);
    }

    /// <summary>Leak rate from a pressure change, Q = V dp/dt, Pa m3/s.</summary>
    /// <param name="volumeM3">Volume, m3.</param>
    /// <param name="changePa">Pressure change, Pa.</param>
    /// <param name="seconds">Time it took, s.</param>
    public static double LeakRatePaM3PerS(double volumeM3, double changePa, double seconds)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(seconds);
        return volumeM3 * changePa / seconds;
    }

    private static double Ratio(double depressionPa, double ambientPa)
    {
        if (!(depressionPa >= 0.0 && depressionPa <= ambientPa))
            throw new ArgumentOutOfRangeException(nameof(depressionPa), depressionPa, $"A depression lies between 0 and ambient pressure ({ambientPa} Pa).");
        return 1.0 - depressionPa / ambientPa;
    }

    /// <summary>k t since empty, as a function of the pressure ratio.</summary>
    private static double Progress(double r, double b) => r <= b ? r : b + (1.0 - b) * Math.Asin((r - b) / (1.0 - b));

    private static double ProgressByRatio(double r, double b)
    {
        if (r <= b) return 1.0;
        double s = (r - b) / (1.0 - b);
        return 1.0 / Math.Sqrt(1.0 - s * s);
    }

    private static double ProgressByCriticalRatio(double r, double b)
    {
        if (r <= b) return 0.0;
        double s = (r - b) / (1.0 - b);
        return 1.0 - Math.Asin(s) + (r - 1.0) / (1.0 - b) / Math.Sqrt(1.0 - s * s);
    }

    private static double RootSumOfSquares(params ReadOnlySpan<double> terms)
    {
        double sum = 0.0;
        foreach (double term in terms) sum += term * term;
        return Math.Sqrt(sum);
    }
}
