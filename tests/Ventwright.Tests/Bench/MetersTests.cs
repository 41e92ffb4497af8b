using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

public sealed class MetersTests
{
    private static readonly Observable Volts = new(ObservableKind.Volts, "fan.out"), Ohms = new(ObservableKind.Ohms, "fan.1", "fan.out");

    /// <summary>Half-width over root three for an even spread: JCGM 100:2008, 4.3.7.</summary>
    [Theory]
    [InlineData("0.5 %", 0.005, 0)]
    [InlineData("10 mV", 0, 0.01)]
    [InlineData("0.5 % + 2 mV", 0.005, 0.002)]
    [InlineData("2 mV + 0.5%", 0.005, 0.002)]
    public void A_share_a_fixed_part_or_both_are_read(string text, double share, double fixedPart)
    {
        MeterAccuracy meter = Read(new Meters(), text, Volts, Outcome.Number(6));
        Assert.Equal(share / Math.Sqrt(3), meter.RelativeGain, 1e-12);
        if (fixedPart > 0) Assert.Equal(fixedPart / Math.Sqrt(3), meter.Absolute, 1e-12);
        else Assert.InRange(meter.Absolute, 1e-6, 1e-3);
    }

    [Theory]
    [InlineData("good")]
    [InlineData("")]
    [InlineData("0 %")]
    [InlineData("-1 mV")]
    [InlineData("150 %")]
    [InlineData("1 % + 2 %")]
    [InlineData("1 % + 2 mV + 3 mV")]
    [InlineData("2 kPa")]
    [InlineData("NaN V")]
    public void What_is_no_accuracy_is_refused_with_a_reason(string text)
    {
        Assert.False(new Meters().TryRead(text, Volts, Outcome.Number(6), out _, out string? problem));
        Assert.False(string.IsNullOrWhiteSpace(problem));
    }

    [Fact]
    public void Readings_of_one_kind_with_the_same_text_share_a_meter()
    {
        var meters = new Meters();
        int first = Read(meters, "0.5 % + 2 mV", Volts, Outcome.Number(6)).MeterId;
        Assert.Equal(first, Read(meters, "0.5%+2mV", new(ObservableKind.Volts, "sw.on"), Outcome.Number(12)).MeterId);
        Assert.NotEqual(first, Read(meters, "0.6 % + 2 mV", Volts, Outcome.Number(6)).MeterId);
        Assert.NotEqual(Read(meters, "1 %", Volts, Outcome.Number(6)).MeterId, Read(meters, "1 %", Ohms, Outcome.Number(1)).MeterId);
    }

    /// <summary>The scale is log10(R + 0.3): at 100 ohm a width of 1 ohm is 1 / (100.3 ln 10) wide on it.</summary>
    [Theory]
    [InlineData("1 ohm", 1)]
    [InlineData("1 %", 1)]
    [InlineData("1 % + 1 ohm", 1.4142135623730951)]
    public void Ohms_go_through_the_slope_of_the_log_scale(string text, double widthOhms)
    {
        MeterAccuracy meter = Read(new Meters(), text, Ohms, Outcome.Number(BenchMeter.ToScale(ObservableKind.Ohms, 100)));
        double expected = widthOhms / (100.3 * Math.Log(10) * Math.Sqrt(3));
        Assert.Equal(0, meter.RelativeGain);
        Assert.InRange(meter.Absolute, 0.99 * expected, 1.01 * expected);
    }

    /// <summary>A reading beside what a sound unit shows: with a poor meter it may still be sound, with a good one hardly.</summary>
    [Theory]
    [InlineData("volts(fan.out)", "mode=vent, fan=2", 0.75, "0.5 %", "40 %")]
    [InlineData("volts(fan.out)", "mode=vent, fan=2", 0.75, "10 mV", "3 V")]
    [InlineData("ohms(fan.1, fan.out)", "supply=off", 1.6, "1 %", "90 %")]
    public void A_tighter_accuracy_makes_the_belief_sharper(string check, string words, double times, string tight, string loose)
    {
        double sharp = NoFault(check, words, times, tight), blunt = NoFault(check, words, times, loose);
        Assert.True(sharp < 0.7 * blunt, $"{sharp} against {blunt}");
    }

    private static double NoFault(string check, string words, double times, string accuracy)
    {
        Assert.True(Observable.TryParse(check, out Observable what, out _));
        var bench = new BenchDiagnosis(ShippedSheets.Manual);
        Setting setting = ShippedSheets.Set(ShippedSheets.Manual, words);
        Outcome outcome = Outcome.Number(BenchMeter.ToScale(what.Kind, times * ShippedSheets.Look(ShippedSheets.Manual, words, check).Value));
        Assert.True(new Meters().TryRead(accuracy, what, outcome, out MeterAccuracy meter, out string? problem), problem);
        bench.Take("one", setting, what, outcome, meter);
        return bench.Explain().NoFault;
    }

    private static MeterAccuracy Read(Meters meters, string text, Observable what, Outcome outcome)
    {
        Assert.True(meters.TryRead(text, what, outcome, out MeterAccuracy meter, out string? problem), problem);
        return meter;
    }
}
