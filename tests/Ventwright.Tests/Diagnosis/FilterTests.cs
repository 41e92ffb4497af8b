using System.Collections.Concurrent;
using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Likelihood of readings under one hypothesis.</summary>
public class FilterTests
{
    /// <summary>
    /// A fault that leaves a check alone may be told by the very prediction of the sound unit or by an equal one. In the first case runs start where they first differ from
    /// the sound unit's; the likelihoods are the same to the last bit.
    /// </summary>
    [Fact]
    public void Runs_that_start_where_they_differ_from_the_sound_unit_say_the_same_as_whole_runs() => Gen.Int[0, 100_000].Sample(
        seed =>
        {
            const int faults = 5, checks = 8;
            var random = new Random(seed);
            double[,] shift = new double[faults, checks];
            for (int i = 0; i < shift.Length; i++) shift[i / checks, i % checks] = random.Next(3) == 0 ? random.Next(-3, 4) : 0;
            Prediction Make(FaultSet acting, int c) => Prediction.Number(10 + acting.Sum(f => shift[f, c]), 0.1, 0.2);
            var known = new ConcurrentDictionary<(FaultSet, int), Prediction>();
            FaultSet Acting(FaultSet set, int c) => FaultSet.Of(set.Where(f => shift[f, c] != 0));
            Func<FaultSet, int, Prediction>[] ways = [(set, c) => Make(Acting(set, c), c), (set, c) => known.GetOrAdd((Acting(set, c), c), k => Make(k.Item1, k.Item2))];
            int truth = random.Next(faults);
            Reading[] readings = [.. Enumerable.Range(0, 12).Select(r =>
            {
                int c = random.Next(checks);
                return ToyPredictor.Read($"r{r}", c, 10 + shift[truth, c] + (0.3 * RandomUnit.Normal(random)));
            })];
            Dictionary<FaultSet, double>[] said = [.. ways.Select(way => new Diagnoser(new ToyPredictor(
                [.. Enumerable.Range(0, faults).Select(f => ToyPredictor.Fault($"P{f}", 0.05))], [.. Enumerable.Range(0, checks).Select(c => ToyPredictor.Volts($"c{c}", 0.05))], way, 1))
                .Explain(readings).Hypotheses.ToDictionary(h => h.Current, h => h.LogLikelihood))];
            Assert.True(said[1].Count > faults);
            Assert.All(said[0], one => Assert.Equal(one.Value, said[1][one.Key]));
        },
        iter: 100);

    /// <summary>Law: without misreads the readings are jointly normal. Reference: density from a dense Cholesky factor (MathNet.Numerics).</summary>
    [Fact]
    public void Likelihood_equals_the_joint_normal_density()
    {
        const double sd = 0.1, gain = 0.01, absolute = 0.05;
        double[] mean = [5, 7, 9], slope = [0.3, -0.2, 0.4];
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P1", 0.1)],
            [.. mean.Select((_, i) => ToyPredictor.Volts($"c{i}", absolute, gain))],
            (_, c) => Prediction.Number(mean[c], sd, slope[c]),
            1);
        (int Check, double Value)[] readings = [(0, 5.2), (1, 6.8), (1, 6.85), (2, 9.5)];
        Posterior posterior = new Diagnoser(predictor, new() { MisreadShare = 0 })
            .Explain([.. readings.Select((r, i) => ToyPredictor.Read($"r{i}", r.Check, r.Value))]);

