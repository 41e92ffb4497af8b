using System.Collections.Concurrent;

namespace Ventwright.Workshop;

/// <summary>All sessions of a store, each opened once and shared by everyone who works on it. Thread-safe.</summary>
public sealed class SessionDesk(ISessionStore store)
{
    private readonly ConcurrentDictionary<string, Lazy<OpenSession>> _open = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Raised after a session was started. On any thread.</summary>
    public event Action? Changed;

    /// <summary>All sessions, the latest first.</summary>
    public IReadOnlyList<BenchSession> List() => store.List();

    /// <summary>Number of entries of a session that stand and bear on the diagnosis.</summary>
    public int Standing(string id) => store.Events(id).Count(WrittenEntries.IsEvidence);

    /// <summary>The session of that id.</summary>
    /// <exception cref="RefusedException">There is no such session, or its sheet no longer compiles.</exception>
    public OpenSession Open(string id)
    {
        string key = id.Trim();
        try
        {
            return _open.GetOrAdd(key, k => new(() => OpenSession.Open(store, k))).Value;
        }
        catch (RefusedException)
        {
            _open.TryRemove(key, out _);
            throw;
        }
    }

    /// <summary>Looks in all open sessions whether another program added entries to the store.</summary>
    public void Refresh()
    {
        foreach (Lazy<OpenSession> session in _open.Values.Where(s => s.IsValueCreated)) session.Value.Refresh();
    }

    /// <summary>Starts a session on a sheet.</summary>
    /// <param name="title">What the person calls it; the unit's own title when empty.</param>
    /// <param name="path">Where the sheet was read from, or the name of the uploaded file.</param>
    /// <param name="text">The sheet.</param>
    /// <exception cref="RefusedException">The sheet does not compile.</exception>
    public BenchSession Start(string? title, string path, string text) => Start(title, path, text, null);

    /// <summary>Starts a session on a version of a sheet of the workshop; it stays tied to that version until it is moved.</summary>
    /// <exception cref="RefusedException">The sheet does not compile.</exception>
    public BenchSession Start(string? title, SheetVersion version) => Start(title, SheetVersions.PathOf(version.Sheet), version.Text, new(version.Sheet, version.Number, null));

    private BenchSession Start(string? title, string path, string text, SheetBody? tie)
    {
        UnitOnSheet unit = UnitOnSheet.Of(path, text);
        string name = string.IsNullOrWhiteSpace(title) ? unit.Model.Title : title.Trim();
        BenchSession session = store.Create(name.Length > 120 ? name[..120] : name, path, text, TimeProvider.System.GetLocalNow());
        if (tie is not null) OpenSession.Open(store, session.Id).TieTo(tie, "bench");
        Changed?.Invoke();
        return session;
    }
}
