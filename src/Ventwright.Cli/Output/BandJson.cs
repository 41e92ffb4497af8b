using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Cli.Output;

/// <summary>Bands as other programs read them.</summary>
internal static class BandJson
{
    /// <summary>A band with its numbers in export units.</summary>
    public static object Of(Band band, UnitSystem units)
    {
        Dimension dimension = band.What.Dimension();
        double? Number(double si) => Json.Number(QuantityText.ToUnit(si, dimension, units));
        return new
        {
            At = band.What.ToString(),
            Unit = band.What.Kind == ObservableKind.Airflow ? "m/s" : QuantityText.Unit(dimension, units),
            Value = Number(band.Nominal.Value),
            Low = Number(band.Low),
            High = Number(band.High),
            Ranges = band.Ranges.Count > 1 ? band.Ranges.Select(r => new { Low = Number(r.Low), High = Number(r.High) }) : null,
            Word = band.Nominal.Word ?? (double.IsPositiveInfinity(band.Nominal.Value) ? "open" : null),
            Words = band.Words.Count > 0 ? band.Words : null,
            band.Nominal.Unsteady,
        };
    }
}
