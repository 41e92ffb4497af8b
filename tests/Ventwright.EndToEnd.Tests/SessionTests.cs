using System.Text.Json;
using Ventwright.Store;

namespace Ventwright.EndToEnd.Tests;

public sealed class SessionTests : IDisposable
{
    private const int Kills = 50, WhileReading = 40;
    private readonly string _folder = Directory.CreateTempSubdirectory("ventwright-").FullName;

    private string Store => Path.Combine(_folder, "store.db");

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void A_session_takes_readings_and_repairs_and_gives_them_back()
    {
        string id = New();
        Assert.Equal(1, Number(Bench("read", id, "volts(feed.ctl)", "13.1 V", "--set", "mode=vent", "--json")));
        Assert.Equal(2, Number(Bench("read", id, "motion(M1)", "still", "--set", "mode=vent", "--set", "fan=1", "--json")));
        Assert.Equal(3, Number(Bench("repaired", id, "RP1", "--json")));
        Assert.True(Bench("undo", id, "1", "--json").Json().GetProperty("undone").GetBoolean());
        Assert.Equal(1, Bench("undo", id, "1").Code);

        string export = Bench("export", id).Out;
        Assert.DoesNotContain("feed.ctl", export, StringComparison.Ordinal);
        string file = Path.Combine(_folder, "readings.yaml");
        File.WriteAllText(file, export);
        Answer found = Running.Run("find", Running.Manual, file, "--json");
        Assert.True(found.Code == 0, found.Error);
        Assert.NotEqual(0, found.Json().GetProperty("suspects").GetArrayLength());
        Assert.Equal(3, Bench("list", "--json").Json().GetProperty("sessions")[0].GetProperty("entries").GetInt32());
    }

    /// <summary>Checks are passed over until a look round is suggested; its looks are asked for one by one, one is skipped, and a wrong word is refused without losing the place.</summary>
    [Fact]
    public void A_look_round_is_asked_for_look_by_look_at_the_terminal()
    {
        string id = New();
        JsonElement[] next = [.. Bench("status", id, "--json").Json().GetProperty("next").EnumerateArray()];
        int at = Array.FindIndex(next, n => n.GetProperty("also").GetArrayLength() > 1);
        Assert.True(at >= 0, "no look round of three is suggested");
        string[] looks = [next[at].GetProperty("at").GetString()!, .. next[at].GetProperty("also").EnumerateArray().Select(l => l.GetString()!)];
        string[] set = [.. next[at].GetProperty("set").EnumerateObject().SelectMany(p => (string[])["--set", $"{p.Name}={p.Value.GetString()}"])];
        JsonElement[] sound = [.. Running.Run(["expect", Running.Manual, .. set, "--json"]).Json().GetProperty("checks").EnumerateArray()];
        string Shows(string look) => sound.First(c => c.GetProperty("at").GetString() == look).GetProperty("word").GetString()!;

        string[] answers = ["purple", Shows(looks[0]), "skip", "status", Shows(looks[2]), "quit"];
        string said = Running.RunTyping(string.Join('\n', [.. Enumerable.Repeat("skip", at), .. answers, ""]), "bench", "resume", id, "--store", Store).Out;
        int round = said.IndexOf($"A look round: {looks.Length} things", StringComparison.Ordinal);
        Assert.True(round > 0, said);
        string[] asked = [.. said[round..].Split('\n').Where(l => l.StartsWith("Look at ", StringComparison.Ordinal)).Select(l => l["Look at ".Length..l.IndexOf(',', StringComparison.Ordinal)])];
        Assert.Equal([looks[0], looks[0], looks[1], looks[2], looks[2]], asked[..5]);
        Assert.Contains("purple", said, StringComparison.Ordinal);
        Assert.Contains($"kept as number 2: {looks[2]} {Shows(looks[2])}", said, StringComparison.Ordinal);
        string export = Bench("export", id).Out;
        Assert.DoesNotContain(looks[1], export, StringComparison.Ordinal);
        Assert.Equal(2, export.Split("got:").Length - 1);
    }

