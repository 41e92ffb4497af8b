using UnitsNet;
using UnitsNet.Units;
using Ventwright.Quantities;

namespace Ventwright.Tests.Quantities;

/// <summary>
/// Sources: NIST Special Publication 811 (2008), appendix B.8, factors as printed there (to seven figures where rounded); and the UnitsNet
/// library, which keeps its own table.
/// </summary>
public class UnitTableTests
{
    [Theory]
    [InlineData("1 inHg", Dimension.Pressure, 3.386389e3)]
    [InlineData("1 mmHg", Dimension.Pressure, 1.333224e2)]
    [InlineData("1 micron", Dimension.Pressure, 1.333224e-1)]
    [InlineData("1 inH2O", Dimension.Pressure, 2.490889e2)]
    [InlineData("1 psi", Dimension.Pressure, 6.894757e3)]
    [InlineData("1 bar", Dimension.Pressure, 1e5)]
    [InlineData("1 cfm", Dimension.VolumeFlow, 4.719474e-4)]
    [InlineData("1 gal", Dimension.Volume, 3.785412e-3)]
    [InlineData("1 in3", Dimension.Volume, 1.638706e-5)]
    [InlineData("1 in2", Dimension.Area, 6.4516e-4)]
    [InlineData("1 ft", Dimension.Length, 0.3048)]
    [InlineData("1 in", Dimension.Length, 0.0254)]
    [InlineData("1 lb", Dimension.Mass, 4.535924e-1)]
    [InlineData("1 oz", Dimension.Mass, 2.834952e-2)]
    [InlineData("32 degF", Dimension.Temperature, 273.15)]
    [InlineData("212 degF", Dimension.Temperature, 373.15)]
    [InlineData("1 degF", Dimension.TemperatureDifference, 0.5555556)]
    [InlineData("1 km/h", Dimension.Speed, 0.2777778)]
    [InlineData("1 mph", Dimension.Speed, 0.44704)]
    public void Factors_are_those_of_NIST_SP_811(string text, Dimension dimension, double printed)
    {
        Assert.True(QuantityText.TryParse(text, dimension, out double si, out string? problem), problem);
        Assert.Equal(printed, si, Math.Abs(printed) * 5e-7);
    }

    public static TheoryData<string, double> UnitsNetValues => new()
    {
        { "mV", ElectricPotential.FromMillivolts(7).Volts }, { "kV", ElectricPotential.FromKilovolts(7).Volts },
        { "mA", ElectricCurrent.FromMilliamperes(7).Amperes }, { "uA", ElectricCurrent.FromMicroamperes(7).Amperes },
        { "mohm", ElectricResistance.FromMilliohms(7).Ohms }, { "kohm", ElectricResistance.FromKiloohms(7).Ohms },
        { "Mohm", ElectricResistance.FromMegaohms(7).Ohms }, { "mW", (double)Power.FromMilliwatts(7).Watts }, { "kW", (double)Power.FromKilowatts(7).Watts },
        { "ms", Duration.FromMilliseconds(7).Seconds }, { "min", Duration.FromMinutes(7).Seconds }, { "h", Duration.FromHours(7).Seconds },
        { "kHz", Frequency.FromKilohertz(7).Hertz }, { "rpm", Frequency.FromCyclesPerMinute(7).Hertz },
        { "kPa", Pressure.FromKilopascals(7).Pascals }, { "bar", Pressure.FromBars(7).Pascals }, { "mbar", Pressure.FromMillibars(7).Pascals },
        { "psi", Pressure.FromPoundsForcePerSquareInch(7).Pascals }, { "inHg", Pressure.FromInchesOfMercury(7).Pascals },
        { "mmHg", Pressure.FromMillimetersOfMercury(7).Pascals }, { "inH2O", Pressure.FromInchesOfWaterColumn(7).Pascals },
        { "degC", Temperature.FromDegreesCelsius(7).Kelvins }, { "degF", Temperature.FromDegreesFahrenheit(7).Kelvins },
        { "mm", Length.FromMillimeters(7).Meters }, { "cm", Length.FromCentimeters(7).Meters },
        { "in", Length.FromInches(7).Meters }, { "ft", Length.FromFeet(7).Meters },
        { "mm2", Area.FromSquareMillimeters(7).SquareMeters }, { "cm2", Area.FromSquareCentimeters(7).SquareMeters },
        { "in2", Area.FromSquareInches(7).SquareMeters }, { "ml", Volume.FromMilliliters(7).CubicMeters },
        { "cm3", Volume.FromCubicCentimeters(7).CubicMeters }, { "l", Volume.FromLiters(7).CubicMeters },
        { "in3", Volume.FromCubicInches(7).CubicMeters }, { "gal", Volume.FromUsGallons(7).CubicMeters },
        { "l/s", VolumeFlow.FromLitersPerSecond(7).CubicMetersPerSecond }, { "l/min", VolumeFlow.FromLitersPerMinute(7).CubicMetersPerSecond },
        { "m3/h", VolumeFlow.FromCubicMetersPerHour(7).CubicMetersPerSecond }, { "cfm", VolumeFlow.FromCubicFeetPerMinute(7).CubicMetersPerSecond },
        { "%", Ratio.FromPercent(7).DecimalFractions }, { "g", Mass.FromGrams(7).Kilograms }, { "lb", Mass.FromPounds(7).Kilograms },
        { "oz", Mass.FromOunces(7).Kilograms }, { "km/h", Speed.FromKilometersPerHour(7).MetersPerSecond }, { "mph", Speed.FromMilesPerHour(7).MetersPerSecond },
        { "kJ/K", Entropy.FromKilojoulesPerKelvin(7).JoulesPerKelvin },
    };

