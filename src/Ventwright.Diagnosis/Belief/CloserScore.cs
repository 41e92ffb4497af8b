namespace Ventwright.Diagnosis;

/// <summary>
/// Judges sets that are about to be believed once more, with the spread of units that have these very faults. The usual prediction of a faulty unit takes its
/// spread from the sound one; where a tolerance may flip a state only beside the fault, it claims too much. Which sets are judged closely follows from the
/// evidence alone, so that the answer does too.
/// </summary>
internal static class CloserScore
{
    private const double LeastShare = 0.1, LeastWithPlaces = 0.01;

    /// <summary>Two logarithms of a reading's likelihood this near each other are of sets that show the same there.</summary>
    private const double Alike = 0.1;
    private const int Rounds = 4, MostEach = 4, MostWithPlaces = 8;

    /// <summary>Replaces the scores of leading sets by closer ones, until the leading sets all have one.</summary>
    public static void Apply(List<Scored> pool, ReadingFilter filter)
    {
        var done = new HashSet<FaultSet>();
        for (int round = 0; round < Rounds; round++)
        {
            var sum = new LeftOutSum();
            foreach (Scored s in pool) sum.Add(s.LogJoint);
            int[] leading = [.. Foremost(pool, sum.Log + Math.Log(LeastShare), MostEach, done)];
            leading = [.. leading.Union(WithoutOne(pool, [.. Foremost(pool, sum.Log + Math.Log(LeastWithPlaces), MostWithPlaces, [])], filter, done))];
            if (leading.Length == 0) return;
            var closer = new Scored[leading.Length];
            Parallel.For(0, leading.Length, filter.Loops, i => closer[i] = pool[leading[i]] with { LogFactors = Factors(pool[leading[i]].Atoms, filter) });
            for (int i = 0; i < leading.Length; i++)
            {
                done.Add(closer[i].Atoms);
                PassOn(pool, pool[leading[i]], closer[i], done);
                pool[leading[i]] = closer[i];
            }
        }
    }

    /// <summary>Sets of at least some weight that were not judged yet, the weightiest first.</summary>
    private static IEnumerable<int> Foremost(List<Scored> pool, double least, int most, HashSet<FaultSet> done) =>
        Enumerable.Range(0, pool.Count).Where(i => pool[i].LogJoint >= least && !pool[i].Atoms.IsEmpty && !done.Contains(pool[i].Atoms))
            .OrderByDescending(i => pool[i].LogJoint).ThenBy(i => pool[i].Atoms).Take(most);

    /// <summary>
    /// Sets with one fault less than a leading one where something was left in one of several places: at a first look it is in another place at each reading, so that a second fault which holds it
    /// there seems needed.
    /// </summary>
    private static IEnumerable<int> WithoutOne(List<Scored> pool, int[] leading, ReadingFilter filter, HashSet<FaultSet> done)
    {
        HashSet<FaultSet> smaller = [.. leading.Where(i => pool[i].Atoms.Count > 1).SelectMany(i => pool[i].Atoms.Select(a => pool[i].Atoms.Without(a)))];
        if (smaller.Count == 0) return [];
        return Enumerable.Range(0, pool.Count).Where(i => smaller.Contains(pool[i].Atoms) && !done.Contains(pool[i].Atoms) && HasPlaces(filter.Predictions(pool[i].Atoms)));
    }

    private static bool HasPlaces(Foretold predictions) => Enumerable.Range(0, predictions.Length).Any(r => predictions[r].IsOneOfPlaces);

    /// <summary>
    /// Larger sets are judged like the set within them at the readings that their further faults leave alone; else a fault that explains nothing would save its
    /// set from the closer look.
    /// </summary>
    private static void PassOn(List<Scored> pool, Scored before, Scored after, HashSet<FaultSet> done)
    {
        for (int s = 0; s < pool.Count; s++)
        {
            Scored larger = pool[s];
            if (larger.Atoms.Count <= after.Atoms.Count || done.Contains(larger.Atoms) || !after.Atoms.IsSubsetOf(larger.Atoms)) continue;
            pool[s] = larger with
            {
                LogFactors = [.. larger.LogFactors.Select((f, r) => Math.Abs(f - before.LogFactors[r]) < Alike ? f + after.LogFactors[r] - before.LogFactors[r] : f)],
            };
        }
    }

    /// <summary>
    /// A closer look takes belief away, and gives some only where the first look had to call the reading a slip or did not know the place in which something was left. Else its sharper prediction alone would put a
    /// set ahead of those that were not looked at closely.
    /// </summary>
    private static double[] Factors(FaultSet atoms, ReadingFilter filter)
    {
        Foretold plain = filter.Predictions(atoms);
        FilterResult first = filter.Run(plain), close = filter.RunClosely(atoms);
        return [.. first.LogFactors.Select((f, r) => first.Misread[r] > 0.5 || plain[r].IsOneOfPlaces ? close.LogFactors[r] : Math.Min(f, close.LogFactors[r]))];
    }
}
