using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>
/// Published case: three multipliers and two adders, inputs 3 2 2 3 3, outputs 10 and 12 (Davis 1984; de Kleer and Williams, "Diagnosing multiple faults",
/// Artificial Intelligence 32, 1987). Inputs and outputs from course notes 16.412J (B. C. Williams, 2004). The sets of diagnoses were computed by exhaustive
/// search and agree with the paper from memory; the entropies are computed, the entropy rule is from memory. A faulty part shows any value:
/// there is one entry for each value from 0 to 20.
/// </summary>
public class PolyboxTests
{
    private const int Values = 21;
    private const int X = 0, Y = 1, Z = 2, F = 3, G = 4;
    private static readonly string[] Parts = ["M1", "M2", "M3", "A1", "A2"];

    [Fact]
    public void Minimal_diagnoses_of_the_polybox_are_the_published_four()
    {
        Posterior posterior = new Diagnoser(Polybox(), ToyPredictor.Crisp(2)).Explain(Observed());
        string[] found = [.. ToyPredictor.MinimalExplanations(posterior).Select(PartsOf).Distinct().Order(StringComparer.Ordinal)];
        Assert.Equal(["A1", "A2 M2", "M1", "M2 M3"], found);
        Assert.Equal(0.495, Share(posterior, "A1"), 3e-3);
        Assert.Equal(0.495, Share(posterior, "M1"), 3e-3);
        Assert.Equal(0.005, Share(posterior, "A2 M2"), 1e-4);
        Assert.Equal(0.005, Share(posterior, "M2 M3"), 1e-4);
    }

    [Fact]
    public void Two_faults_at_most_explain_the_polybox_in_nine_ways_and_all_sets_in_27()
    {
        Posterior posterior = new Diagnoser(Polybox(), ToyPredictor.Crisp(2)).Explain(Observed());
        int upToTwo = posterior.Hypotheses.Where(h => h.LogLikelihood > -10).Select(h => PartsOf(h.Current)).Distinct(StringComparer.Ordinal).Count();
        bool[] all = [.. Enumerable.Range(0, 32).Select(Consistent)];
        Assert.Equal(27, all.Count(c => c));
        Assert.Equal(Enumerable.Range(0, 32).Count(s => all[s] && int.PopCount(s) <= 2), upToTwo);
    }

    [Fact]
    public void Probe_X_comes_first_and_has_the_published_expected_entropy()
    {
        var predictor = FourOnly();
        Posterior posterior = new Diagnoser(predictor, ToyPredictor.Crisp(2)).Explain(Observed());
        Assert.Equal(1.0808, posterior.EntropyBits, 1e-3);
        var ranked = NextCheck.Rank(posterior, [X, Y, Z], _ => 1);
        Assert.Equal(X, ranked[0].Check);
        Assert.Equal(CheckPurpose.Find, ranked[0].Purpose);
        double After(int check) => posterior.EntropyBits - ranked.Single(s => s.Check == check).Gain;
        Assert.Equal(0.0809, After(X), 1e-3);
        Assert.Equal(1.0000, After(Y), 1e-3);
        Assert.Equal(1.0354, After(Z), 1e-3);
    }

    [Theory]
    [InlineData(4, "M1")]
    [InlineData(6, "A1")]
    public void Probing_X_settles_the_suspect(int shown, string part)
    {
        Posterior posterior = new Diagnoser(Polybox(), ToyPredictor.Crisp(2)).Explain([.. Observed(), ToyPredictor.Say("x", X, shown)]);
        Assert.Equal(part, PartsOf(posterior.CurrentSets[0].Set));
        Assert.InRange(posterior.CurrentSets[0].Probability, 0.7, 1);
    }

    private static Reading[] Observed() => [ToyPredictor.Say("f", F, 10), ToyPredictor.Say("g", G, 12)];

    private static ToyPredictor Polybox()
    {
        FaultEntry[] faults = [.. Parts.SelectMany(p => Enumerable.Range(0, Values)
            .Select(v => new FaultEntry($"{p}={v}", p, p, $"shows {v}", 0.01 / 0.99)))];
        return new(faults, Checks(), (set, check) => Prediction.Word(Show(set.ToDictionary(f => f / Values, f => f % Values), check), Values));
    }

    /// <summary>Entries for the four minimal diagnoses alone; other combinations of them contradict the outputs.</summary>
    private static ToyPredictor FourOnly()
    {
        (int Part, int Value)[] faulty = [(3, 10), (0, 4), (4, 12), (1, 4), (2, 8)];
        FaultEntry[] faults = [.. faulty.Select(f => ToyPredictor.Fault(Parts[f.Part], 0.01 / 0.99, $"shows {f.Value}"))];
        Prediction Predict(FaultSet set, int check)
        {
            // Supersets of a diagnosis are not counted in the published figures: they are made to contradict the outputs.
            bool minimal = set.Count < 2 || set == FaultSet.Of(2, 3) || set == FaultSet.Of(3, 4);
            int shown = minimal ? Show(set.ToDictionary(f => faulty[f].Part, f => faulty[f].Value), check) : 0;
            return Prediction.Word(shown, Values);
        }

        return new(faults, Checks(), Predict);
    }

    private static CheckEntry[] Checks()
    {
        string[] words = [.. Enumerable.Range(0, Values).Select(v => $"{v}")];
        return [.. "XYZFG".Select(c => ToyPredictor.Words(c.ToString(), words))];
    }

    private static int Show(Dictionary<int, int> faulty, int check)
    {
        int Part(int part, int sound) => faulty.TryGetValue(part, out int shown) ? shown : sound;
        int x = Part(0, 3 * 2), y = Part(1, 2 * 3), z = Part(2, 2 * 3);
        int value = check switch
        {
            X => x,
            Y => y,
            Z => z,
            F => Part(3, x + y),
            _ => Part(4, y + z),
        };
        return Math.Min(value, Values - 1);
    }

    /// <summary>Brute force: some values of the faulty parts give outputs 10 and 12.</summary>
    private static bool Consistent(int parts)
    {
        int[] Options(int part, int sound) => (parts >> part & 1) == 1 ? [.. Enumerable.Range(0, Values)] : [sound];
        return Options(0, 6).Any(x => Options(1, 6).Any(y => Options(2, 6).Any(z =>
            ((parts >> 3 & 1) == 1 || x + y == 10) && ((parts >> 4 & 1) == 1 || y + z == 12))));
    }

    private static string PartsOf(FaultSet set) => string.Join(' ', set.Select(f => Parts[f / Values]).Order(StringComparer.Ordinal));

    /// <summary>Share among the four minimal diagnoses with the values that fit.</summary>
    private static double Share(Posterior posterior, string parts)
    {
        var minimal = ToyPredictor.MinimalExplanations(posterior).ToHashSet();
        var weights = posterior.Hypotheses.Where(h => minimal.Contains(h.Current)).GroupBy(h => PartsOf(h.Current), StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Max(h => h.Probability), StringComparer.Ordinal);
        return weights[parts] / weights.Values.Sum();
    }
}
