using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What is asked for with parts missing, against the model. No outside source.</summary>
public sealed class PresenceTests
{
    public static TheoryData<string, string> Missing => new()
    {
        { "manual", "M1,XF,WV1" }, { "manual", "VV1" }, { "automatic", "M3,RT1,K3" }, { "automatic", "XT,Y1" },
    };

    [Theory]
    [MemberData(nameof(Missing))]
    public void Nothing_absent_is_asked_for(string unit, string absent)
    {
        Simulator simulator = Unit(unit);
        UnitModel model = simulator.Model;
        string[] ids = absent.Split(',');
        var catalog = new BenchCatalog(simulator, Of(model, ids.Select(id => $"absent {id}")));
        Point[] asked = [.. Enumerable.Range(0, catalog.Settings.Count).SelectMany(catalog.PointsIn)];
        Assert.NotEmpty(asked);
        Assert.All(catalog.Settings, s => Assert.All(ids, id => Assert.Contains($"absent {id}", s.Words.Keys)));
        foreach (string id in ids)
        {
            int part = model.PartIndex(id);
            Assert.True(part >= 0, id);
            Assert.DoesNotContain(asked, p => p.What.Target == id);
            Assert.DoesNotContain(asked, p => p.Part == part && p.What.Kind is not (ObservableKind.Volts or ObservableKind.Vacuum));
        }

        int[] absentParts = [.. ids.Select(model.PartIndex)];
        foreach (Point volts in asked.Where(p => p.What.Kind == ObservableKind.Volts))
        {
            int net = Array.IndexOf(model.Nets, volts.What.Target);
            Assert.Contains(model.Electric, b => (b.A == net || b.B == net) && !absentParts.Contains(b.Part));
        }
    }

    [Theory]
    [InlineData("manual", "A1", "loses(A1)")]
    [InlineData("automatic", "A1", "loses(A1)")]
    [InlineData("automatic", "M3", "seconds(M3)")]
    public void A_part_alone_is_tested_by_itself_and_its_plan_contains_its_check(string unit, string part, string check)
    {
        Simulator simulator = Unit(unit);
        BenchDiagnosis bench = Alone(simulator, part);
        BenchPlan plan = BenchPlan.Make(bench, simulator, null, []);
        string[] asked = [.. plan.Groups.SelectMany(g => g.Checks).Select(c => bench.Predictor[c].What.ToString())];
        Assert.Contains(check, asked);
        Assert.All(plan.Groups.SelectMany(g => g.Checks), c => Assert.Equal(part, Owner(simulator.Model, bench.Predictor[c].What)));
        Assert.All(plan.ShownByNone, f => Assert.Equal(part, simulator.Model.Parts[f.Part].Id));
        Assert.InRange(plan.ShownShare, 0.2, 1);
    }

    [Theory]
    [InlineData("manual", "M1", "motion(M1)", 2)]
    [InlineData("automatic", "L1", "light(L1)", 2)]
    public void A_part_alone_is_fed_directly_and_a_sound_one_answers(string unit, string part, string check, int word)
    {
        Simulator simulator = Unit(unit);
        BenchDiagnosis bench = Alone(simulator, part);
        int fed = Assert.Single(bench.Candidates, c => bench.Predictor[c].What.ToString() == check);
        Assert.Contains(bench.Predictor[fed].Setting.Words, w => w.Key.StartsWith("feed ", StringComparison.Ordinal) && w.Value == "12 V");
        IReadOnlyList<double> shares = bench.Predictor.Predict(FaultSet.None, fed).Components[0].WordShares;
        Assert.True(shares[word] > 0.9, string.Join(' ', shares));
        Assert.Contains(bench.Candidates, c => bench.Predictor[c].What.Kind == ObservableKind.Ohms);
        Assert.DoesNotContain(bench.Candidates, c => bench.Predictor[c].What.Kind == ObservableKind.Volts);
    }

    [Fact]
    public void A_leak_found_on_the_hand_pump_is_named_and_words_that_are_no_presence_are_refused()
    {
        BenchDiagnosis bench = Alone(ShippedSheets.Manual, "A1");
        Setting table = bench.Catalog.Settings[0];
        var loses = new Observable(ObservableKind.Loses, "A1");
        Fault torn = ShippedSheets.Manual.Model.FindFault("A1:torn@pinhole")!;
        Shown shown = Readings.Read(ShippedSheets.Manual, table, [torn], ShippedSheets.Manual.Settle(table, [torn]), loses);
        bench.Take("1", table, loses, Outcome.Number(shown.Value));
        Assert.Equal([torn.Family], bench.Explain().Explanations[0].Set.Select(f => ShippedSheets.Manual.Model.Faults[f].Family));
        Assert.Null(Presence.TryMake(ShippedSheets.Manual.Model, [("mode", "vent")], out string? problem));
        Assert.NotNull(problem);
        Assert.Null(Presence.TryMake(ShippedSheets.Manual.Model, [("absent Q9", "yes")], out problem));
        Assert.NotNull(problem);
    }

    private static Simulator Unit(string name) => name == "manual" ? ShippedSheets.Manual : ShippedSheets.Automatic;

    private static Presence Of(UnitModel model, IEnumerable<string> names)
    {
        Presence? presence = Presence.TryMake(model, names.Select(n => (n, "yes")), out string? problem);
        Assert.True(presence is not null, problem);
        return presence;
    }

    private static BenchDiagnosis Alone(Simulator simulator, string part) =>
        new(simulator, catalog: new(simulator, Of(simulator.Model, simulator.Model.Parts.Where(p => p.Id != part).Select(p => $"absent {p.Id}"))));

    private static string Owner(UnitModel model, Observable what) => model.Parts[Array.Find(model.Points, p => p.What == what)!.Part].Id;
}
