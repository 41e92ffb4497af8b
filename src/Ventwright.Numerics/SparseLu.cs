namespace Ventwright.Numerics;

/// <summary>
/// LU factors on a fixed <see cref="SparsePattern"/>. Fill <see cref="Values"/>, call <see cref="Factor"/>, then <see cref="Solve"/> as
/// often as wanted. Nothing is allocated after construction. Not thread-safe: one workspace a thread.
/// </summary>
public sealed class SparseLu
{
    private readonly SparsePattern _pattern;
    private readonly double[] _values;

    /// <summary>Makes a workspace for matrices of the given pattern.</summary>
    public SparseLu(SparsePattern pattern)
    {
        _pattern = pattern;
        _values = new double[pattern.SlotCount];
    }

    /// <summary>Matrix entries by slot before <see cref="Factor"/>, the factors after it.</summary>
    public Span<double> Values => _values;

    /// <summary>Sets all entries to zero.</summary>
    public void Clear() => Array.Clear(_values);

    /// <summary>Factors the matrix in place.</summary>
    /// <returns>-1 when all went well, else the row whose pivot vanished (the unknown that nothing determines).</returns>
    public int Factor()
    {
        SparsePattern p = _pattern;
        double[] a = _values;
        int update = 0;
        for (int k = 0; k < p.Size; k++)
        {
            double pivot = a[p.PivotSlots[k]];
            if (!(Math.Abs(pivot) > 1e-300)) return p.Order[k];
            double inverse = 1.0 / pivot;
            int start = p.Starts[k], end = p.Starts[k + 1];
            for (int r = start; r < end; r++)
            {
                double factor = a[p.LowerSlots[r]] * inverse;
                a[p.LowerSlots[r]] = factor;
                if (factor == 0.0)
                {
                    update += end - start;
                    continue;
                }

                for (int c = start; c < end; c++) a[p.UpdateSlots[update++]] -= factor * a[p.UpperSlots[c]];
            }
        }

        return -1;
    }

    /// <summary>Solves A x = b with the factors; <paramref name="x"/> holds b on entry and x on return.</summary>
    public void Solve(Span<double> x)
    {
        SparsePattern p = _pattern;
        for (int k = 0; k < p.Size; k++)
        {
            double pivotValue = x[p.Order[k]];
            if (pivotValue == 0.0) continue;
            for (int r = p.Starts[k]; r < p.Starts[k + 1]; r++) x[p.Rows[r]] -= _values[p.LowerSlots[r]] * pivotValue;
        }

        for (int k = p.Size - 1; k >= 0; k--)
        {
            double sum = x[p.Order[k]];
            for (int r = p.Starts[k]; r < p.Starts[k + 1]; r++) sum -= _values[p.UpperSlots[r]] * x[p.Rows[r]];
            x[p.Order[k]] = sum / _values[p.PivotSlots[k]];
        }
    }
}
