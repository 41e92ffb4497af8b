namespace Ventwright.Physics.Sensing;

/// <summary>The chi-square law, for the test of what a fit leaves over.</summary>
public static class ChiSquare
{
    /// <summary>
    /// Probability that a chi-square sum is at least as large: the upper regularised incomplete gamma function Q(n/2, x/2), for even n a sum of Poisson
    /// terms, for odd n the same recurrence from the complementary error function (NIST Digital Library of Mathematical Functions 8.8.6, number from memory).
    /// </summary>
    /// <param name="sum">The sum, 0 or more.</param>
    /// <param name="freedom">Degrees of freedom, at least 1.</param>
    public static double AtLeast(double sum, int freedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(sum);
        ArgumentOutOfRangeException.ThrowIfLessThan(freedom, 1);
        double x = sum / 2, a = freedom % 2 == 0 ? 1 : 0.5;
        double tail = freedom % 2 == 0 ? Math.Exp(-x) : Complement(Math.Sqrt(x));
        double term = freedom % 2 == 0 ? x * Math.Exp(-x) : 2 * Math.Sqrt(x / Math.PI) * Math.Exp(-x);
        for (; a < freedom / 2.0; a++)
        {
            tail += term;
            term *= x / (a + 1);
        }

        return Math.Clamp(tail, 0, 1);
    }

    /// <summary>erfc for a positive argument: series below 2, continued fraction above (NIST Digital Library of Mathematical Functions 7.6.2 and 7.9.1, numbers from memory).</summary>
    private static double Complement(double z)
    {
        if (z < 2)
        {
            double term = z, sum = z;
            for (int n = 1; Math.Abs(term) > 1e-17 * sum && n < 200; n++)
            {
                term *= 2 * z * z / ((2 * n) + 1);
                sum += term;
            }

            return 1 - (2 / Math.Sqrt(Math.PI) * Math.Exp(-z * z) * sum);
        }

        double fraction = z;
        for (int n = 80; n >= 1; n--) fraction = z + (n / 2.0 / fraction);
        return Math.Exp(-z * z) / (Math.Sqrt(Math.PI) * fraction);
    }
}
