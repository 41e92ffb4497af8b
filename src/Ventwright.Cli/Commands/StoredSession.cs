using System.Text.Json;
using Ventwright.Bench;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>A session of the store with its unit: checks entries before they are kept, and replays them into a diagnosis.</summary>
internal sealed class StoredSession
{
    private const double OddsAfterRepair = 0.3, OddsAfterSwap = 0.5;
    private readonly ISessionStore _store;
    private readonly BenchSession _session;

    private StoredSession(ISessionStore store, BenchSession session, UnitModel model) => (_store, _session, Model) = (store, session, model);

    /// <summary>The unit, from the sheet's text as it was when the session began.</summary>
    public UnitModel Model { get; }

    /// <summary>Title of the session.</summary>
    public string Title => _session.Title;

    /// <summary>Opens a session.</summary>
    /// <exception cref="BadInputException">There is no such session, or its sheet no longer compiles.</exception>
    public static StoredSession Open(ISessionStore store, string id)
    {
        BenchSession session = store.Find(id) ?? throw new BadInputException($"there is no session '{id}'; `ventwright bench list` tells which there are");
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read(session.SheetPath, session.SheetText, problems);
        return model is null ? throw new BadInputException("the session's sheet cannot be used:\n" + string.Join('\n', problems.Sorted.Select(p => p.ToString()))) : new(store, session, model);
    }

    /// <summary>Checks and keeps a reading.</summary>
    public SessionEvent Read(IReadOnlyList<(string Name, string Value)> set, string at, string got)
    {
        Observable what = CheckNames.Parse(Model, at);
        _ = SettingOptions.Make(Model, set);
        if (!Bench.ReadingText.TryRead(Model, what, got, out _, out string? problem)) throw new BadInputException(problem ?? $"'{got}' is no reading");
        return Keep(SessionEventKind.Reading, new ReadingBody(set.ToDictionary(s => s.Name, s => s.Value), at, got));
    }

    /// <summary>Keeps that a part was repaired or swapped.</summary>
    public SessionEvent Renewed(string part, SessionEventKind kind)
    {
        if (CheckNames.Unknown("part", part, [.. Model.Parts.Select(p => p.Id)]) is { } problem) throw new BadInputException(problem);
        return Keep(kind, new PartBody(part));
    }

    /// <summary>Takes the last standing entry back.</summary>
    public bool UndoLast() => _store.Events(_session.Id).LastOrDefault(e => !e.Undone) is { } last && _store.Undo(_session.Id, last.Number);

    /// <summary>A diagnosis with all entries that stand.</summary>
    public BenchDiagnosis Replay()
    {
        var bench = new BenchDiagnosis(new Simulator(Model));
        foreach (SessionEvent entry in _store.Events(_session.Id).Where(e => !e.Undone)) Apply(bench, entry);
        return bench;
    }

    /// <summary>Gives an entry to a running diagnosis.</summary>
    public void Apply(BenchDiagnosis bench, SessionEvent entry)
    {
        string id = entry.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        if (entry.Kind == SessionEventKind.Reading && JsonSerializer.Deserialize<ReadingBody>(entry.Body) is { } reading)
            FindCommand.Take(bench, Model, id, reading.Set.Select(s => (s.Key, s.Value)), reading.At, reading.Got);
        else if (entry.Kind is SessionEventKind.Repaired or SessionEventKind.Swapped && JsonSerializer.Deserialize<PartBody>(entry.Body) is { } renewed)
            bench.Renew(id, renewed.Part, entry.Kind == SessionEventKind.Repaired ? OddsAfterRepair : OddsAfterSwap);
    }

    private SessionEvent Keep<T>(SessionEventKind kind, T body) =>
        _store.Append(_session.Id, TimeProvider.System.GetUtcNow(), Environment.UserName, kind, JsonSerializer.Serialize(body));
}
