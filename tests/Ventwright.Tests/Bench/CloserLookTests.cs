using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Swaps, sizes and lines of the sheet against units whose truth is known because they are simulated. No outside source.</summary>
public sealed class CloserLookTests
{
    private static readonly Simulator Manual = ShippedSheets.Manual, Automatic = ShippedSheets.Automatic;

    /// <summary>The real unit's pack has twice the resistance in its middle section that the sheet gives.</summary>
    [Fact]
    public void A_line_of_the_sheet_that_is_wrong_by_a_factor_of_two_is_named()
    {
        string path = Path.Combine(ShippedSheets.Root(), "sheets", "single-blower-manual.yaml"), text = File.ReadAllText(path);
        const string wrong = "[1.1 ohm, 0.5 ohm, 0.25 ohm]";
        Assert.Contains(wrong, text, StringComparison.Ordinal);
        var problems = new ProblemList();
        var real = new Simulator(SheetFile.Read(path, text.Replace(wrong, "[1.1 ohm, 1 ohm, 0.25 ohm]", StringComparison.Ordinal), problems)!);
        var bench = new BenchDiagnosis(Manual);
        (string Set, string At)[] looks = [("mode=vent, fan=1", "volts(fan.out)"), ("mode=vent, fan=2", "volts(fan.out)"), ("mode=vent, fan=3", "volts(fan.out)"), ("supply=off", "ohms(fan.2, fan.3)"), ("supply=off", "ohms(fan.1, fan.2)")];
        foreach ((string set, string at) in looks)
        {
            Assert.True(Observable.TryParse(at, out Observable what, out _));
            Setting setting = ShippedSheets.Set(Manual, set), there = ShippedSheets.Set(real, set);
            double value = Readings.Read(real, there, [], real.Settle(there, []), what).Value;
            bench.Take(set + at, setting, what, Outcome.Number(BenchMeter.ToScale(what.Kind, value)));
        }

        double lastShare = 0;
        CloserLook look = bench.LookCloser(bench.Find(), share => lastShare = Math.Max(lastShare, share));
        Assert.NotEmpty(look.SheetLines);
        SheetLine line = look.SheetLines[0];
        Assert.Equal("RP1", line.Part);
        Assert.Contains("section 2", line.Quantity, StringComparison.Ordinal);
        Assert.Equal(0.5, line.Now, 1e-9);
        Assert.InRange(line.WouldFit, 0.9, 1.1);
        Assert.Equal(Array.FindIndex(text.Split('\n'), l => l.Contains("RP1:", StringComparison.Ordinal)) + 1, line.At.Line);
        Assert.Equal(1, lastShare, 1e-9);
    }

    /// <summary>Four readings of a lost ground, one as the other: a fault that comes and goes would have shown a sound unit in more than half of them.</summary>
    [Fact]
    public void What_is_wrong_every_time_does_not_come_and_go()
    {
        var bench = new BenchDiagnosis(Automatic);
        (string Set, string At, double Volts)[] looks = [("mode=screen", "volts(mod.11)", 13.22), ("mode=screen", "volts(mod.12)", 13.21), ("mode=screen, lights=off", "volts(mod.11)", 13.08), ("mode=screen, lights=off", "volts(mod.13)", 1.14)];
        foreach ((string set, string at, double volts) in looks)
        {
            Assert.True(Observable.TryParse(at, out Observable what, out _));
            bench.Take(set + at, ShippedSheets.Set(Automatic, set), what, Outcome.Number(volts));
        }

        Posterior posterior = bench.Explain();
        double Present(string fault) => posterior.Present[Array.FindIndex(Automatic.Model.Faults, f => f.Id == fault)];
        Assert.True(Present("G5:open") > 10 * Present("G5:loose"), $"{Present("G5:open")} {Present("G5:loose")}");
    }

    [Fact]
    public void A_fault_that_explains_all_readings_leaves_the_sheet_alone()
    {
        var bench = new BenchDiagnosis(Manual);
        Setting setting = ShippedSheets.Set(Manual, "mode=vent, fan=2");
        Fault blown = Manual.Model.FindFault("F1:blown")!;
        Settled rest = Manual.Settle(setting, [blown]);
        foreach (string net in (string[])["sw.on", "feed.ctl"])
        {
            var what = new Observable(ObservableKind.Volts, net);
            bench.Take(net, setting, what, Outcome.Number(Readings.Read(Manual, setting, [blown], rest, what).Value));
        }

        bench.Take("motor", setting, new(ObservableKind.Motion, "M1"), Outcome.Word(0));
        Assert.Empty(bench.LookCloser(bench.Find()).SheetLines);
    }

