using Ventwright.Bench.Sensors;
using Ventwright.Quantities;

namespace Ventwright.Web.Sensors;

/// <summary>Lines of the two plots of a sensor: how far off it reads, and its curve beside the sheet's, both over temperature in the person's unit.</summary>
internal sealed class SensorPlot
{
    private const int Samples = 60;
    private readonly SensorAt[] _over;

    public SensorPlot(SensorCheck check, UnitSystem units)
    {
        (Check, Units) = (check, units);
        double low = Math.Min(check.LowKelvin, check.Readings.Min(r => r.Reading.Bath.Kelvin)) - 2, high = Math.Max(check.HighKelvin, check.Readings.Max(r => r.Reading.Bath.Kelvin)) + 2;
        _over = [.. Enumerable.Range(0, Samples + 1).Select(i => check.At(low + ((high - low) * i / Samples)))];
        SensorAt[] working = [.. check.Over];
        double reach = new[] { check.Sensor.ToleranceK * 1.6, working.Max(a => Math.Abs(a.ReadsWarmK) + a.UncertaintyK), check.Readings.Max(r => Math.Abs(r.ReadsWarmK)) }.Max() * 1.1;
        OffFrame = new(T(low), T(high), -D(reach), D(reach));
        double[] ohms = [.. _over.Select(a => a.SheetOhms), .. check.Readings.Select(r => r.Reading.Ohms)];
        OhmsFrame = new(T(low), T(high), Math.Log10(ohms.Min()) - 0.05, Math.Log10(ohms.Max()) + 0.05);
    }

    public SensorCheck Check { get; }

    public UnitSystem Units { get; }

    /// <summary>Frame of the plot of how far off it reads.</summary>
    public PlotFrame OffFrame { get; }

    /// <summary>Frame of the plot of resistances, as powers of ten.</summary>
    public PlotFrame OhmsFrame { get; }

    /// <summary>What the sheet allows, as a share of the frame.</summary>
    public (double Top, double Bottom) Allowed => (OffFrame.Y(D(Check.Sensor.ToleranceK)), OffFrame.Y(-D(Check.Sensor.ToleranceK)));

    /// <summary>The working range as it lies in the frame.</summary>
    public (double Left, double Right) Working => (OffFrame.X(T(Check.LowKelvin)), OffFrame.X(T(Check.HighKelvin)));

    public string Off => OffFrame.Line(_over.Select(a => (T(a.Kelvin), D(a.ReadsWarmK))));

    public string Uncertain => OffFrame.Area([.. _over.Select(a => (T(a.Kelvin), Within(a.ReadsWarmK - a.UncertaintyK), Within(a.ReadsWarmK + a.UncertaintyK)))]);

    public IEnumerable<(double X, double Y)> OffPoints => Check.Readings.Select(r => (OffFrame.X(T(r.Reading.Bath.Kelvin)), OffFrame.Y(D(r.ReadsWarmK))));

    public string Sheet => OhmsFrame.Line(_over.Select(a => (T(a.Kelvin), Math.Log10(a.SheetOhms))));

    public string SheetBand => OhmsFrame.Area([.. _over.Select(a => (T(a.Kelvin), Math.Log10(SheetOhms(a.Kelvin + Check.Sensor.ToleranceK)), Math.Log10(SheetOhms(a.Kelvin - Check.Sensor.ToleranceK))))]);

    public string Fitted => OhmsFrame.Line(_over.Select(a => (T(a.Kelvin), Math.Log10(a.Ohms))));

    public IEnumerable<(double X, double Y)> OhmsPoints => Check.Readings.Select(r => (OhmsFrame.X(T(r.Reading.Bath.Kelvin)), OhmsFrame.Y(Math.Log10(r.Reading.Ohms))));

    /// <summary>Marks of resistance: 1, 2 and 5 of each decade.</summary>
    public IEnumerable<(double Y, double Ohms)> OhmsMarks
    {
        get
        {
            for (int decade = (int)Math.Floor(OhmsFrame.LowY); decade <= OhmsFrame.HighY; decade++)
            {
                foreach (double step in (double[])[1, 2, 5])
                {
                    double at = Math.Log10(step) + decade;
                    if (at >= OhmsFrame.LowY && at <= OhmsFrame.HighY) yield return (OhmsFrame.Y(at), step * Math.Pow(10, decade));
                }
            }
        }
    }

    private double T(double kelvin) => QuantityText.ToUnit(kelvin, Dimension.Temperature, Units);

    private double D(double kelvins) => QuantityText.ToUnit(kelvins, Dimension.TemperatureDifference, Units);

    /// <summary>Far from the readings the uncertainty runs out of the picture; there it ends at its edge.</summary>
    private double Within(double kelvins) => Math.Clamp(D(kelvins), OffFrame.LowY, OffFrame.HighY);

    private double SheetOhms(double kelvin) => Check.Sensor.Curve.Ohms(kelvin);
}
