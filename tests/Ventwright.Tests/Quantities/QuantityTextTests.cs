using System.Globalization;
using CsCheck;
using Ventwright.Quantities;

namespace Ventwright.Tests.Quantities;

/// <summary>Texts and wording: common practice, no source.</summary>
public class QuantityTextTests
{
    [Theory]
    [InlineData("42 ohm", Dimension.Ohm, 42)]
    [InlineData("42ohm", Dimension.Ohm, 42)]
    [InlineData("  4.7 kohm ", Dimension.Ohm, 4700)]
    [InlineData("4.7 k\u03A9", Dimension.Ohm, 4700)]
    [InlineData("4.7 k\u2126", Dimension.Ohm, 4700)]
    [InlineData("2 Mohm", Dimension.Ohm, 2e6)]
    [InlineData("20 mohm", Dimension.Ohm, 0.02)]
    [InlineData("50 \u00B5A", Dimension.Ampere, 50e-6)]
    [InlineData("50 \u03BCA", Dimension.Ampere, 50e-6)]
    [InlineData("1e3 Pa", Dimension.Pressure, 1000)]
    [InlineData("1.5E-2 bar", Dimension.Pressure, 1500)]
    [InlineData("\u22125 V", Dimension.Volt, -5)]
    [InlineData("+5 V", Dimension.Volt, 5)]
    [InlineData("25 \u00B0C", Dimension.Temperature, 298.15)]
    [InlineData("0 K", Dimension.Temperature, 0)]
    [InlineData("1 K", Dimension.TemperatureDifference, 1)]
    [InlineData("1 degC", Dimension.TemperatureDifference, 1)]
    [InlineData("60 cm\u00B2", Dimension.Area, 60e-4)]
    [InlineData("3600 m\u00B3/h", Dimension.VolumeFlow, 1)]
    [InlineData("12 min", Dimension.Second, 720)]
    [InlineData("50 %", Dimension.Fraction, 0.5)]
    [InlineData("0.5", Dimension.Fraction, 0.5)]
    [InlineData("3950", Dimension.None, 3950)]
    public void Text_is_read(string text, Dimension dimension, double si)
    {
        Assert.True(QuantityText.TryParse(text, dimension, out double read, out string? problem), problem);
        Assert.Equal(si, read, Math.Abs(si) * 1e-12);
    }

    [Theory]
    [InlineData("12 kPa", Dimension.Volt, "'12 kPa' is a pressure; a voltage such as '12 V' was expected")]
    [InlineData("42", Dimension.Ohm, "no unit: write '42 ohm'")]
    [InlineData("12 inHgg", Dimension.Pressure, "unknown unit 'inHgg'; did you mean 'inHg'?")]
    [InlineData("12 v", Dimension.Volt, "unknown unit 'v'; did you mean 'V'?")]
    [InlineData("12 kpa", Dimension.Pressure, "unknown unit 'kpa'; did you mean 'kPa'?")]
    [InlineData("12 furlongs", Dimension.Length, "unknown unit 'furlongs'; a length such as '4 mm' was expected")]
    [InlineData("42 ohm", Dimension.None, "'42 ohm' is a resistance; a plain number such as '42' was expected")]
    [InlineData("1,000 ohm", Dimension.Ohm, "'1,000 ohm' is not a number; use a decimal point and no thousands separators")]
    [InlineData("NaN V", Dimension.Volt, "'NaN V' is not a number with a unit, such as '12 V'")]
    [InlineData("Infinity ohm", Dimension.Ohm, "'Infinity ohm' is not a number with a unit, such as '12 V'")]
    [InlineData("1e999 V", Dimension.Volt, "'1e999 V' is too large")]
    [InlineData("1e308 kV", Dimension.Volt, "'1e308 kV' is too large")]
    [InlineData("-300 degC", Dimension.Temperature, "'-300 degC' is below absolute zero")]
    [InlineData("", Dimension.Volt, "a number was expected, nothing is there")]
    public void A_wrong_text_gets_a_plain_answer(string text, Dimension dimension, string expected)
    {
        Assert.False(QuantityText.TryParse(text, dimension, out _, out string? problem));
        Assert.Equal(expected, problem);
    }

