namespace Ventwright.Numerics;

/// <summary>The signed square root with a finite slope at zero: the one regularised law of all flow networks.</summary>
/// <remarks>
/// Outside |x| &gt;= x0 it is exactly sign(x) sqrt(|x|). Inside, with t = x/x0, it is the odd cubic sqrt(x0) t (5 - t^2)/4, which meets the
/// root in value and slope. The cubic stays below the root by at most <see cref="LargestError"/> sqrt(x0).
/// </remarks>
public static class SmoothRoot
{
    /// <summary>Largest distance between the cubic piece and the true root, in units of sqrt(x0). Found numerically, near t = 0.166.</summary>
    public const double LargestError = 0.2013;

    /// <summary>The regularised signed root of <paramref name="x"/>.</summary>
    /// <param name="x">Argument, any sign.</param>
    /// <param name="x0">Half width of the cubic piece, above zero, in the unit of <paramref name="x"/>.</param>
    /// <param name="slope">Derivative with respect to <paramref name="x"/>.</param>
    public static double Signed(double x, double x0, out double slope)
    {
        double size = Math.Abs(x);
        if (size >= x0)
        {
            double root = Math.Sqrt(size);
            slope = 0.5 / root;
            return Math.CopySign(root, x);
        }

        double root0 = Math.Sqrt(x0);
        double t = x / x0;
        slope = (1.25 - 0.75 * t * t) / root0;
        return root0 * t * (1.25 - 0.25 * t * t);
    }
}
