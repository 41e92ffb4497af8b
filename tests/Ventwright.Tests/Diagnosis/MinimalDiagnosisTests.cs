using CsCheck;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Published collections of conflicts and circuits: the smallest sets that the posterior finds consistent are the minimal diagnoses.</summary>
public class MinimalDiagnosisTests
{
    /// <summary>
    /// First: Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32, 1987 (collection from memory, answer computed by exhaustive search).
    /// Second: the case behind the correction of Greiner, Smith and Wilkerson, 1989 (same status; a to d are 1 to 4). Third and fourth: circuits 4 and 2 of a
    /// course set (diagnosis_results.csv of the public repository Abdulsamedsay/Knowledge-Based-Artificial-Intelligence-2).
    /// </summary>
    public static TheoryData<string, string> Collections => new()
    {
        { "2 4 5;1 2 3;1 3 5;2 4 6;2 4;2 3 5;1 6", "1 2;1 3 4;1 4 5;2 3 6;2 5 6;3 4 6" },
        { "1 2;2 3;1 3;2 4;2", "1 2;2 3" },
        { "A1 O1 O2 A3;A1 O2 A2 A3", "A1;A3;O2;A2 O1" },
        { "X2 X4;X2 X3 X1", "X2;X1 X4;X3 X4" },
        { "X1 X2;X1 A2 O1", "X1;X2 A2;X2 O1" },
    };

    [Theory]
    [MemberData(nameof(Collections))]
    public void Minimal_consistent_sets_are_the_published_hitting_sets(string conflicts, string expected)
    {
        string[][] sets = [.. conflicts.Split(';').Select(c => c.Split(' '))];
        string[] names = [.. sets.SelectMany(s => s).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        int[][] byIndex = [.. sets.Select(s => s.Select(n => Array.IndexOf(names, n)).ToArray())];
        FaultSet[] published = [.. expected.Split(';').Select(e => FaultSet.Of(e.Split(' ').Select(n => Array.IndexOf(names, n)))).Order()];
        Assert.Equal(published, Found(byIndex, names.Length));
        Assert.Equal(published, BruteForce(byIndex, names.Length));
    }

    [Fact]
    public void Minimal_consistent_sets_equal_brute_force_on_random_conflicts()
    {
        Gen.Int[0, 6].HashSet[1, 4].Array[1, 3].Sample(sets =>
        {
            int[][] conflicts = [.. sets.Select(s => s.Order().ToArray())];
            Assert.Equal(BruteForce(conflicts, 7), Found(conflicts, 7));
        }, iter: 60);
    }

    /// <summary>
    /// Full adder of Reiter 1987 (inputs 1 0 1, outputs 1 0 where 0 1 would be right: inputs from memory), diagnoses as in circuit 1 of the course set above.
    /// </summary>
    [Fact]
    public void Full_adder_has_its_three_published_diagnoses()
    {
        string[] gates = ["X1", "X2", "A1", "A2", "O1"];
        Prediction Predict(FaultSet set, int check)
        {
            bool Gate(int gate, bool sound) => sound ^ set.Contains(gate);
            const bool a = true, b = false, carryIn = true;
            bool half = Gate(0, a ^ b);
            bool sum = Gate(1, half ^ carryIn);
            bool carry = Gate(4, Gate(2, a && b) || Gate(3, half && carryIn));
            return Prediction.Word((check == 0 ? sum : carry) ? 1 : 0, 2);
        }

        Assert.Equal(["X1", "X2 A2", "X2 O1"], Diagnoses(gates, 2, Predict, [1, 0], 2));
    }

    /// <summary>
    /// c17 of the ISCAS-85 suite (Brglez and Fujiwara 1985), all inputs 0, expected outputs 0 0; diagnoses computed from the netlist by exhaustive search.
    /// A faulty gate shows the opposite: with one input vector that is the weak fault model.
    /// </summary>
    [Theory]
    [InlineData(1, 0, "10;22;16 23")]
    [InlineData(0, 1, "19;23;16 22")]
    [InlineData(1, 1, "16;10 19;10 23;19 22;22 23")]
    public void C17_has_its_minimal_diagnoses(int out22, int out23, string expected)
    {
        string[] gates = ["10", "11", "16", "19", "22", "23"];
        static Prediction Predict(FaultSet set, int check)
        {
            bool Nand(int gate, bool a, bool b) => !(a && b) ^ set.Contains(gate);
            bool n10 = Nand(0, false, false), n11 = Nand(1, false, false);
            bool n16 = Nand(2, false, n11), n19 = Nand(3, n11, false);
            return Prediction.Word((check == 0 ? Nand(4, n10, n16) : Nand(5, n16, n19)) ? 1 : 0, 2);
        }

        Assert.Equal(expected.Split(';').Order(StringComparer.Ordinal), Diagnoses(gates, 2, Predict, [out22, out23], 3).Order(StringComparer.Ordinal));
    }

    private static string[] Diagnoses(string[] gates, int outputs, Func<FaultSet, int, Prediction> predict, int[] seen, int max)
    {
        var predictor = new ToyPredictor(
            [.. gates.Select(g => ToyPredictor.Fault(g, 0.05))],
            [.. Enumerable.Range(0, outputs).Select(o => ToyPredictor.Words($"out{o}", "0", "1"))],
            predict);
        Posterior posterior = new Diagnoser(predictor, ToyPredictor.Crisp(max)).Explain([.. seen.Select((s, o) => ToyPredictor.Say($"r{o}", o, s))]);
        return [.. ToyPredictor.MinimalExplanations(posterior).Select(s => string.Join(' ', s.Select(f => gates[f])))];
    }

    /// <summary>Each conflict is a check that shows "bad" when one of its parts is faulty; all checks show "bad".</summary>
    private static FaultSet[] Found(int[][] conflicts, int parts)
    {
        var predictor = new ToyPredictor(
            [.. Enumerable.Range(0, parts).Select(p => ToyPredictor.Fault($"p{p}", 0.1))],
            [.. conflicts.Select((_, c) => ToyPredictor.Words($"c{c}", "good", "bad"))],
            (set, check) => Prediction.Word(conflicts[check].Any(set.Contains) ? 1 : 0, 2));
        Posterior posterior = new Diagnoser(predictor, ToyPredictor.Crisp(3)).Explain([.. conflicts.Select((_, c) => ToyPredictor.Say($"r{c}", c, 1))]);
        return ToyPredictor.MinimalExplanations(posterior);
    }

    private static FaultSet[] BruteForce(int[][] conflicts, int parts)
    {
        var hitting = Enumerable.Range(0, 1 << parts).Where(mask => conflicts.All(c => c.Any(p => (mask >> p & 1) == 1))).ToArray();
        return [.. hitting.Where(m => !hitting.Any(s => s != m && (s & m) == s))
            .Select(m => FaultSet.Of(Enumerable.Range(0, parts).Where(p => (m >> p & 1) == 1))).Order()];
    }
}
