using Ventwright.Bench;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Simulation;

namespace Ventwright.Tests.Reports;

/// <summary>Inputs for the cards and the report.</summary>
internal static class Samples
{
    public static readonly DateOnly Day = new(2026, 3, 1);

    /// <summary>A list of every third check of some settings: as long as a real plan, without the time that planning takes.</summary>
    public static Checklist List(Simulator unit, UnitSystem units)
    {
        var bench = new BenchDiagnosis(unit);
        var groups = bench.Candidates.Where((_, i) => i % 3 == 0).GroupBy(c => bench.Predictor[c].Setting.Key).Where((_, i) => i % 4 == 0).Take(6)
            .Select(g => (bench.Predictor[g.First()].Setting, (IReadOnlyList<int>)[.. g.OrderBy(c => bench.Predictor.Checks[c].Place)])).ToList();
        Fault[] faults = unit.Model.Faults;
        return Checklist.Of(new BenchPlan(groups, 75, 0.91, 0, faults[..5], faults[5..9], [[faults[0], faults[1]], [faults[2], faults[^1]]]), bench, unit.Model, units);
    }

    public static FunctionChart Chart(Simulator unit) => FunctionChart.TryMake(unit, [], out _)!;

    public static UnitModel Compile(string sheet)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("sample.yaml", sheet, problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted));
        return model;
    }

    public static SessionReportModel Report() => new(
        "Overhaul of spring", "Invented unit", "R. Hand", new(2026, 2, 27), Day,
        [
            new(1, "mode screen", "Volts at mod.16, to ground (volts(mod.16))", "12.4 V", "12.0 \u2013 12.8 V", ReadingVerdict.AsExpected),
            new(2, "mode auto \u00B7 warmth 0 (low end)", "Where Left fresh-air flap (FL1) stands", "fresh", "recirculated", ReadingVerdict.Differs),
            new(4, "supply off", "Ohms between feed and mod.9", "12.1 k\u03A9", "42 \u03A9", ReadingVerdict.NotJudged),
        ],
        [new(3, Day, "Left recirculation valve (Y1) exchanged for one from the shelf", "R. Hand")],
        new(
            [new("Left recirculation valve (Y1): stuck shut", 0.93, "the flap stays at rest"), new("nothing wrong", 0.04, "")], 0.012,
            [
                new("Feed fuse (F1)", true, [1, 2], []),
                new("Left recirculation valve (Y1)", false, [2], [new("stuck shut", OpenReason.Suspected), new("leaking", OpenReason.NotYet)]),
                new("Compressor clutch (CL1)", false, [], [new("slips", OpenReason.OnlyInCar), new("worn", OpenReason.NotOnBench)]),
            ],
            0.42, ["reading 4 fits nothing"]),
        [0.1, 0.3, 0.42]);
}