    [Fact]
    public void Status_answers_in_the_shape_of_find()
    {
        string id = New();
        Assert.Equal(0, Bench("read", id, "volts(feed.ctl)", "0 V").Code);
        AssertFindings(Bench("status", id, "--json"), "F3:");
    }

    [Theory]
    [InlineData("volts(feed.ctl)", "NaN V")]
    [InlineData("volts(feed.ctl)", "NaN")]
    [InlineData("volts(feed.ctl)", "Infinity V")]
    [InlineData("volts(feed.ctl)", "12 ohm")]
    [InlineData("volts(feed.ctl)", "")]
    [InlineData("ohms(feed.ctl)", "-5 ohm")]
    [InlineData("ohms(feed.ctl)", "-5 kohm")]
    [InlineData("volts(feed.ctrl)", "12 V")]
    [InlineData("weight(M1)", "12 V")]
    [InlineData("motion(M1)", "sideways")]
    [InlineData("position(M1)", "open")]
    public void A_bad_reading_is_refused_and_the_store_stays_as_it_was(string at, string got)
    {
        string id = New();
        Assert.Equal(0, Bench("read", id, "volts(feed.ctl)", "13.1 V").Code);
        Answer answer = Bench("read", id, at, got);
        Assert.Equal(2, answer.Code);
        Assert.DoesNotContain("   at ", answer.Error, StringComparison.Ordinal);
        Assert.NotEmpty(answer.Error);
        Assert.Single(Kept(id));
    }

    [Fact]
    public void A_bad_setting_part_session_or_number_is_refused()
    {
        string id = New();
        Assert.Equal(2, Bench("read", id, "volts(feed.ctl)", "13.1 V", "--set", "mode=sideways").Code);
        Assert.Equal(2, Bench("repaired", id, "RP9").Code);
        Assert.Equal(2, Bench("read", "nope", "volts(feed.ctl)", "13.1 V").Code);
        Assert.Equal(2, Bench("undo", id, "first").Code);
        Assert.Equal(1, Bench("undo", id, "7").Code);
        Assert.Empty(Kept(id));
    }

    [Theory]
    [InlineData("readings.yaml", "- { set: { mode: vent }, at: volts(feed.ctl), got: 0 V }\n- { at: \"sound(CL1)\", got: silent }\n")]
    [InlineData("readings.csv", "set,at,got\nmode=vent,volts(feed.ctl),0 V\n,sound(CL1),silent\n")]
    public void Find_reads_both_kinds_of_files(string name, string content)
    {
        string file = Path.Combine(_folder, name);
        File.WriteAllText(file, content);
        AssertFindings(Running.Run("find", Running.Manual, file, "--json"), "F3:");
    }

    [Theory]
    [InlineData("readings.yaml", "- { at: volts(feed.ctl), got: 13 V }\n- { at: volts(feed.ctrl), got: 0 V }\n", ":2:")]
    [InlineData("readings.csv", "set,at,got\n,volts(feed.ctl),13 V\n,volts(feed.ctl),0 ohm\n", ":3:")]
    [InlineData("readings.yaml", "- { at: volts(feed.ctl), got: 13 V }\n- { at: volts(feed.ctl), got: 13 V, accuracy: 2 ohm }\n", ":2:47: ")]
    [InlineData("readings.yaml", "- { at: volts(feed.ctl), got: 13 V, accuracy: 0 % }\n", ":1:47: ")]
    [InlineData("readings.yaml", "- { at: motion(M1), got: runs, accuracy: 1 % }\n", ":1:42: ")]
    [InlineData("readings.csv", "set,at,got,accuracy\n,volts(feed.ctl),13 V,\n,volts(feed.ctl),13 V,good\n", ":3:23: ")]
    [InlineData("readings.csv", "what,value\nvolts(feed.ctl),13 V\n", ":1:")]
    public void Find_says_which_line_of_the_readings_is_wrong(string name, string content, string line)
    {
        string file = Path.Combine(_folder, name);
        File.WriteAllText(file, content);
        Answer answer = Running.Run("find", Running.Manual, file);
        Assert.Equal(2, answer.Code);
        Assert.Contains(name + line, answer.Error, StringComparison.Ordinal);
    }