        Matrix<double> covariance = Matrix<double>.Build.Dense(4, 4, (i, j) =>
        {
            int a = readings[i].Check, b = readings[j].Check;
            double shared = (slope[a] * slope[b]) + (gain * gain * mean[a] * mean[b]);
            return shared + (a == b ? sd * sd : 0) + (i == j ? absolute * absolute : 0);
        });
        var deviation = Vector<double>.Build.Dense(4, i => readings[i].Value - mean[readings[i].Check]);
        double expected = (-0.5 * deviation.DotProduct(covariance.Cholesky().Solve(deviation)))
            - (0.5 * covariance.Cholesky().DeterminantLn) - (2 * Math.Log(2 * Math.PI));
        Assert.Equal(expected, posterior.Hypotheses.Single(h => h.Current.IsEmpty).LogLikelihood, 1e-9);
    }

    /// <summary>Reference: numerical integration over the shared unknown; misreads make the mixture that the filter brings back to one Gaussian.</summary>
    [Fact]
    public void Likelihood_with_misreads_is_close_to_integration_over_the_shared_unknown()
    {
        const double absolute = 0.1;
        double[] values = [5.9, 6.1, 12.0, 6.0];
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P1", 0.1)],
            [.. values.Select((_, i) => ToyPredictor.Volts($"c{i}", absolute))],
            (_, _) => Prediction.Number(5, 0, 0.5),
            1);
        Posterior posterior = new Diagnoser(predictor).Explain([.. values.Select((v, i) => ToyPredictor.Read($"r{i}", i, v))]);
        double sum = 0;
        const double step = 0.001;
        for (double z = -8; z < 8; z += step)
        {
            double density = Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI);
            foreach (double v in values)
            {
                double u = (v - 5 - (0.5 * z)) / absolute;
                density *= (0.99 * Math.Exp(-0.5 * u * u) / (absolute * Math.Sqrt(2 * Math.PI))) + (0.01 * 0.95 / 20);
            }

            sum += density * step;
        }

        Assert.Equal(Math.Log(sum), posterior.Hypotheses.Single(h => h.Current.IsEmpty).LogLikelihood, 0.1);
    }

    [Fact]
    public void Ten_pins_on_one_low_supply_are_not_ten_witnesses()
    {
        // Each pin alone is 1.5 standard deviations low. The supply explains all ten at once; ten own faults would need ten coincidences.
        ToyPredictor With(int sharedCount) => new(
            [ToyPredictor.Fault("S1", 0.01, "low")],
            [.. Enumerable.Range(0, 10).Select(i => ToyPredictor.Volts($"pin{i}"))],
            (set, _) => sharedCount == 1
                ? Prediction.Number(set.IsEmpty ? 12 : 11, 0.02, 0.5)
                : Prediction.Number(set.IsEmpty ? 12 : 11, 0.5),
            sharedCount);
        Reading[] readings = [.. Enumerable.Range(0, 10).Select(i => ToyPredictor.Read($"r{i}", i, 11.25))];
        double correlated = new Diagnoser(With(1)).Explain(readings).Present[0];
        double one = new Diagnoser(With(1)).Explain(readings[..1]).Present[0];
        double independent = new Diagnoser(With(0)).Explain(readings).Present[0];
        Assert.Equal(one, correlated, 0.1);
        Assert.True(independent > 0.99, $"independent {independent}, correlated {correlated}");
    }

    [Fact]
    public void A_repeated_reading_does_not_count_twice_when_its_error_is_shared()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("R1", 0.05, "high")],
            [ToyPredictor.Volts("c0", 0.01), ToyPredictor.Volts("c1", 0.01)],
            (set, _) => Prediction.Number(set.IsEmpty ? 5 : 6, 0.5));
        double Present(params int[] checks) => new Diagnoser(predictor, new() { PriorNoFault = 0.6 })
            .Explain([.. checks.Select((c, i) => ToyPredictor.Read($"r{i}", c, 5.7))]).Present[0];
        double once = Present(0), repeated = Present(0, 0, 0, 0), twoChecks = Present(0, 1);
        Assert.Equal(once, repeated, 0.02);
        Assert.True(twoChecks > once + 0.1, $"once {once}, other check {twoChecks}");
    }

    [Fact]
    public void A_repeated_word_does_not_count_twice()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("Y1", 0.05)],
            [ToyPredictor.Words("click", "clicks", "silent")],
            (set, _) => set.IsEmpty ? Prediction.Words(0.7, 0.3) : Prediction.Words(0.1, 0.9));
        double Present(int times) => new Diagnoser(predictor)
            .Explain([.. Enumerable.Range(0, times).Select(i => ToyPredictor.Say($"r{i}", 0, 1))]).Present[0];
        Assert.Equal(Present(1), Present(4), 0.03);
    }
}
