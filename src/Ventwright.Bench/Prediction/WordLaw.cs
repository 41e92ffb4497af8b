using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>How likely each word is for a quantity near the limits between words: people draw such lines by eye.</summary>
internal static class WordLaw
{
    private const double Slip = 0.01;

    /// <summary>Probability of each word.</summary>
    /// <param name="kind">What is looked at.</param>
    /// <param name="words">The words.</param>
    /// <param name="values">Quantities behind the words in units that the prediction stands for; NaN for a unit that shows nothing steady.</param>
    /// <param name="weights">Share of each quantity, adding up to 1.</param>
    public static Prediction Predict(ObservableKind kind, IReadOnlyList<string> words, ReadOnlySpan<double> values, ReadOnlySpan<double> weights)
    {
        IReadOnlyList<double> limits = Readings.LimitsOf(kind);
        double[] shares = new double[words.Count];
        for (int v = 0; v < values.Length; v++)
        {
            double value = double.IsNaN(values[v]) ? 0 : values[v];
            double width = kind == ObservableKind.Position ? Midway(value) : (0.12 * Math.Abs(value)) + 0.02, under = 0;
            for (int i = 0; i < words.Count; i++)
            {
                double below = i < limits.Count ? Below((limits[i] - value) / width) : 1;
                shares[i] += weights[v] * Math.Max(0, below - under);
                under = below;
            }
        }

        double sum = shares.Sum() + (Slip * words.Count);
        return Prediction.Words([.. shares.Select(s => (s + Slip) / sum)]);
    }

    /// <summary>An end stop is certain; midway the springs and pressures of the unit at hand decide.</summary>
    private static double Midway(double position) => position is > 0.01 and < 0.99 ? 0.08 : 0.03;

    /// <summary>The logistic curve that lies within 0.01 of the normal distribution function (from memory).</summary>
    public static double Below(double x) => 1 / (1 + Math.Exp(-1.702 * x));
}
