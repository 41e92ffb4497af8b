using System.Collections.Concurrent;

namespace Ventwright.Workshop;

/// <content>Readings held against the sound unit, in the background: a setting that is new takes a moment.</content>
public sealed partial class OpenSession
{
    private readonly ConcurrentDictionary<long, Judgement?> _judged = [];
    private int _isJudging;

    /// <summary>How a reading compares with a sound unit, or null while that is being worked out (<see cref="Changed"/> tells when) or where it cannot be.</summary>
    public Judgement? Judged(SessionEvent reading)
    {
        if (_judged.TryGetValue(reading.Number, out Judgement? known)) return known;
        if (Interlocked.Exchange(ref _isJudging, 1) == 0) _ = Task.Run(JudgeAll);
        return null;
    }

    private void JudgeAll()
    {
        foreach (SessionEvent entry in Entries.Where(e => e.Kind == SessionEventKind.Reading && !_judged.ContainsKey(e.Number))) _judged[entry.Number] = Judge(entry);
        Interlocked.Exchange(ref _isJudging, 0);

        // Whoever shows the session asks again, also for a reading that came in meanwhile.
        Changed?.Invoke();
    }

    private Judgement? Judge(SessionEvent entry)
    {
        try
        {
            ReadingBody body = WrittenEntries.Body<ReadingBody>(entry);
            var (setting, what, outcome) = WrittenEntries.Check(Unit.Model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
            return Judgement.Of(Unit, setting, what, outcome);
        }
        catch (RefusedException)
        {
            // Written by another version of the program; the findings say so in words.
            return null;
        }
    }
}