    /// <summary>What is acknowledged is kept, whenever the program is killed (SIGKILL): two programs at a time, each killed at a moment of its own,
    /// one while it takes a single reading, the other between readings typed without a pause.</summary>
    [Fact]
    public async Task No_acknowledged_reading_is_lost_when_the_program_is_killed()
    {
        var random = new Random(20);
        CancellationToken cancel = TestContext.Current.CancellationToken;
        List<long> acknowledged = [];
        int cut = 0, pairs = 0, kept = 0;
        TimeSpan whole = TimeSpan.FromSeconds(1);
        for (string id = New(); cut < Kills; pairs++)
        {
            // A session of its own for every few, so that taking it up again stays quick.
            if (pairs % 8 == 7)
            {
                kept += AssertKept(id, acknowledged);
                (id, acknowledged) = (New(), []);
            }

            Task<List<long>> resumed = Killed.ResumedAsync(id, Store, answers: random.Next(1, 5), TimeSpan.FromMilliseconds(random.Next(60)), cancel);
            if (pairs < WhileReading)
            {
                (List<long> numbers, TimeSpan? ended) = await Killed.ReadAsync(id, Store, whole * (0.3 + (0.8 * random.NextDouble())), cancel);
                acknowledged.AddRange(numbers);
                // The machine is as fast as it is: what ended by itself says when to kill the next.
                if (ended is { } time) whole = time;
                else cut++;
            }

            acknowledged.AddRange(await resumed);
            cut++;
            if (cut >= Kills) kept += AssertKept(id, acknowledged);
        }

        TestContext.Current.SendDiagnosticMessage($"{cut} kills in {pairs} pairs, {kept} readings kept");
    }

    /// <summary>The same reading weighs more with a better meter, also through the store and back out of its export.</summary>
    [Fact]
    public void The_accuracy_of_a_meter_is_kept_and_counts()
    {
        double NoFault(string accuracy)
        {
            string id = New();
            Answer read = Bench("read", id, "volts(feed.ctl)", "9 V", "--accuracy", accuracy);
            Assert.True(read.Code == 0, read.Error);
            Assert.Contains($"accuracy: \"{accuracy}\"", Bench("export", id).Out, StringComparison.Ordinal);
            return Bench("status", id, "--json").Json().GetProperty("noFault").GetDouble();
        }

        Assert.True(NoFault("10 mV") < 0.7 * NoFault("40 %"));
        Answer refused = Bench("read", New(), "volts(feed.ctl)", "9 V", "--accuracy", "rather good");
        Assert.Equal(2, refused.Code);
        Assert.Contains("rather good", refused.Error, StringComparison.Ordinal);
    }

    /// <summary>What is told as a symptom weighs on the suspects of the session, comes out of the export as one, and may be picked from the list.</summary>
    [Fact]
    public void A_symptom_from_the_list_is_told_and_weighs()
    {
        Answer list = Running.Run("symptoms", Running.Manual, "--set", "mode=vent", "--set", "fan=3", "--json");
        Assert.True(list.Code == 0, list.Error);
        JsonElement still = list.Json().GetProperty("symptoms").EnumerateArray().First(s => s.GetProperty("at").EnumerateArray().Any(a => a.GetString() == "motion(M1)") && s.GetProperty("got").GetString() == "still");
        string[] faults = [.. still.GetProperty("faults").EnumerateArray().Select(f => f.GetString()!)];
        string id = New();
        Assert.Equal(0, Bench("symptom", id, "motion(M1)", "still", "--set", "mode=vent", "--set", "fan=3").Code);
        Assert.Contains("as: symptom", Bench("export", id).Out, StringComparison.Ordinal);
        JsonElement first = Bench("status", id, "--json").Json().GetProperty("suspects").EnumerateArray().First(s => s.GetProperty("faults").GetArrayLength() > 0);
        Assert.Contains(first.GetProperty("faults")[0].GetString(), faults);
        Assert.Equal(2, Bench("symptom", id, "volts(feed.ctl)", "9 V").Code);
    }

