namespace Ventwright.Numerics;

/// <summary>
/// LU factors on a fixed <see cref="SparsePattern"/>. Fill <see cref="Values"/>, call <see cref="Factor"/>, then <see cref="Solve"/> as
/// often as wanted. Nothing is allocated after construction. Not thread-safe: one workspace a thread.
/// </summary>
/// <remarks>
/// Where only entries between the last unknowns change, it goes in two parts: <see cref="FactorHead"/> once; then, for each change, <see cref="Tail"/> as it was left by that with
/// the changed entries added, <see cref="FactorTail"/> and <see cref="SolveTail"/>. The first unknowns follow from the last ones by <see cref="SolveHead"/>.
/// </remarks>
public sealed class SparseLu
{
    private readonly SparsePattern _pattern;
    private readonly double[] _values, _ordered;

    /// <summary>Makes a workspace for matrices of the given pattern.</summary>
    public SparseLu(SparsePattern pattern)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        _pattern = pattern;
        (_values, _ordered) = (new double[pattern.SlotCount], new double[pattern.Size]);
    }

    /// <summary>Matrix entries by slot before <see cref="Factor"/>, the factors after it.</summary>
    public Span<double> Values => _values;

    /// <summary>Of <see cref="Values"/> those between the last unknowns.</summary>
    public Span<double> Tail => _values.AsSpan(_pattern.TailSlot);

    /// <summary>Sets all entries to zero.</summary>
    public void Clear() => Array.Clear(_values);

    /// <summary>Factors the matrix in place.</summary>
    /// <returns>-1 when all went well, else the row whose pivot vanished (the unknown that nothing determines).</returns>
    public int Factor() => FactorHead() is >= 0 and int row ? row : FactorTail();

    /// <summary>Eliminates the first unknowns.</summary>
    /// <returns>As <see cref="Factor"/>.</returns>
    public int FactorHead() => Eliminate(0, _pattern.Head, 0);

    /// <summary>Factors what is left after <see cref="FactorHead"/>.</summary>
    /// <returns>As <see cref="Factor"/>.</returns>
    public int FactorTail() => Eliminate(_pattern.Head, _pattern.Size, _pattern.TailUpdate);

    /// <summary>Solves A x = b with the factors; <paramref name="x"/> holds b on entry and x on return.</summary>
    public void Solve(Span<double> x)
    {
        int[] steps = _pattern.Steps;
        for (int i = 0; i < steps.Length; i++) _ordered[steps[i]] = x[i];
        Forward(_ordered);
        SolveTail(_ordered);
        SolveHead(_ordered);
        for (int i = 0; i < steps.Length; i++) x[i] = _ordered[steps[i]];
    }

    /// <summary>Takes the first unknowns out of a right-hand side.</summary>
    /// <param name="y">The right-hand side in the order of elimination (<see cref="SparsePattern.Step"/>), changed in place.</param>
    public void Forward(Span<double> y) => Forward(y, 0, _pattern.Head);

    /// <summary>The last unknowns for a right-hand side that <see cref="Forward(Span{double})"/> has been through.</summary>
    /// <param name="y">In the order of elimination; its end is changed in place.</param>
    public void SolveTail(Span<double> y)
    {
        Forward(y, _pattern.Head, _pattern.Size);
        Back(y, _pattern.Head, _pattern.Size);
    }

    /// <summary>The first unknowns once the last are known.</summary>
    /// <param name="y">In the order of elimination: the right-hand side that <see cref="Forward(Span{double})"/> left, then the unknowns from <see cref="SolveTail"/>.</param>
    public void SolveHead(Span<double> y) => Back(y, 0, _pattern.Head);

    private int Eliminate(int from, int to, int update)
    {
        double[] a = _values;
        int[] starts = _pattern.Starts, targets = _pattern.UpdateSlots;
        for (int k = from; k < to; k++)
        {
            int count = starts[k + 1] - starts[k], pivotSlot = _pattern.PivotSlot(k);
            double pivot = a[pivotSlot];
            if (!(Math.Abs(pivot) > 1e-300)) return _pattern.Order[k];
            double inverse = 1.0 / pivot;
            Span<double> lower = a.AsSpan(pivotSlot + 1, count), upper = a.AsSpan(pivotSlot + 1 + count, count);
            for (int r = 0; r < lower.Length; r++)
            {
                double factor = lower[r] * inverse;
                lower[r] = factor;
                ReadOnlySpan<int> into = targets.AsSpan(update, upper.Length);
                update += upper.Length;
                if (factor == 0.0) continue;
                for (int c = 0; c < into.Length; c++) a[into[c]] -= factor * upper[c];
            }
        }

        return -1;
    }

    private void Forward(Span<double> y, int from, int to)
    {
        int[] starts = _pattern.Starts, all = _pattern.Rows;
        for (int k = from; k < to; k++)
        {
            double known = y[k];
            if (known == 0.0) continue;
            ReadOnlySpan<int> rows = all.AsSpan(starts[k], starts[k + 1] - starts[k]);
            ReadOnlySpan<double> lower = _values.AsSpan(_pattern.PivotSlot(k) + 1, rows.Length);
            for (int r = 0; r < rows.Length; r++) y[rows[r]] -= lower[r] * known;
        }
    }

    private void Back(Span<double> y, int from, int to)
    {
        int[] starts = _pattern.Starts, all = _pattern.Rows;
        for (int k = to - 1; k >= from; k--)
        {
            ReadOnlySpan<int> rows = all.AsSpan(starts[k], starts[k + 1] - starts[k]);
            int slot = _pattern.PivotSlot(k);
            ReadOnlySpan<double> upper = _values.AsSpan(slot + 1 + rows.Length, rows.Length);
            double sum = y[k];
            for (int r = 0; r < rows.Length; r++) sum -= upper[r] * y[rows[r]];
            y[k] = sum / _values[slot];
        }
    }
}
