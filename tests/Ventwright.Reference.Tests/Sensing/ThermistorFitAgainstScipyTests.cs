using Ventwright.Physics.Sensing;

namespace Ventwright.Reference.Tests.Sensing;

/// <summary>Reference program: scipy.optimize.curve_fit with the same covariance of the readings, and scipy.stats.chi2.</summary>
public class ThermistorFitAgainstScipyTests
{
    private sealed record Fit(double[] constants, double[][] covariance, double sum);

    private sealed record Answer(Fit[] fits, double[] tails);

    [Fact]
    public void Constants_covariances_and_leftovers_agree_on_forty_noisy_sets()
    {
        var random = new Random(7);
        var sets = Enumerable.Range(0, 40).Select(i => (Points: Noisy(random), Constants: 2 + (i % 2))).ToArray();
        double[][] tails = [[0.1, 1], [3.84, 1], [25, 1], [5.99, 2], [1.2, 3], [7.81, 3], [40, 3], [12, 7], [30, 12]];
        ThermistorFit[] ours = [.. sets.Select(s => ThermistorFit.Fit(s.Points, s.Constants))];
        Answer scipy = Scipy.Run<Answer>("thermistor_fit.py", new
        {
            fits = sets.Select((s, i) => new
            {
                ohms = s.Points.Select(p => p.Ohms),
                kelvin = s.Points.Select(p => p.Kelvin),
                errors = Rows(ThermistorFit.Errors(s.Points, ours[i].Curve)),
                constants = s.Constants,
            }),
            tails,
        });
        for (int i = 0; i < ours.Length; i++) Compare(ours[i], scipy.fits[i]);
        for (int i = 0; i < tails.Length; i++) Assert.Equal(scipy.tails[i], ChiSquare.AtLeast(tails[i][0], (int)tails[i][1]), 1e-12);
    }

    private static void Compare(ThermistorFit ours, Fit theirs)
    {
        double[] constants = [ours.Curve.A, ours.Curve.B, ours.Curve.C];
        double[,] covariance = ours.Covariance();
        for (int i = 0; i < ours.Constants; i++)
        {
            double spread = Math.Sqrt(covariance[i, i]);
            Assert.Equal(theirs.constants[i], constants[i], 1e-3 * spread);
            for (int j = 0; j < ours.Constants; j++) Assert.Equal(theirs.covariance[i][j], covariance[i, j], 1e-3 * spread * Math.Sqrt(covariance[j, j]));
        }

        Assert.Equal(theirs.sum, ours.Sum, 1e-3 * (1 + ours.Sum));
    }

    private static CalibrationPoint[] Noisy(Random random)
    {
        double shift = 0.5 * ((2 * random.NextDouble()) - 1), gain = 1 + (0.005 * ((2 * random.NextDouble()) - 1));
        return [.. Enumerable.Range(0, random.Next(4, 9)).Select(i =>
        {
            double kelvin = 270 + (12 * i) + (5 * random.NextDouble()), own = 0.2 * ((2 * random.NextDouble()) - 1);
            bool fixedPoint = i == 0;
            return new CalibrationPoint(kelvin, CommonCurve.Ohms(kelvin + own + (fixedPoint ? 0 : shift)) * gain, 0.12, 2e-4, 0.003, fixedPoint ? 0 : 0.3);
        })];
    }

    private static double[][] Rows(double[,] v) => [.. Enumerable.Range(0, v.GetLength(0)).Select(i => Enumerable.Range(0, v.GetLength(1)).Select(j => v[i, j]).ToArray())];
}
