using System.Numerics;

namespace Ventwright.Diagnosis;

/// <summary>
/// How well a set explains each reading, in a form in which optimistic bounds for larger sets are quick: a reading is explained under a set at
/// best as well as by the best of its parts or, where two parts act on it together, as well as its sharpest prediction could.
/// </summary>
internal sealed class EvidencePattern
{
    private const float Never = -1e30f;
    private readonly float[] _fit;
    private readonly float[] _acts;

    /// <summary>As <see cref="_fit"/>, with no part hiding what another shows.</summary>
    private readonly float[] _unmasked;

    private EvidencePattern(float[] fit, float[] acts, float[] unmasked) => (_fit, _acts, _unmasked) = (fit, acts, unmasked);

    /// <summary>Pattern of a set whose readings were all worked out.</summary>
    /// <param name="logFactors">Logarithm of each reading's likelihood.</param>
    /// <param name="sharpest">Logarithm of the highest likelihood that each reading could have.</param>
    /// <param name="acts">Whether the set changes what the reading shows.</param>
    public static EvidencePattern Of(double[] logFactors, double[] sharpest, Func<int, bool> acts)
    {
        int width = Vector<float>.Count;
        int padded = (logFactors.Length + width - 1) / width * width;
        var fit = new float[padded];
        var act = new float[padded];
        for (int r = 0; r < logFactors.Length; r++)
        {
            fit[r] = (float)Math.Max(logFactors[r], -600);
            act[r] = acts(r) ? (float)sharpest[r] : Never;
        }

        return new(fit, act, fit);
    }

    /// <summary>Most that a union of the two sets could reach, as a logarithm.</summary>
    public double Bound(EvidencePattern other)
    {
        var sum = Vector<float>.Zero;
        for (int i = 0; i < _fit.Length; i += Vector<float>.Count) sum += Best(other, i);
        return Vector.Sum(sum);
    }

    /// <summary>What a union reaches when each reading is explained by the better part and there is no interplay.</summary>
    public double Likely(EvidencePattern other)
    {
        var sum = Vector<float>.Zero;
        for (int i = 0; i < _fit.Length; i += Vector<float>.Count) sum += Vector.Max(new Vector<float>(_fit, i), new Vector<float>(other._fit, i));
        return Vector.Sum(sum);
    }

    /// <summary>What a union reaches when a reading that one part alone acts on is explained as that part explains it, however badly: no part hides what another shows.</summary>
    public double Unmasked(EvidencePattern other)
    {
        var sum = Vector<float>.Zero;
        for (int i = 0; i < _fit.Length; i += Vector<float>.Count) sum += Unmasked(other, i);
        return Vector.Sum(sum);
    }

    /// <summary>The bound reading by reading.</summary>
    public float[] BoundEach(EvidencePattern other)
    {
        var each = new float[_fit.Length];
        for (int i = 0; i < _fit.Length; i += Vector<float>.Count) Best(other, i).CopyTo(each, i);
        return each;
    }

    /// <summary>The bound of the union as a pattern of its own.</summary>
    public EvidencePattern Union(EvidencePattern other) =>
        new(BoundEach(other), [.. _acts.Select((a, i) => Math.Max(a, other._acts[i]))], UnmaskedEach(other));

    /// <summary>This pattern with the interplay replaced by what the set was found to do; a part alone may still show when a third fault masks the other.</summary>
    public EvidencePattern Sharpened(double[] logFactors, EvidencePattern first, EvidencePattern second) =>
        new([.. _fit.Select((_, i) => i < logFactors.Length
            ? Math.Max((float)logFactors[i], Math.Max(first._fit[i], second._fit[i]))
            : 0f)], _acts, [.. _fit.Select((_, i) => i < logFactors.Length ? (float)logFactors[i] : 0f)]);

    /// <summary>Logarithm of the gain over a base when each reading takes the better of the two.</summary>
    public double GainOver(EvidencePattern sound)
    {
        double gain = 0;
        for (int i = 0; i < _fit.Length; i++) gain += Math.Max(0, _fit[i] - sound._fit[i]);
        return gain;
    }

    /// <summary>Raises the given values to this pattern's where it explains better.</summary>
    public void Raise(float[] best)
    {
        for (int i = 0; i < best.Length; i++) best[i] = Math.Max(best[i], _fit[i]);
    }

    /// <summary>Length of the arrays, padded.</summary>
    public int Width => _fit.Length;

    private float[] UnmaskedEach(EvidencePattern other)
    {
        var each = new float[_fit.Length];
        for (int i = 0; i < _fit.Length; i += Vector<float>.Count) Unmasked(other, i).CopyTo(each, i);
        return each;
    }

    private Vector<float> Unmasked(EvidencePattern other, int at)
    {
        var never = new Vector<float>(Never);
        Vector<float> mine = new(_unmasked, at), its = new(other._unmasked, at);
        Vector<int> acts = Vector.GreaterThan(new Vector<float>(_acts, at), never), itsActs = Vector.GreaterThan(new Vector<float>(other._acts, at), never);
        return Vector.ConditionalSelect(Vector.Equals(acts, itsActs), Vector.Max(mine, its), Vector.ConditionalSelect(acts, mine, its));
    }

    private Vector<float> Best(EvidencePattern other, int at)
    {
        var alone = Vector.Max(new Vector<float>(_fit, at), new Vector<float>(other._fit, at));
        return Vector.Max(alone, Vector.Min(new Vector<float>(_acts, at), new Vector<float>(other._acts, at)));
    }
}
