namespace Ventwright.Workshop;

/// <summary>What kind of thing was put on record in a bench session.</summary>
public enum SessionEventKind
{
    /// <summary>A reading was taken.</summary>
    Reading,

    /// <summary>A part was repaired in place.</summary>
    Repaired,

    /// <summary>A part was replaced by another one.</summary>
    Swapped,

    /// <summary>A complaint: a check and a word as in a reading, which counts as a weak one, or only the person's own words.</summary>
    Symptom,

    /// <summary>A remark in the person's own words.</summary>
    Note,

    /// <summary>The panel was set: controls, supply, pump, stand-ins, what is unplugged.</summary>
    Panel,

    /// <summary>A part was put on the bench or taken off it, or a net was fed directly.</summary>
    Bench,

    /// <summary>A check was passed over for now.</summary>
    Skipped,

    /// <summary>A check cannot be reached on this bench.</summary>
    Unreachable,

    /// <summary>A box of the function chart was ticked or cleared.</summary>
    Ticked,

    /// <summary>The session was tied to another version of its sheet.</summary>
    Sheet,

    /// <summary>A sensor was measured at a known temperature.</summary>
    SensorPoint,

    /// <summary>The track of a servo's feedback or of a potentiometer was read from end to end.</summary>
    Sweep,

    /// <summary>A slow drive was begun; the readings that answer its turns say so.</summary>
    SlowDrive,
}

/// <summary>One entry of a bench session's record. Entries are never deleted; an undone one stays, marked.</summary>
/// <param name="Number">1, 2, 3 ... within its session, in the order of arrival; never given twice.</param>
/// <param name="When">When it happened, with the offset of the local clock.</param>
/// <param name="By">Who entered it.</param>
/// <param name="Kind">What kind of entry it is.</param>
/// <param name="Body">Text of one JSON object; what it holds depends on <paramref name="Kind"/>.</param>
/// <param name="Undone">True when the entry is taken back and no longer counts.</param>
public sealed record SessionEvent(long Number, DateTimeOffset When, string By, SessionEventKind Kind, string Body, bool Undone);
