using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>An explanation that nobody wants any more. No outside source.</summary>
public class BreakingOffTests
{
    private const int Checks = 8, Threads = 2;
    private static readonly RandomUnit Model = new(7, 12, Checks);
    private static readonly Reading[] Readings = Read();

    [Theory]
    [InlineData(1)]
    [InlineData(60)]
    [InlineData(150)]
    public void It_ends_soon_and_the_next_answer_is_whole(int at)
    {
        using var stop = new CancellationTokenSource();
        int asked = 0;
        var counting = new ToyPredictor(
            Model.Predictor.Faults, Model.Predictor.Checks,
            (set, check) =>
            {
                if (Interlocked.Increment(ref asked) == at) stop.Cancel();
                return Model.Predictor.Predict(set, check);
            },
            Model.Predictor.SharedCount);
        var diagnoser = new Diagnoser(counting);
        Assert.Throws<OperationCanceledException>(() => diagnoser.Explain(Readings, new() { CancellationToken = stop.Token, MaxDegreeOfParallelism = Threads }));
        // What each thread had begun with it ends: one set at all readings.
        Assert.InRange(asked, at, at + (Threads * Readings.Length));
        int before = asked;
        Posterior whole = diagnoser.Explain(Readings), plain = new Diagnoser(Model.Predictor).Explain(Readings);
        Assert.True(asked > before);
        Assert.Equal(plain.Hypotheses.Select(h => (h.Current, h.Probability)), whole.Hypotheses.Select(h => (h.Current, h.Probability)));
        Assert.Equal(plain.OffSheet, whole.OffSheet);
    }

    [Fact]
    public void The_next_check_is_broken_off_with_it()
    {
        using var stop = new CancellationTokenSource();
        Posterior posterior = new Diagnoser(Model.Predictor).Explain(Readings[..3], new() { CancellationToken = stop.Token });
        stop.Cancel();
        Assert.Throws<OperationCanceledException>(() => NextCheck.Rank(posterior, [.. Enumerable.Range(0, Checks)], _ => 1));
    }

    private static Reading[] Read()
    {
        var random = new Random(5);
        return [.. Enumerable.Range(0, 10).Select(i => Model.Read(random, FaultSet.Of(3), i % Checks, $"r{i}"))];
    }
}
