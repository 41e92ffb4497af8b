using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>bench ...</c>: bench sessions that are kept in the store. A reading is on disk before it is acknowledged.</summary>
internal static class BenchCommand
{
    private static readonly Argument<string> Id = new("SESSION") { Description = "Id of the session, such as b7k2." };
    private static readonly Option<string?> StorePath = new("--store") { Description = "The store's file; the usual place unless told." };
    private static readonly System.Text.Json.JsonSerializerOptions Plain = new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly Option<bool> AsJson = new("--json") { Description = "Answer in JSON for other programs." };

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var bench = new Command("bench", "Bench sessions kept in the store: new, list, resume, read, symptom, repaired, swapped, undo, status, export, report.");
        var presence = new PresenceOptions();
        var sheet = new Argument<string>("SHEET") { Description = "The sheet of the unit." };
        var title = new Option<string?>("--title") { Description = "Title of the session." };
        var set = new Option<string[]>("--set") { Description = "How the unit stands: mode=screen.", Arity = ArgumentArity.OneOrMore };
        var at = new Argument<string>("CHECK") { Description = "The check: 'volts(mod.7)'." };
        var got = new Argument<string>("GOT") { Description = "What was read: '2.31 V', weak." };
        var accuracy = new Option<string?>("--accuracy") { Description = "Accuracy of the meter: '0.5 % + 2 mV'; that of an ordinary one unless told." };
        var part = new Argument<string>("PART") { Description = "The part." };
        var number = new Argument<string>("NUMBER") { Description = "Number of the entry." };
        bench.Subcommands.Add(Sub("new", "Starts a session and prints its id.", [sheet], [title, .. presence.All], (p, store) => New(store, p.GetRequiredValue(sheet), p.GetValue(title), model => presence.Words(model, p), p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("list", "Lists the sessions.", [], [], (p, store) => List(store, p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("read", "Takes a reading.", [Id, at, got], [set, accuracy], (p, store) => Read(store, p.GetRequiredValue(Id), p.GetValue(set) ?? [], p.GetRequiredValue(at), p.GetRequiredValue(got), p.GetValue(AsJson), p.GetValue(accuracy))));
        bench.Subcommands.Add(Sub("symptom", "Keeps what somebody noticed before the bench: a weak reading in words.", [Id, at, got], [set], (p, store) => Read(store, p.GetRequiredValue(Id), p.GetValue(set) ?? [], p.GetRequiredValue(at), p.GetRequiredValue(got), p.GetValue(AsJson), isSymptom: true)));
        bench.Subcommands.Add(Sub("repaired", "Notes that a part was repaired.", [Id, part], [], (p, store) => Renewed(store, p.GetRequiredValue(Id), p.GetRequiredValue(part), SessionEventKind.Repaired, p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("swapped", "Notes that a part was replaced.", [Id, part], [], (p, store) => Renewed(store, p.GetRequiredValue(Id), p.GetRequiredValue(part), SessionEventKind.Swapped, p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("undo", "Takes an entry back; later ones stay.", [Id, number], [], (p, store) => Undo(store, p.GetRequiredValue(Id), p.GetRequiredValue(number), p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("status", "Suspects, proof and next checks.", [Id], [], (p, store) => Status(store, p.GetRequiredValue(Id), p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("export", "Writes the readings as YAML.", [Id], [], (p, store) => Export(store, p.GetRequiredValue(Id))));
        bench.Subcommands.Add(Sub("report", "Writes the report of a session as PDF.", [Id], ReportCommand.Options, (p, store) => ReportCommand.Run(store, p.GetRequiredValue(Id), p, p.GetValue(AsJson))));
        bench.Subcommands.Add(Sub("resume", "Goes on with a session, one reading at a time, from the terminal or standard input.", [Id], [], (p, store) => Interactive.Run(store, p.GetRequiredValue(Id))));
        return bench;
    }

    /// <summary>Opens a session of a store.</summary>
    /// <exception cref="RefusedException">There is no such session, or its sheet no longer compiles.</exception>
    public static OpenSession Open(SqliteSessionStore store, string id)
    {
        if (store.Find(id) is null) throw new BadInputException($"there is no session '{id}'; `ventwright bench list` tells which there are");
        return OpenSession.Open(store, id);
    }

    private static Command Sub(string name, string text, Argument[] arguments, Option[] options, Func<ParseResult, SqliteSessionStore, int> run)
    {
        var command = new Command(name, text);
        foreach (Argument argument in arguments) command.Arguments.Add(argument);
        foreach (Option option in (Option[])[.. options, StorePath, AsJson]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            try
            {
                using SqliteSessionStore store = SqliteSessionStore.Open(parsed.GetValue(StorePath) ?? SqliteSessionStore.DefaultPath);
                return run(parsed, store);
            }
            catch (StoreException e)
            {
                throw new BadInputException(e.Message);
            }
        });
        return command;
    }

    private static int New(SqliteSessionStore store, string path, string? title, Func<UnitModel, IReadOnlyList<(string Name, string Value)>> presence, bool json)
    {
        UnitModel model = SheetInput.Load(path);
        IReadOnlyList<(string Name, string Value)> onBench = presence(model);
        BenchSession session = store.Create(title ?? model.Title, Path.GetFullPath(path), File.ReadAllText(path), TimeProvider.System.GetUtcNow());
        OpenSession opened = Open(store, session.Id);
        foreach ((string name, string value) in onBench) opened.Place(name, value);
        if (json) Json.Write(new { V = 1, session.Id, session.Title });
        else Screen.Line($"{session.Id}  {session.Title}");
        return ExitCodes.Fine;
    }

    private static int List(SqliteSessionStore store, bool json)
    {
        var sessions = store.List();
        if (json) Json.Write(new { V = 1, Sessions = sessions.Select(s => new { s.Id, s.Title, s.Started, Entries = store.Events(s.Id).Count }) });
        else if (sessions.Count == 0) Screen.Line("There is no session yet. Start one with: ventwright bench new SHEET");
        else Screen.Table(["id", "title", "started", "entries"], sessions.Select(s => (string[])[s.Id, s.Title, s.Started.ToString("u", CultureInfo.InvariantCulture), store.Events(s.Id).Count.ToString(CultureInfo.InvariantCulture)]));
        return ExitCodes.Fine;
    }

    private static int Read(SqliteSessionStore store, string id, string[] set, string at, string got, bool json, string? accuracy = null, bool isSymptom = false)
    {
        OpenSession session = Open(store, id);
        (string, string)[] own = [.. set.Select(t => SettingOptions.Pair("--set", t))];
        var words = isSymptom ? own : [.. own, .. session.OnBench];
        SessionEvent entry = isSymptom ? session.Tell(words, at, got) : session.Read(words, at, got, accuracy: accuracy);
        if (json) Json.Write(new { V = 1, entry.Number });
        else Screen.Line($"kept as number {entry.Number}: {at} {got}");
        return ExitCodes.Fine;
    }

    private static int Renewed(SqliteSessionStore store, string id, string part, SessionEventKind kind, bool json)
    {
        SessionEvent entry = Open(store, id).Renewed(part, kind);
        if (json) Json.Write(new { V = 1, entry.Number });
        else Screen.Line($"kept as number {entry.Number}: {part} {(kind == SessionEventKind.Repaired ? "repaired" : "swapped")}");
        return ExitCodes.Fine;
    }

    private static int Undo(SqliteSessionStore store, string id, string number, bool json)
    {
        if (!long.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out long which)) throw new BadInputException($"'{number}' is not the number of an entry");
        _ = store.Find(id) ?? throw new BadInputException($"there is no session '{id}'; `ventwright bench list` tells which there are");
        bool done = store.Undo(id, which);
        if (json) Json.Write(new { V = 1, Undone = done });
        else Screen.Line(done ? $"entry {which} is taken back" : $"there is no entry {which} that stands");
        return done ? ExitCodes.Fine : ExitCodes.No;
    }

    private static int Status(SqliteSessionStore store, string id, bool json)
    {
        OpenSession session = Open(store, id);
        BenchDiagnosis diagnosis = session.Replay();
        FindingsView.Show(session.Unit.Model, diagnosis, diagnosis.Find(), json, Quantities.UnitSystem.Metric);
        return ExitCodes.Fine;
    }

    private static int Export(SqliteSessionStore store, string id)
    {
        foreach (SessionEvent e in store.Events((store.Find(id) ?? throw new BadInputException($"there is no session '{id}'")).Id).Where(e => !e.Undone))
        {
            ReadingBody? told = WrittenEntries.Told(e);
            if ((told ?? (e.Kind == SessionEventKind.Reading ? WrittenEntries.Body<ReadingBody>(e) : null)) is not { } body) continue;
            string set = string.Join(", ", body.Set.Select(s => $"{Quoted(s.Key)}: {Quoted(s.Value)}")), meter = body.Accuracy is { } accuracy ? $"accuracy: {Quoted(accuracy)}, " : "";
            Screen.Line($"- {{ set: {{{set}}}, at: {Quoted(body.At)}, got: {Quoted(body.Got)}, {meter}{(told is null ? "" : "as: symptom, ")}by: {Quoted(e.By)}, when: \"{e.When:O}\" }}");
        }

        return ExitCodes.Fine;
    }

    /// <summary>A text between double quotes: YAML reads them as JSON writes them (YAML 1.2.2, section 7.3.1).</summary>
    private static string Quoted(string text) => System.Text.Json.JsonSerializer.Serialize(text, Plain);
}
