namespace Ventwright.Workshop;

/// <content>Readings held against the sound unit, in the background: a setting that is new takes a moment.</content>
public sealed partial class OpenSession
{
    private int _isJudging;

    /// <summary>How a reading compares with a sound unit, or null while that is being worked out (<see cref="Changed"/> tells when) or where it cannot be.</summary>
    public Judgement? Judged(SessionEvent reading)
    {
        if (Tied.Judged.TryGetValue(reading.Number, out Judgement? known)) return known;
        if (Interlocked.Exchange(ref _isJudging, 1) == 0) _ = Task.Run(JudgeAll);
        return null;
    }

    private void JudgeAll()
    {
        Tie tie = Tied;
        foreach (SessionEvent entry in Entries.Where(e => e.Kind == SessionEventKind.Reading && !tie.Judged.ContainsKey(e.Number))) tie.Judged[entry.Number] = WrittenEntries.Judge(tie.Unit, entry);
        Interlocked.Exchange(ref _isJudging, 0);

        // Whoever shows the session asks again, also for a reading that came in meanwhile.
        Changed?.Invoke();
    }
}
