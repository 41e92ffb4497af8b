using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Contacts of a pulled plug. What is seen follows from the ohms of the contacts; how often a film is overlooked is common practice, no source.</summary>
public sealed class ContactTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;
    private static readonly Observable Plug = new(ObservableKind.Contacts, "XA");

    [Theory]
    [InlineData("clean")]
    [InlineData("corroded at 5", "XA:pin-5-corroded")]
    [InlineData("corroded at 17", "XA:pin-17-corroded", "XB:pin-26-corroded")]
    [InlineData("corroded at several", "XA:pin-5-corroded", "XA:pin-17-corroded")]
    [InlineData("clean", "XA:pin-5-open")]
    [InlineData("clean", "XA:pins-5-and-6-swapped")]
    public void A_plug_shows_which_pin_is_corroded(string seen, params string[] faults)
    {
        Setting off = ShippedSheets.Set(Unit, "supply=off");
        Fault[] bad = [.. faults.Select(f => Unit.Model.FindFault(f)!)];
        Assert.Equal(seen, Readings.Read(Unit, off, bad, Unit.Settle(off, bad), Plug).Word);
        Assert.Equal([seen], Bands.Of(Unit, off, bad, [Plug])[0].Words);
    }

    /// <summary>Plugs with pins that join can be looked at, test plugs cannot: nothing is pulled there.</summary>
    [Fact]
    public void Every_plug_that_joins_can_be_looked_at()
    {
        string[] plugs = [.. Unit.Model.Points.Where(p => p.What.Kind == ObservableKind.Contacts).Select(p => p.What.Target)];
        Assert.Equal(Unit.Model.Faults.Where(f => f.Id.EndsWith("-corroded", StringComparison.Ordinal)).Select(f => Unit.Model.Parts[f.Part].Id).Distinct().Order(), plugs.Order());
        Assert.DoesNotContain("XT", plugs);
        Assert.All(Unit.Model.Points.Where(p => p.What.Kind == ObservableKind.Contacts), p => Assert.Equal(PointState.Dead, p.When));
    }

    [Theory]
    [InlineData("clean", "clean")]
    [InlineData("Corroded at 12", "corroded at 12")]
    [InlineData("12", "corroded at 12")]
    [InlineData("several", "corroded at several")]
    [InlineData("4", null)]
    [InlineData("2.5 V", null)]
    public void The_pin_alone_will_do_for_an_answer(string typed, string? word)
    {
        Assert.Equal(word is not null, ReadingText.TrySee(Unit.Model, Plug, typed, out Shown shown, out string? problem));
        if (word is null) Assert.Contains("corroded at", problem, StringComparison.Ordinal);
        else Assert.Equal(word, shown.Word);
    }

    /// <summary>One look: the pin that is named leads of all that can be wrong, the ohms over it make it sure; the pins of a clean plug lose nine tenths of their odds.</summary>
    [Fact]
    public void A_look_names_the_pin_and_clears_most_of_a_clean_plug()
    {
        int pin = Array.FindIndex(Unit.Model.Faults, f => f.Id == "XA:pin-5-corroded");
        Posterior none = Looked(null), clean = Looked("clean"), green = Looked("corroded at 5");
        Assert.Equal([pin], green.Explanations.First(e => e.Set.Count > 0).Set);
        Assert.InRange(green.Present[pin], 0.1, 0.9);
        Posterior sure = Looked("corroded at 5", 3);
        Assert.Equal([pin], sure.Explanations[0].Set);
        Assert.True(sure.Explanations[0].Probability > 0.9, $"{sure.Explanations[0].Probability}");
        Assert.InRange(clean.Present[pin] / none.Present[pin], 0.05, 0.2);
    }

    /// <summary>Of a hundred units with a corroded pin about ten show a clean plug, and each of them as often as it is looked at.</summary>
    [Fact]
    public void What_is_overlooked_once_is_overlooked_again()
    {
        var predictor = new SheetPredictor(Unit);
        var random = new Random(3);
        int check = predictor.Check(ShippedSheets.Set(Unit, "supply=off"), Plug), overlooked = 0;
        for (int u = 0; u < 100; u++)
        {
            var unit = new SimulatedUnit(Unit, [Unit.Model.FindFault("XA:pin-5-corroded")!], random, 1, 0);
            int[] seen = [.. Enumerable.Range(0, 3).Select(_ => unit.Observe(predictor, check).WordIndex).Distinct()];
            if (Assert.Single(seen) == 0) overlooked++;
        }

        // Three standard deviations of a count of 100 at a share of 0.1: 9 (binomial law).
        Assert.InRange(overlooked, 1, 19);
    }

    private static Posterior Looked(string? word, double? ohms = null)
    {
        var bench = new BenchDiagnosis(Unit);
        if (word is not null) bench.Take("1", ShippedSheets.Set(Unit, "supply=off"), Plug, Outcome.Word(Readings.WordsOf(Unit.Model, Plug).ToList().IndexOf(word)));
        if (ohms is { } read) bench.Take("2", ShippedSheets.Set(Unit, "supply=off"), new(ObservableKind.Ohms, "sense.cabin", "mod.5"), Outcome.Number(BenchMeter.ToScale(ObservableKind.Ohms, read)));
        return bench.Explain();
    }
}