    [Theory]
    [InlineData("0x10 ohm")]
    [InlineData("1_000 ohm")]
    [InlineData("1 000 ohm")]
    [InlineData("1e ohm")]
    [InlineData("5. V")]
    [InlineData("--5 V")]
    [InlineData("12 V V")]
    public void What_is_no_plain_decimal_number_with_one_unit_is_refused(string text)
    {
        Assert.False(QuantityText.TryParse(text, Dimension.Ohm, out _, out _));
        Assert.False(QuantityText.TryParse(text, Dimension.Volt, out _, out _));
    }

    [Theory]
    [InlineData("4.6 .. 5.0 V", Dimension.Volt, 4.6, 5.0)]
    [InlineData("900 mV..1.1 V", Dimension.Volt, 0.9, 1.1)]
    [InlineData("0..1", Dimension.None, 0, 1)]
    [InlineData("-1..1", Dimension.None, -1, 1)]
    [InlineData("5.0 V +- 0.2 V", Dimension.Volt, 4.8, 5.2)]
    [InlineData("5 \u00B1 0.2 V", Dimension.Volt, 4.8, 5.2)]
    [InlineData("50 ohm +- 2 %", Dimension.Ohm, 49, 51)]
    [InlineData("-50 V +- 2 %", Dimension.Volt, -51, -49)]
    [InlineData("50 % +- 2 %", Dimension.Fraction, 0.48, 0.52)]
    [InlineData("25 degC +- 1 K", Dimension.Temperature, 297.15, 299.15)]
    [InlineData("20 .. 30 degC", Dimension.Temperature, 293.15, 303.15)]
    public void A_band_is_read(string text, Dimension dimension, double low, double high)
    {
        Assert.True(QuantityText.TryParseBand(text, dimension, out double readLow, out double readHigh, out string? problem), problem);
        Assert.Equal(low, readLow, 1e-9);
        Assert.Equal(high, readHigh, 1e-9);
    }

    [Theory]
    [InlineData("5 .. 4 V", "the band '5 V .. 4 V' runs backwards; write the smaller value first")]
    [InlineData("5 V", "'5 V' is not a band; write '10 .. 12 V' or '12 V +- 5 %'")]
    [InlineData("4 .. 5", "no unit: write '4 V'")]
    [InlineData("4 .. 5 kPa", "'4 kPa' is a pressure; a voltage such as '12 V' was expected")]
    [InlineData("5 V +- -1 V", "the tolerance '-1 V' is negative; write it without a sign")]
    public void A_wrong_band_gets_a_plain_answer(string text, string expected)
    {
        Assert.False(QuantityText.TryParseBand(text, Dimension.Volt, out _, out _, out string? problem));
        Assert.Equal(expected, problem);
    }

