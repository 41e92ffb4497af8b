namespace Ventwright.Physics.Sensing;

/// <summary>
/// Generalised least squares on few rows: rows and right side are divided by the Cholesky factor of the covariance of the errors, then solved by orthogonal
/// columns (modified Gram-Schmidt, twice).
/// </summary>
internal sealed class Whitened
{
    private readonly double[][] _q;
    private readonly double[,] _r;

    /// <summary>Solves.</summary>
    /// <param name="columns">Columns of the design, each as long as <paramref name="right"/>.</param>
    /// <param name="right">Right side.</param>
    /// <param name="covariance">Covariance of the errors of the right side, positive definite.</param>
    /// <exception cref="ArgumentException">The columns are not independent, or the covariance is not positive.</exception>
    public Whitened(double[][] columns, double[] right, double[,] covariance)
    {
        int n = right.Length, m = columns.Length;
        double[,] factor = Cholesky(covariance);
        _q = [.. columns.Select(c => Forward(factor, c))];
        _r = new double[m, m];
        double[] rest = Forward(factor, right);
        double[] scale = [.. _q.Select(Norm)];
        for (int k = 0; k < m; k++)
        {
            for (int pass = 0; pass < 2; pass++)
            {
                for (int j = 0; j < k; j++)
                {
                    double share = Dot(_q[j], _q[k]);
                    _r[j, k] += share;
                    for (int i = 0; i < n; i++) _q[k][i] -= share * _q[j][i];
                }
            }

            _r[k, k] = Norm(_q[k]);
            if (!(_r[k, k] > 1e-9 * scale[k])) throw new ArgumentException("the columns are not independent", nameof(columns));
            for (int i = 0; i < n; i++) _q[k][i] /= _r[k, k];
        }

        double[] shares = new double[m];
        for (int k = 0; k < m; k++)
        {
            shares[k] = Dot(_q[k], rest);
            for (int i = 0; i < n; i++) rest[i] -= shares[k] * _q[k][i];
        }

        Solution = Back(shares);
        Sum = Dot(rest, rest);
    }

    /// <summary>The solution.</summary>
    public double[] Solution { get; }

    /// <summary>Sum of squares that is left over, each in units of its standard deviation.</summary>
    public double Sum { get; }

    /// <summary>Covariance of the solution.</summary>
    public double[,] Covariance()
    {
        int m = _q.Length;
        double[][] inverse = [.. Enumerable.Range(0, m).Select(k => Back([.. Enumerable.Range(0, m).Select(i => i == k ? 1.0 : 0)]))];
        double[,] covariance = new double[m, m];
        for (int i = 0; i < m; i++)
        {
            for (int j = 0; j < m; j++) covariance[i, j] = Enumerable.Range(0, m).Sum(k => inverse[k][i] * inverse[k][j]);
        }

        return covariance;
    }

    private static double Dot(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();

    private static double Norm(double[] a) => Math.Sqrt(Dot(a, a));

    private double[] Back(double[] right)
    {
        double[] x = new double[right.Length];
        for (int k = right.Length - 1; k >= 0; k--)
        {
            x[k] = right[k];
            for (int j = k + 1; j < right.Length; j++) x[k] -= _r[k, j] * x[j];
            x[k] /= _r[k, k];
        }

        return x;
    }

    private static double[,] Cholesky(double[,] v)
    {
        int n = v.GetLength(0);
        double[,] l = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = v[i, j];
                for (int k = 0; k < j; k++) sum -= l[i, k] * l[j, k];
                if (i == j && !(sum > 0)) throw new ArgumentException("the covariance is not positive", nameof(v));
                l[i, j] = i == j ? Math.Sqrt(sum) : sum / l[j, j];
            }
        }

        return l;
    }

    private static double[] Forward(double[,] l, double[] right)
    {
        double[] x = new double[right.Length];
        for (int i = 0; i < x.Length; i++)
        {
            x[i] = right[i];
            for (int k = 0; k < i; k++) x[i] -= l[i, k] * x[k];
            x[i] /= l[i, i];
        }

        return x;
    }
}
