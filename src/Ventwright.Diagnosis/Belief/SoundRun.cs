namespace Ventwright.Diagnosis;

/// <summary>What one hypothesis makes each reading's check show, worked out when it is first wanted: a run that is broken off wants few. The same object where nothing is changed.</summary>
internal sealed class Foretold(IReadOnlyList<ReadingView> readings, Func<int, ReadingView, CompiledPrediction> predict)
{
    private readonly CompiledPrediction?[] _known = new CompiledPrediction?[readings.Count];

    public int Length => _known.Length;

    public CompiledPrediction this[int reading] => _known[reading] ??= predict(reading, readings[reading]);

    /// <summary>Whether another hypothesis shows the same at all readings.</summary>
    public bool SameAs(Foretold other)
    {
        for (int r = 0; r < Length; r++)
        {
            if (!ReferenceEquals(this[r], other[r])) return false;
        }

        return true;
    }
}

/// <summary>A run through the readings under one hypothesis, as far as it has come.</summary>
internal sealed class Course(int readings, SharedState state, UnitLikeness likeness)
{
    public double[] Factors { get; } = new double[readings];

    public double[] Misread { get; } = new double[readings];

    public SharedState State { get; } = state;

    public UnitLikeness Likeness { get; } = likeness;

    /// <summary>A copy that goes on by itself.</summary>
    /// <param name="count">Readings that were gone through.</param>
    public Course Copy(int count)
    {
        var copy = new Course(Factors.Length, State.Copy(), Likeness.Copy());
        Array.Copy(Factors, copy.Factors, count);
        Array.Copy(Misread, copy.Misread, count);
        return copy;
    }
}

/// <summary>The sound unit's run, with where it stood before each check: most sets of faults show nothing else at many of the checks, and go on from there.</summary>
/// <param name="predictions">What the sound unit shows.</param>
/// <param name="starts">The run before each reading that starts a check.</param>
/// <param name="result">The whole run.</param>
internal sealed class SoundRun(Foretold predictions, Course?[] starts, FilterResult result)
{
    public FilterResult Result => result;

    public double[] Factors => result.LogFactors;

    /// <summary>Number of readings, whole checks only, from the first on at which the predictions are the sound unit's.</summary>
    public int SameUpTo(Foretold others, IReadOnlyList<ReadingView> readings)
    {
        int start = 0;
        for (int r = 0; r < others.Length; r++)
        {
            if (readings[r].StartsGroup) start = r;
            if (!ReferenceEquals(others[r], predictions[r])) return start;
        }

        return others.Length;
    }

    /// <summary>A run that has come to a reading that starts a check.</summary>
    public Course Until(int reading) => starts[reading]!.Copy(reading);
}
