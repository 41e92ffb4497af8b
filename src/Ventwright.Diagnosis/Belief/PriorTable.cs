namespace Ventwright.Diagnosis;

/// <summary>
/// Prior of each set of atoms. Faults are independent, so that a set weighs the product of its odds; each member beyond the first of one
/// common cause multiplies the weight by a stated factor. The weights of all sets of one to the largest number of first-life faults share what
/// "no fault" and "not on the sheet" leave. Faults of renewed parts multiply by their odds in every hypothesis.
/// </summary>
internal sealed class PriorTable
{
    private readonly Atom[] _atoms;
    private readonly double _logNone;
    private readonly double _logScale;
    private readonly double _logCause;

    public PriorTable(EvidenceView view, DiagnosisOptions options)
    {
        _atoms = view.Atoms;
        _logCause = Math.Log(options.CommonCauseFactor);
        double all = TotalWeight(view, options);
        double onSheet = 1 - options.PriorOffSheet;
        double none = options.PriorNoFault ?? onSheet / (1 + all);
        _logNone = Math.Log(none);
        _logScale = all > 0 ? Math.Log((onSheet - none) / all) : 0;
    }

    /// <summary>Logarithm of the prior of a set, given as sorted atoms.</summary>
    public double Log(params ReadOnlySpan<int> atoms)
    {
        double log = 0;
        int first = 0;
        for (int i = 0; i < atoms.Length; i++)
        {
            Atom atom = _atoms[atoms[i]];
            log += atom.LogOdds;
            if (atom.Life == 0) first++;
            if (atom.CauseKey < 0) continue;
            for (int j = 0; j < i; j++)
            {
                if (_atoms[atoms[j]].CauseKey != atom.CauseKey) continue;
                log += _logCause;
                break;
            }
        }

        return log + (first == 0 ? _logNone : _logScale);
    }

    /// <summary>Logarithm of the prior of a set.</summary>
    public double Log(FaultSet atoms)
    {
        Span<int> items = stackalloc int[atoms.Count];
        for (int i = 0; i < items.Length; i++) items[i] = atoms[i];
        return Log(items);
    }

    /// <summary>
    /// Sum of the weights of all non-empty sets: elementary symmetric sums over families, cause by cause, multiplied as polynomials that are
    /// cut at the largest number of faults.
    /// </summary>
    private static double TotalWeight(EvidenceView view, DiagnosisOptions options)
    {
        int max = options.MaxFaults;
        double[] total = One(max);
        var families = view.Atoms.Where(a => a.Life == 0).GroupBy(a => a.FamilyKey)
            .Select(g => (Cause: g.First().CauseKey, Odds: g.Sum(a => Math.Exp(a.LogOdds))));
        foreach (var cause in families.GroupBy(f => f.Cause))
        {
            double[] sums = One(max);
            foreach ((_, double odds) in cause)
            {
                for (int k = max; k >= 1; k--) sums[k] += sums[k - 1] * odds;
            }

            for (int k = 2; k <= max && cause.Key >= 0; k++) sums[k] *= Math.Pow(options.CommonCauseFactor, k - 1);
            total = Multiply(total, sums);
        }

        return total.Skip(1).Sum();
    }

    private static double[] One(int max)
    {
        var one = new double[max + 1];
        one[0] = 1;
        return one;
    }

    private static double[] Multiply(double[] a, double[] b)
    {
        var product = new double[a.Length];
        for (int i = 0; i < a.Length; i++)
        {
            for (int j = 0; i + j < a.Length; j++) product[i + j] += a[i] * b[j];
        }

        return product;
    }
}
