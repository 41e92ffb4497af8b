using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>
/// Readings that flip in the same example units, against Bayes' rule by hand: the chance of several flips together is the share of units that have all of them, which
/// is trusted for four fifths. No outside source.
/// </summary>
public sealed class ExampleUnitTests
{
    private const int Units = 40;
    private const double Odds = 0.02, Share = 0.1;

    /// <summary>A sound unit of a kind that has three flips is as good an explanation as a rare fault; a unit with three flips that no example has together is not.</summary>
    [Fact]
    public void Flips_of_the_same_units_are_one_coincidence()
    {
        Reading[] readings = [.. Enumerable.Range(0, 3).Select(c => ToyPredictor.Read($"r{c}", c, 12))];
        double again = 0.2 * Share + 0.8;
        Assert.Equal(Share * again * again / Odds, SoundOverFault(true, readings), 0.05);
        Assert.InRange(SoundOverFault(false, readings), 0.8 * Share * Share * Share / Odds, Share * Share * Share / Odds);
    }

    [Fact]
    public void Told_in_words_it_is_the_same()
    {
        Reading[] readings = [ToyPredictor.Say("d", 3, 1), ToyPredictor.Say("e", 4, 1)];
        Assert.Equal(Share * (0.2 * Share + 0.8) / Odds, SoundOverFault(true, readings), 0.05);
    }

    /// <summary>The same reading once more is no further flip, nor a further fault.</summary>
    [Fact]
    public void A_repeated_reading_is_no_second_coincidence() =>
        Assert.Equal(Share / Odds, SoundOverFault(true, ToyPredictor.Read("a", 0, 12), ToyPredictor.Read("b", 0, 12)), 0.1);

    /// <summary>A sound unit shows 0 V, in one unit of ten 12 V; a fault makes it 12 V at every check.</summary>
    private static double SoundOverFault(bool isSame, params Reading[] readings)
    {
        CheckEntry[] checks = [.. "abc".Select(c => ToyPredictor.Volts(c.ToString())), .. "de".Select(c => ToyPredictor.Words(c.ToString(), "dark", "lit"))];
        var predictor = new ToyPredictor([ToyPredictor.Fault("P1", Odds)], checks, (faults, check) =>
        {
            bool isTold = check >= 3;
            if (!faults.IsEmpty) return isTold ? Prediction.Word(1, 2) : Prediction.Number(12, 0.05);
            ulong flipped = 0b1111UL << (isSame ? 0 : 4 * check);
            ExampleUnits some = new(flipped, Units), rest = new(~flipped & ((1UL << Units) - 1), Units);
            return isTold
                ? new([PredictionComponent.Words([1 - Share, Share], 1, [rest, some])])
                : new([PredictionComponent.Number(0, 0.05, [], 1 - Share, rest), PredictionComponent.Number(12, 0.05, [], Share, some)]);
        });
        Posterior posterior = new Diagnoser(predictor, ToyPredictor.Crisp(1)).Explain(readings);
        return posterior.NoFault / posterior.Present[0];
    }
}
