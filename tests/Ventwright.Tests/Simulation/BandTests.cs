using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Simulation;

public sealed class BandTests
{
    /// <summary>
    /// Bands are worked out from one parameter at a time; here all move at once, evenly spread over their tolerances. At 2.5 standard deviations a band
    /// should hold nearly every unit; 95 % is asked for.
    /// </summary>
    [Theory]
    [InlineData("mode=vent, fan=2")]
    [InlineData("mode=cold, fan=3")]
    public void Nearly_all_units_within_tolerance_lie_in_the_bands(string words)
    {
        Band[] bands = Hold(ShippedSheets.Manual, words, _ => true, 1000);
        Assert.Contains(bands, b => b.Nominal.Word is null && b.High > b.Low + 1e-3);
    }

    /// <summary>With servos and module too, whose states hang on several tolerances together.</summary>
    [Theory]
    [InlineData("mode=auto, warmth=0, cabin=30 degC")]
    [InlineData("mode=auto, warmth=0.55, coolant=80 degC")]
    [InlineData("mode=auto, stand-in RT2=3960 ohm")]
    public void Nearly_all_units_of_the_sheet_with_servos_lie_in_the_bands_or_show_a_word_of_them(string words)
    {
        Band[] bands = Hold(ShippedSheets.Automatic, words, _ => true, 400);
        Assert.Contains(bands, b => b.Words.Count == 1);
    }

    /// <summary>A blower that either runs or stands still draws between nothing and its current, whichever tolerances decide; a net lies between ground and supply.</summary>
    [Theory]
    [InlineData("mode=auto, warmth=0")]
    [InlineData("mode=high, stand-in RT1=11.4 kohm, stand-in RT2=58.2 kohm")]
    [InlineData("mode=auto, stand-in RT1=2490 ohm, stand-in RT2=33.1 kohm, stand-in RT4=2690 ohm")]
    public void Where_states_flip_no_band_goes_beyond_what_the_supply_can_give(string words)
    {
        Simulator unit = ShippedSheets.Automatic;
        Setting setting = ShippedSheets.Set(unit, words);
        Observable[] checks = [.. unit.Model.Points.Where(p => p.When == PointState.Running && p.What is { Kind: ObservableKind.Volts or ObservableKind.Amps, Second: null }).Select(p => p.What).Distinct()];
        Band[] bands = Bands.Of(unit, setting, [], checks);
        double supply = bands.First(b => b.What.ToString() == "volts(battery)").High;
        Assert.All(bands, b => Assert.True(b.Low > -1 && b.High < (b.What.Kind == ObservableKind.Volts ? supply + 1 : 60), $"{b.What}: {b.Low} .. {b.High}"));
        Assert.Contains(bands, b => b.High - b.Low > 0.5 * supply);
    }

    /// <summary>Several tolerances may each carry the module over a threshold: its outputs' bands hold both states, each with its own spread.</summary>
    [Theory]
    [InlineData("mode=auto, warmth=0")]
    [InlineData("mode=low, warmth=0")]
    public void Near_a_threshold_bands_hold_both_states(string words)
    {
        Simulator unit = ShippedSheets.Automatic;
        double supply = Bands.Of(unit, ShippedSheets.Set(unit, words), [], [new(ObservableKind.Volts, "battery")])[0].Low;
        Band[] bands = Hold(unit, words, what => what is { Kind: ObservableKind.Volts, Second: null } && what.Target.StartsWith("drv.", StringComparison.Ordinal), 400);
        Assert.Contains(bands, b => b.High - b.Low > 0.9 * supply);
    }

