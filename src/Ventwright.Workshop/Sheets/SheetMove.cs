namespace Ventwright.Workshop;

/// <summary>A reading on two versions of a sheet.</summary>
/// <param name="Entry">The entry.</param>
/// <param name="Before">How it compared with a sound unit; null where it could not be read.</param>
/// <param name="After">How it compares now; null where it can not be read any more.</param>
/// <param name="Reason">Why it cannot be read any more, in words; null when it can.</param>
public sealed record MovedReading(SessionEvent Entry, Judgement? Before, Judgement? After, string? Reason)
{
    /// <summary>Whether it is judged otherwise than before.</summary>
    public bool IsOther => Before?.Fit != After?.Fit;
}

/// <summary>What moving a session to another version of its sheet does to its readings.</summary>
/// <param name="Readings">All readings that stand.</param>
/// <param name="LostParts">Repairs and exchanges of parts that the new sheet does not have, with the reason.</param>
/// <param name="Evidence">What can be read with the new sheet.</param>
public sealed record SheetMove(IReadOnlyList<MovedReading> Readings, IReadOnlyList<(SessionEvent Entry, string Reason)> LostParts, IReadOnlyList<SessionEvent> Evidence)
{
    /// <summary>Readings that cannot be read with the new sheet; they are kept.</summary>
    public IReadOnlyList<MovedReading> Lost => [.. Readings.Where(r => r.Reason is not null)];

    /// <summary>Readings that can be read and are judged otherwise.</summary>
    public IReadOnlyList<MovedReading> Other => [.. Readings.Where(r => r.Reason is null && r.IsOther)];

    /// <summary>Holds the readings of a session against another version. Changes nothing.</summary>
    /// <param name="session">The session.</param>
    /// <param name="to">The unit of the other version.</param>
    public static SheetMove Of(OpenSession session, UnitOnSheet to)
    {
        SessionEvent[] standing = [.. session.Entries.Where(WrittenEntries.IsEvidence)];
        var judged = standing.Select(e => (Entry: e, Reason: WrittenEntries.Misfit(to.Model, e))).ToArray();
        return new(
            [.. judged.Where(j => j.Entry.Kind == SessionEventKind.Reading)
                .Select(j => new MovedReading(j.Entry, WrittenEntries.Judge(session.Unit, j.Entry), WrittenEntries.Judge(to, j.Entry), j.Reason))],
            [.. judged.Where(j => j.Entry.Kind != SessionEventKind.Reading && j.Reason is not null).Select(j => (j.Entry, j.Reason!))],
            [.. judged.Where(j => j.Reason is null).Select(j => j.Entry)]);
    }
}

/// <summary>Suspects and proof before and after a move.</summary>
/// <param name="Before">Findings on the sheet that the session was tied to.</param>
/// <param name="After">Findings on the new one.</param>
public sealed record MovedFindings(SessionFindings Before, SessionFindings After)
{
    /// <summary>Parts that were proven and are not now, by id.</summary>
    public IReadOnlyList<string> NoLongerProven => [.. Proven(Before).Except(Proven(After))];

    /// <summary>Parts that are proven now and were not, by id.</summary>
    public IReadOnlyList<string> NewlyProven => [.. Proven(After).Except(Proven(Before))];

    /// <summary>Works both out. Takes from seconds to a minute or two.</summary>
    public static MovedFindings Of(OpenSession session, UnitOnSheet to, SheetMove move) =>
        new(SessionFindings.Of(session.Unit, session.Evidence), SessionFindings.Of(to, move.Evidence));

    private static IEnumerable<string> Proven(SessionFindings found) => found.Findings.Proof.Parts.Where(p => p.Proven).Select(p => p.Part);
}
