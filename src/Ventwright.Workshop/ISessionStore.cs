namespace Ventwright.Workshop;

/// <summary>Keeps bench sessions and their records. Safe to use from several threads.</summary>
public interface ISessionStore
{
    /// <summary>Starts a session and gives it an id that no other session of this store has.</summary>
    /// <param name="title">What the person calls it.</param>
    /// <param name="sheetPath">Where the sheet was read from.</param>
    /// <param name="sheetText">The whole text of the sheet.</param>
    /// <param name="now">The time of the start.</param>
    /// <returns>The session, once it is safe on disk.</returns>
    BenchSession Create(string title, string sheetPath, string sheetText, DateTimeOffset now);

    /// <summary>All sessions, the latest first.</summary>
    IReadOnlyList<BenchSession> List();

    /// <summary>The session of that id, or null. Letter case and blanks around the id do not matter.</summary>
    BenchSession? Find(string id);

    /// <summary>The session's entries by number, undone ones included; empty when there is no such session.</summary>
    IReadOnlyList<SessionEvent> Events(string id);

    /// <summary>Adds an entry under the session's next number.</summary>
    /// <param name="id">Id of the session, which must exist.</param>
    /// <param name="when">When it happened.</param>
    /// <param name="by">Who entered it.</param>
    /// <param name="kind">What kind of entry it is.</param>
    /// <param name="body">Text of one JSON object.</param>
    /// <returns>The entry, once it is safe on disk: it survives a pulled plug from then on.</returns>
    /// <exception cref="ArgumentException"><paramref name="body"/> is not the text of one JSON object.</exception>
    SessionEvent Append(string id, DateTimeOffset when, string by, SessionEventKind kind, string body);

    /// <summary>Adds several entries of one kind under the session's next numbers, all of them or none.</summary>
    /// <param name="id">Id of the session, which must exist.</param>
    /// <param name="when">When it happened.</param>
    /// <param name="by">Who entered it.</param>
    /// <param name="kind">What kind of entries they are.</param>
    /// <param name="bodies">Texts of one JSON object each.</param>
    /// <returns>The entries in order, once they are safe on disk.</returns>
    /// <exception cref="ArgumentException">One of <paramref name="bodies"/> is not the text of one JSON object.</exception>
    IReadOnlyList<SessionEvent> Append(string id, DateTimeOffset when, string by, SessionEventKind kind, IReadOnlyList<string> bodies);

    /// <summary>Marks one entry as undone; entries after it stay as they are.</summary>
    /// <returns>False when there is no such entry or it was undone already.</returns>
    bool Undo(string id, long number);

    /// <summary>Makes an undone entry count again, in its old place.</summary>
    /// <returns>False when there is no such entry or it was not undone.</returns>
    bool Redo(string id, long number);
}