    /// <summary>Some units pull the clutch in at this setting and some do not: between their currents lies nothing, and a reading there is no sound unit's.</summary>
    [Fact]
    public void Between_two_states_no_unit_lies()
    {
        Simulator unit = ShippedSheets.Automatic;
        Band band = Hold(unit, "mode=auto", what => what.ToString() == "amps(supply)", 400)[0];
        Assert.Equal(2, band.Ranges.Count);
        Assert.Equal((band.Low, band.High), (band.Ranges[0].Low, band.Ranges[1].High));
        Assert.Equal(band.Usual, band.Ranges[0]);
        double between = (band.Ranges[0].High + band.Ranges[1].Low) / 2, apart = band.Ranges[1].Low - band.Ranges[0].High;
        Assert.InRange(apart, 0.1, 5);
        Assert.False(band.Holds(between, 0));
        Assert.True(band.Holds(between, (apart / 2) + 1e-9));
        Assert.True(band.Holds(band.High, 0) && band.Holds(band.Low, 0) && band.Holds(band.Nominal.Value, 0));
    }

    private static Band[] Hold(Simulator unit, string words, Predicate<Observable> which, int units)
    {
        Setting setting = ShippedSheets.Set(unit, words);
        Observable[] checks = [.. unit.Model.Points.Where(p => p.When == PointState.Running && which(p.What)).Select(p => p.What).Distinct()];
        Band[] bands = Bands.Of(unit, setting, [], checks);
        int[] inside = new int[checks.Length];
        int settledUnits = 0;
        Parallel.For(0, units, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            double[] parameters = Drawn(unit, setting, new Random(7000 + n));
            Settled settled = unit.Settle(setting, [], parameters);
            if (settled.Verdict == Verdict.Settled) Interlocked.Increment(ref settledUnits);
            for (int i = 0; i < checks.Length; i++)
            {
                Shown shown = Readings.Read(unit, setting, [], settled, checks[i]);
                if (Fits(bands[i], shown)) Interlocked.Increment(ref inside[i]);
            }
        });
        Assert.Equal(units, settledUnits);
        string[] outside = [.. checks.Select((c, i) => (c, i)).Where(p => inside[p.i] < 0.95 * units)
            .Select(p => $"{p.c}: {100.0 * inside[p.i] / units:0.0} % in {bands[p.i].Low:g5} .. {bands[p.i].High:g5}, nominal {bands[p.i].Nominal}")];
        Assert.True(outside.Length == 0, string.Join('\n', outside));
        return bands;
    }

    /// <summary>Whatever single fault there is, currents balance at every net (Kirchhoff), and the unit comes to rest or the result says what does not.</summary>
    [Theory]
    [InlineData(true, "mode=auto, warmth=0, cabin=30 degC")]
    [InlineData(true, "mode=screen")]
    [InlineData(false, "mode=cold, fan=3")]
    [InlineData(false, "mode=heat, fan=4, lights=on")]
    public void Every_single_fault_settles_with_currents_balanced(bool automatic, string words)
    {
        Simulator unit = automatic ? ShippedSheets.Automatic : ShippedSheets.Manual;
        Setting setting = ShippedSheets.Set(unit, words);
        var wrong = new System.Collections.Concurrent.ConcurrentBag<string>();
        Parallel.ForEach(unit.Model.Faults, new ParallelOptions { MaxDegreeOfParallelism = 2 }, fault =>
        {
            Settled settled = unit.Settle(setting, [fault]);
            bool told = settled.Verdict == Verdict.Settled || (settled.Verdict == Verdict.Oscillates && settled.Note.Length > 0 && settled.Restless.Count > 0);
            if (!told || !(settled.Residual < 1e-6)) wrong.Add($"{fault.Id}: {settled.Verdict}, {settled.Residual:g3} A left over. {settled.Note}");
        });
        Assert.True(wrong.IsEmpty, string.Join('\n', wrong.Order(StringComparer.Ordinal)));
        Assert.True(unit.Model.Faults.Length > 100);
    }

    /// <summary>The words of a band are all that its ends reach into, by the limits of <see cref="Readings.LimitsOf"/>.</summary>
    [Theory]
    [InlineData(ObservableKind.Airflow, 0.1, 0.2, "none")]
    [InlineData(ObservableKind.Airflow, 0.2, 1.3, "none weak fair")]
    [InlineData(ObservableKind.Airflow, 3.4, 3.5, "fair strong")]
    [InlineData(ObservableKind.Motion, -0.1, 0.04, "still")]
    [InlineData(ObservableKind.Motion, 0.4, 2, "slow runs")]
    [InlineData(ObservableKind.Light, 0.05, 0.3, "dim")]
    [InlineData(ObservableKind.Sound, 0, 1, "silent clicks")]
    [InlineData(ObservableKind.Volts, 0, 12, "")]
    public void Words_of_a_band_are_those_that_it_reaches_into(ObservableKind kind, double low, double high, string words) =>
        Assert.Equal(words, string.Join(' ', Readings.WordsBetween(ShippedSheets.Manual.Model, new(kind, "M1"), low, high)));

    [Fact]
    public void A_value_on_a_limit_belongs_to_the_upper_word_and_words_and_limits_match_in_number()
    {
        foreach (ObservableKind kind in Enum.GetValues<ObservableKind>())
        {
            Observable what = new(kind, "FL1");
            IReadOnlyList<string> words = Readings.WordsOf(ShippedSheets.Manual.Model, what);
            IReadOnlyList<double> limits = Readings.LimitsOf(kind, words.Count);
            Assert.Equal(Math.Max(0, words.Count - 1), limits.Count);
            for (int i = 0; i < limits.Count; i++)
            {
                Assert.Equal(words[i + 1], Readings.WordAt(ShippedSheets.Manual.Model, what, limits[i]));
                Assert.Equal(words[i], Readings.WordAt(ShippedSheets.Manual.Model, what, Math.BitDecrement(limits[i])));
            }
        }
    }

    /// <summary>Between its two thresholds the evaporator switch stays as it was: closed from warm, open from cold. The band goes with it.</summary>
    [Fact]
    public void Bands_go_on_from_an_earlier_state()
    {
        Simulator unit = ShippedSheets.Manual;
        Observable[] check = [new(ObservableKind.Volts, "cl.line")];
        Setting between = ShippedSheets.Set(unit, "mode=cold, fan=3, evaporator=2.5 degC");
        Band fromWarm = Bands.Of(unit, between, [], check, unit.Settle(ShippedSheets.Set(unit, "mode=cold, fan=3, evaporator=15 degC"), []))[0];
        Band fromCold = Bands.Of(unit, between, [], check, unit.Settle(ShippedSheets.Set(unit, "mode=cold, fan=3, evaporator=-5 degC"), []))[0];
        Assert.InRange(fromWarm.Nominal.Value, 11, 14);
        Assert.InRange(fromCold.Nominal.Value, -0.1, 0.3);
        Assert.True(fromWarm.Low > fromCold.High);
    }

    private static bool Fits(Band band, Shown shown)
    {
        if (shown.Unsteady || band.Nominal.Unsteady) return shown.Unsteady == band.Nominal.Unsteady;
        if (shown.Word is not null) return band.Words.Contains(shown.Word);
        return double.IsNaN(band.Low) ? shown.Value.Equals(band.Nominal.Value) : band.Holds(shown.Value, Slack(band));
    }

    /// <summary>Rounding, where the band is a single value.</summary>
    private static double Slack(Band band) => 1e-6 * Math.Max(1, Math.Abs(band.Nominal.Value));

    private static double[] Drawn(Simulator unit, Setting setting, Random random)
    {
        double[] parameters = unit.Parameters(setting, []);
        foreach (Tolerance tolerance in unit.Model.Tolerances)
        {
            double width = tolerance.Relative ? tolerance.Amount * Math.Abs(parameters[tolerance.Parameter]) : tolerance.Amount;
            double offset = (2 * random.NextDouble()) - 1;
            if (double.IsFinite(width)) parameters[tolerance.Parameter] += offset * width;
        }

        return parameters;
    }
}
