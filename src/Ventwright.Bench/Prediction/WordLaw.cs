using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>How likely each word is for a quantity near the limits between words: people draw such lines by eye.</summary>
internal static class WordLaw
{
    /// <summary>Share of each word that comes of a slip; of all names together where words are names: nobody sees a green pin that is not.</summary>
    private const double Slip = 0.01, NameSlip = 0.005;

    /// <summary>Names are not taken for each other.</summary>
    private const double NameWidth = 0.1;

    /// <summary>Probability of each word.</summary>
    /// <param name="kind">What is looked at.</param>
    /// <param name="words">The words.</param>
    /// <param name="values">Quantities behind the words in units that the prediction stands for; NaN for a unit that shows nothing steady.</param>
    /// <param name="weights">Share of each quantity, adding up to 1.</param>
    public static double[] Predict(ObservableKind kind, IReadOnlyList<string> words, ReadOnlySpan<double> values, ReadOnlySpan<double> weights)
    {
        IReadOnlyList<double> limits = Readings.LimitsOf(kind, words.Count);
        double[] shares = new double[words.Count];
        for (int v = 0; v < values.Length; v++)
        {
            double value = double.IsNaN(values[v]) ? 0 : values[v];
            double width = Width(kind, value), under = 0;
            for (int i = 0; i < words.Count; i++)
            {
                double below = i < limits.Count ? Below((limits[i] - value) / width) : 1;
                shares[i] += weights[v] * Math.Max(0, below - under);
                under = below;
            }
        }

        double slip = Readings.OverlookedShare(kind, 0) is not null ? NameSlip / words.Count : Slip, sum = shares.Sum() + (slip * words.Count);
        return [.. shares.Select(s => (s + slip) / sum)];
    }

    private static double Width(ObservableKind kind, double value) => kind switch
    {
        ObservableKind.Position => Midway(value),
        ObservableKind.Contacts or ObservableKind.Sweep => NameWidth,
        _ => (0.12 * Math.Abs(value)) + 0.02,
    };

    /// <summary>An end stop is certain; midway the springs and pressures of the unit at hand decide.</summary>
    private static double Midway(double position) => position is > 0.01 and < 0.99 ? 0.08 : 0.03;

    /// <summary>The logistic curve that lies within 0.01 of the normal distribution function (from memory).</summary>
    public static double Below(double x) => 1 / (1 + Math.Exp(-1.702 * x));
}