    /// <summary>A part that lies alone on the table is tested by what can be looked at there.</summary>
    [Fact]
    public void The_plan_of_a_part_alone_on_the_table_asks_for_nothing_else()
    {
        Answer plan = Running.Run("plan", Running.Manual, "--alone", "M1", "--json");
        Assert.True(plan.Code == 0, plan.Error);
        string[] checks = [.. plan.Json().GetProperty("groups").EnumerateArray().SelectMany(g => g.GetProperty("checks").EnumerateArray()).Select(c => c.GetProperty("at").GetString()!)];
        Assert.NotEmpty(checks);
        Answer whole = Running.Run("show", Running.Manual, "M1", "--json");
        Assert.True(whole.Code == 0, whole.Error);
        Assert.All(checks, c => Assert.True(c.Contains("M1", StringComparison.Ordinal) || whole.Out.Contains(c[(c.IndexOf('(', StringComparison.Ordinal) + 1)..c.IndexOfAny([',', ')'])], StringComparison.Ordinal), c));
    }

    private int AssertKept(string id, List<long> acknowledged)
    {
        List<long> stored = Kept(id);
        Assert.NotEmpty(acknowledged);
        Assert.Equal(acknowledged.Count, acknowledged.Distinct().Count());
        Assert.Empty(acknowledged.Except(stored));
        Assert.Equal(Enumerable.Range(1, stored.Count).Select(n => (long)n), stored.Order());
        return stored.Count;
    }

    private string New()
    {
        Answer answer = Running.Run("bench", "new", Running.Manual, "--store", Store, "--json");
        Assert.True(answer.Code == 0, answer.Error);
        return answer.Json().GetProperty("id").GetString()!;
    }

    private Answer Bench(params string[] args) => Running.Run(["bench", .. args, "--store", Store]);

    private List<long> Kept(string id)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(Store);
        return [.. store.Events(id).Select(e => e.Number)];
    }

    private static long Number(Answer answer)
    {
        Assert.True(answer.Code == 0, answer.Error);
        return answer.Json().GetProperty("number").GetInt64();
    }

    private static void AssertFindings(Answer answer, string suspect)
    {
        Assert.True(answer.Code == 0, answer.Error);
        JsonElement json = answer.Json();
        string[] keys = ["v", "suspects", "proven", "unproven", "next", "coverage", "offSheet", "noFault", "leftOutAtMost", "notes", "swaps", "size", "sheetLine", "byThemselves"];
        Assert.Equal(keys, json.EnumerateObject().Select(p => p.Name));
        Assert.Equal(1, json.GetProperty("v").GetInt32());
        double[] beliefs = [.. json.GetProperty("suspects").EnumerateArray().Select(s => s.GetProperty("probability").GetDouble())];
        Assert.Equal(beliefs.OrderDescending(), beliefs);
        Assert.All(beliefs, p => Assert.InRange(p, 0, 1));
        var lines = json.GetProperty("suspects").EnumerateArray().Take(10);
        var sets = lines.SelectMany(l => l.GetProperty("inseparable").EnumerateArray().Prepend(l.GetProperty("faults")));
        string[] names = [.. sets.SelectMany(s => s.EnumerateArray()).Select(f => f.GetString()!)];
        Assert.Contains(names, n => n.StartsWith(suspect, StringComparison.Ordinal));
        foreach (JsonElement next in json.GetProperty("next").EnumerateArray())
            Assert.Equal(["set", "at", "minutes", "gain", "purpose", "why", "place", "caution", "also"], next.EnumerateObject().Select(p => p.Name));
    }
}