    [Theory]
    [MemberData(nameof(UnitsNetValues))]
    public void Units_agree_with_UnitsNet(string symbol, double si)
    {
        Assert.True(QuantityText.TryParseAny($"7 {symbol}", out var quantity, out string? problem), problem);
        Assert.Equal(si, quantity.Si, Math.Abs(si) * 1e-6);
    }

    [Fact]
    public void A_unit_is_1_or_in_the_NIST_list_or_in_the_UnitsNet_list_or_is_a_conductance()
    {
        var known = UnitsNetValues.Select(row => row.Data.Item1).ToHashSet();
        Assert.All(Units.All, unit => Assert.True(
            unit is { Factor: 1, Offset: 0 } || known.Contains(unit.Symbol) || unit.Symbol == "micron" || unit.Dimension == Dimension.Conductance,
            unit.Symbol));
    }

    [Fact]
    public void A_dm3_per_second_and_bar_is_1e_minus_8_SI() // ISO 6358-1: C in m3/(s Pa), the practical unit is dm3/(s bar)
    {
        double expected = UnitConverter.Convert(1, VolumeUnit.CubicDecimeter, VolumeUnit.CubicMeter) / Pressure.FromBars(1).Pascals;
        Assert.True(QuantityText.TryParse("1 dm3/(s.bar)", Dimension.Conductance, out double si, out _));
        Assert.Equal(expected, si, 1e-20);
        Assert.True(QuantityText.TryParse("1000 cm3/(s.bar)", Dimension.Conductance, out si, out _));
        Assert.Equal(expected, si, 1e-20);
    }

    /// <summary>What the schema of a sheet lets through, the reader of quantities must read, as the dimension that was asked for.</summary>
    [Fact]
    public void Every_unit_word_of_a_dimension_can_be_read()
    {
        foreach (Dimension dimension in Enum.GetValues<Dimension>().Where(d => d != Dimension.None))
        {
            string[] words = [.. QuantityText.UnitWords(dimension)];
            Assert.NotEmpty(words);
            Assert.Equal(words.Length, words.Distinct().Count());
            foreach (string word in words) Assert.True(QuantityText.TryParse($"1.5 {word}", dimension, out _, out string? problem), problem);
        }

        Assert.Contains("k\u03A9", QuantityText.UnitWords(Dimension.Ohm));
        Assert.Contains("\u00B0C", QuantityText.UnitWords(Dimension.Temperature));
        Assert.Contains("cm\u00B2", QuantityText.UnitWords(Dimension.Area));
    }
}