    /// <summary>Sizes between those of the sheet (4 and 8 K) and on the other side.</summary>
    [Theory]
    [InlineData(-6)]
    [InlineData(5)]
    public void The_size_of_a_drifted_sensor_is_estimated(double offset)
    {
        Fault listed = Automatic.Model.FindFault("RT3:drifted@reads-4K-cold")!;
        Fault truth = listed with { Edits = [listed.Edits[0] with { Value = offset }] };
        var bench = new BenchDiagnosis(Automatic);
        foreach (string set in (string[])["mode=auto", "mode=auto, evaporator=25 degC"])
        {
            Setting setting = ShippedSheets.Set(Automatic, set);
            var what = new Observable(ObservableKind.Volts, "mod.7");
            bench.Take(set, setting, what, Outcome.Number(Readings.Read(Automatic, setting, [truth], Automatic.Settle(setting, [truth]), what).Value));
        }

        Setting off = ShippedSheets.Set(Automatic, "supply=off");
        var ohms = new Observable(ObservableKind.Ohms, "sense.evaporator", "gnd.sense");
        bench.Take("ohms", off, ohms, Outcome.Number(BenchMeter.ToScale(ObservableKind.Ohms, Automatic.Ohms(off, [truth], "sense.evaporator", "gnd.sense"))));
        FaultSize? size = bench.LookCloser(bench.Find()).Size;
        Assert.NotNull(size);
        Assert.Equal(listed.Family, size.Family);
        Assert.Equal(0, size.Nominal);
        Assert.InRange(size.High - size.Low, 0.05, 4);
        Assert.InRange(size.Value, offset - (1.5 * (size.High - size.Low)), offset + (1.5 * (size.High - size.Low)));
        Assert.InRange(size.Value, offset - 1.5, offset + 1.5);
    }

    [Fact]
    public void Suspects_that_no_check_tells_apart_are_told_apart_by_a_part_from_the_shelf()
    {
        var bench = new BenchDiagnosis(Manual);
        (string good, string bad) = (PairOf.Good, PairOf.Bad);
        Fault truth = Manual.Model.FindFault(bad)!;
        foreach ((string set, string at) in PairOf.Looks) Take(bench, set + at, set, at, [truth]);
        Findings before = bench.Find();
        SwapAdvice swap = Assert.Single(bench.LookCloser(before).Swaps, s => s.Part == bad.Split(':')[0]);
        Assert.InRange(swap.Gain, 0.05, 4);
        Assert.Contains(Manual.Model.Parts[Manual.Model.PartIndex(swap.Part)].Title, swap.Why, StringComparison.Ordinal);
        Assert.True(swap.Minutes > 0);

        // Taking the advice: the swap, then the reading, which a sound unit now gives; the old part was the bad one.
        bench.Renew("swap", swap.Part, 0.5);
        Take(bench, "again", swap.Setting, swap.What, []);
        int other = Array.FindIndex(Manual.Model.Faults, f => f.Id == good);
        Assert.True(bench.Explain().Present[other] < 0.05, $"{bench.Explain().Present[other]}");
    }

    private static void Take(BenchDiagnosis bench, string id, string set, string at, Fault[] truth)
    {
        Assert.True(Observable.TryParse(at, out Observable what, out _));
        Take(bench, id, ShippedSheets.Set(Manual, set), what, truth);
    }

    private static void Take(BenchDiagnosis bench, string id, Setting setting, Observable what, Fault[] truth)
    {
        Shown shown = Readings.Read(Manual, setting, truth, Manual.Settle(setting, truth), what);
        int check = bench.Predictor.Check(setting, what);
        CheckEntry entry = bench.Predictor.Checks[check];
        bench.Take(id, setting, what, entry.IsNumber ? Outcome.Number(BenchMeter.ToScale(what.Kind, shown.Value)) : Outcome.Word(entry.Words.ToList().IndexOf(shown.Word!)));
    }

    /// <summary>Two faults of different parts that the bench cannot tell apart.</summary>
    private static class PairOf
    {
        public const string Good = "FL4:stuck-cold", Bad = "LV1:cable-off";

        public static readonly (string Set, string At)[] Looks = [("warmth=1", "position(FL4)"), ("mode=vent, warmth=1", "position(FL4)")];
    }
}