    [Theory]
    [InlineData(2.314, Dimension.Volt, "2.31 V", "2.31 V")]
    [InlineData(0.48, Dimension.Volt, "480 mV", "480 mV")]
    [InlineData(12080, Dimension.Ohm, "12.1 kohm", "12.1 kohm")]
    [InlineData(42, Dimension.Ohm, "42.0 ohm", "42.0 ohm")]
    [InlineData(999.6, Dimension.Ohm, "1.00 kohm", "1.00 kohm")]
    [InlineData(9.996, Dimension.Volt, "10.0 V", "10.0 V")]
    [InlineData(40200, Dimension.Pressure, "40.2 kPa", "11.9 inHg")]
    [InlineData(1.5e6, Dimension.Pressure, "1500 kPa", "218 psi")]
    [InlineData(100, Dimension.Pressure, "100 Pa", "0.401 inH2O")]
    [InlineData(298.15, Dimension.Temperature, "25.0 degC", "77 degF")]
    [InlineData(273.14, Dimension.Temperature, "0.0 degC", "32 degF")]
    [InlineData(205.0 / 3600, Dimension.VolumeFlow, "205 m3/h", "121 cfm")]
    [InlineData(600, Dimension.Second, "10.0 min", "10.0 min")]
    [InlineData(0.5, Dimension.Fraction, "50.0 %", "50.0 %")]
    [InlineData(-0.48, Dimension.Volt, "-480 mV", "-480 mV")]
    [InlineData(1e-15, Dimension.Volt, "0 V", "0 V")]
    [InlineData(-1e-15, Dimension.Ohm, "0 ohm", "0 ohm")]
    [InlineData(double.PositiveInfinity, Dimension.Ohm, "infinite", "infinite")]
    [InlineData(double.NaN, Dimension.Ohm, "unknown", "unknown")]
    public void Numbers_are_written_as_an_engineer_would(double si, Dimension dimension, string metric, string us)
    {
        Assert.Equal(metric, QuantityText.Format(si, dimension, UnitSystem.Metric));
        Assert.Equal(us, QuantityText.Format(si, dimension, UnitSystem.US));
    }

    [Fact]
    public void Every_dimension_is_exported_in_a_unit_that_reads_back()
    {
        var gen = Gen.Select(Gen.Double[0.1, 1e4], Gen.Enum<Dimension>(), Gen.Enum<UnitSystem>());
        gen.Sample((si, dimension, system) =>
        {
            string number = QuantityText.ToUnit(si, dimension, system).ToString("R", CultureInfo.InvariantCulture);
            string text = $"{number} {QuantityText.Unit(dimension, system)}";
            Assert.True(QuantityText.TryParse(text, dimension, out double read, out string? problem), problem);
            Assert.Equal(si, read, Math.Abs(si) * 1e-9 + (dimension == Dimension.Temperature ? 1e-9 : 0));
        });
    }

    [Fact]
    public void Written_text_reads_back_to_three_digits()
    {
        var gen = Gen.Select(Gen.Double[-2, 5], Gen.Bool, Gen.Enum<Dimension>(), Gen.Enum<UnitSystem>());
        gen.Sample((exponent, negative, dimension, system) =>
        {
            double si = Math.Pow(10, exponent) * (negative && dimension != Dimension.Temperature ? -1 : 1);
            if (dimension == Dimension.Temperature) si += 1; // nearer to 0 K the whole degF may be rounded to below it
            string text = QuantityText.Format(si, dimension, system);
            Assert.True(QuantityText.TryParse(text, dimension, out double read, out string? problem), problem);
            double finest = dimension switch // half of the last decimal of the smallest unit: 1 degF, 0.001 inH2O, 0.001 of the others
            {
                Dimension.Temperature => 0.3,
                Dimension.Pressure => 0.13,
                _ => 0.0005,
            };
            Assert.Equal(si, read, Math.Max(finest, Math.Abs(si) * 0.0051));
        });
    }

    [Fact]
    public void No_text_throws()
    {
        var alphabet = Gen.OneOf(Gen.Char, Gen.Char["0123456789.+-eE %VAohmkPa\u03A9\u00B1\u2212,_\0\n"]);
        Gen.Select(Gen.String[alphabet, 0, 130], Gen.Enum<Dimension>()).Sample((text, dimension) =>
        {
            bool good = QuantityText.TryParse(text, dimension, out double si, out string? problem);
            Assert.Equal(good, problem is null);
            Assert.True(double.IsFinite(si));
            good = QuantityText.TryParseBand(text, dimension, out double low, out double high, out problem);
            Assert.Equal(good, problem is null);
            Assert.True(low <= high && double.IsFinite(low) && double.IsFinite(high));
            good = QuantityText.TryParseAny(text, out Quantity any, out problem);
            Assert.Equal(good, problem is null);
            Assert.NotEmpty(any.ToString());
        }, iter: 20_000);
    }
}
