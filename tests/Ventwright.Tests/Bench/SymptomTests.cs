using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Bench;

/// <summary>Symptoms against the model and against the method: a weak reading moves belief less than a reading. No outside source.</summary>
public sealed class SymptomTests : StoreFolder
{
    private static readonly Simulator Unit = ShippedSheets.Manual;

    [Fact]
    public void A_listed_symptom_is_what_a_unit_with_that_fault_shows_and_a_sound_one_does_not()
    {
        Setting setting = ShippedSheets.Set(Unit, "mode=cold, fan=2");
        IReadOnlyList<NoticedSymptom> symptoms = SymptomList.In(Unit, setting);
        Settled sound = Unit.Settle(setting, []);
        foreach (NoticedSymptom symptom in symptoms)
        {
            Settled bad = Unit.Settle(setting, [symptom.Faults[^1]]);
            foreach (Observable what in symptom.Checks)
            {
                Assert.Equal(symptom.Got, Readings.Read(Unit, setting, [symptom.Faults[^1]], bad, what).Word);
                Assert.Equal(symptom.Sound, Readings.Read(Unit, setting, [], sound, what).Word);
            }
        }

        NoticedSymptom still = Assert.Single(symptoms, s => s is { Got: "still" } && s.Checks.Contains(new(ObservableKind.Motion, "M1")));
        Assert.Contains(still.Faults, f => f.Id == "F1:blown");
        Assert.DoesNotContain(still.Faults, f => f.Id == "F2:blown");
        Assert.All(symptoms, s => Assert.InRange(s.Share, 1e-6, 1));
    }

    [Fact]
    public void A_symptom_speaks_for_the_same_faults_as_a_reading_but_more_weakly()
    {
        Setting setting = ShippedSheets.Set(Unit, "mode=cold");
        var what = new Observable(ObservableKind.Position, "FL1");
        int fault = Array.FindIndex(Unit.Model.Faults, f => f.Id == "A1:torn@wide");
        Assert.True(fault >= 0);
        double none = Bench((_, _) => { }), told = Bench((b, o) => b.TakeSymptom("s", setting, what, o)), read = Bench((b, o) => b.Take("r", setting, what, o));
        Assert.True(none < told && told < read, $"{none} {told} {read}");

        double Bench(Action<BenchDiagnosis, Outcome> enter)
        {
            var bench = new BenchDiagnosis(Unit);
            enter(bench, Outcome.Word(0));
            return bench.Explain().Present[fault];
        }
    }

    [Fact]
    public void A_symptom_costs_no_time_and_its_check_can_still_be_made()
    {
        var bench = new BenchDiagnosis(Unit);
        bench.TakeSymptom("s", ShippedSheets.Set(Unit, "mode=cold"), new(ObservableKind.Motion, "M1"), Outcome.Word(0));
        Assert.Equal(0, bench.MinutesSpent);
        Assert.Throws<ArgumentException>(() => bench.TakeSymptom("t", Setting.Default(Unit.Model), new(ObservableKind.Volts, "feed.ctl"), Outcome.Number(3)));
    }

    [Theory]
    [InlineData("a.yaml", "- { set: { mode: cold, fan: 2 }, at: airflow(centre), got: none, as: symptom }\n- { at: volts(feed.ctl), got: 13 V }\n")]
    [InlineData("a.csv", "set,at,got,as\nmode=cold fan=2,airflow(centre),none,symptom\n,volts(feed.ctl),13 V,\n")]
    public void Files_say_which_entries_are_symptoms(string name, string text)
    {
        string path = Path.Combine(Path.GetDirectoryName(DatabasePath)!, name);
        File.WriteAllText(path, text);
        var problems = new ProblemList();
        IReadOnlyList<WrittenReading> readings = ReadingsFile.Load(path, problems);
        Assert.False(problems.HasErrors, string.Join('\n', problems.Sorted));
        Assert.Equal([true, false], readings.Select(r => r.IsSymptom));
        Assert.Equal([("mode", "cold"), ("fan", "2")], readings[0].Set);
        File.WriteAllText(path, text.Replace("symptom", "guess", StringComparison.Ordinal));
        ReadingsFile.Load(path, problems);
        Assert.True(problems.HasErrors);
    }

    [Theory]
    [InlineData("mode=screen warmth=0.4", "mode:screen|warmth:0.4")]
    [InlineData("stand-in RT1=12.1 kohm wiggle X5=on mode=auto", "stand-in RT1:12.1 kohm|wiggle X5:on|mode:auto")]
    [InlineData("", "")]
    public void A_setting_on_one_line_keeps_verbs_and_units_together(string text, string words) =>
        Assert.Equal(words, string.Join('|', SettingText.Words(text).Select(w => $"{w.Name}:{w.Value}")));

    [Fact]
    public void A_session_keeps_a_symptom_and_weighs_it()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        string path = Path.Combine(ShippedSheets.Root(), "sheets", "single-blower-manual.yaml");
        BenchSession record = store.Create("unit", path, File.ReadAllText(path), DateTimeOffset.UnixEpoch);
        OpenSession session = OpenSession.Open(store, record.Id);
        session.Say(SessionEventKind.Symptom, "smells of oil");
        session.Tell([("mode", "cold"), ("fan", "2")], "motion(M1)", "still");
        Assert.Single(session.Evidence);
        Assert.Throws<RefusedException>(() => session.Tell([], "volts(feed.ctl)", "0 V"));
        Assert.Equal("", session.Stands.Key);
        Assert.Equal(1, new SessionDesk(store).Standing(record.Id));
        int fuse = Array.FindIndex(session.Unit.Model.Faults, f => f.Id == "F1:blown");
        double told = session.Replay().Explain().Present[fuse];
        Assert.True(session.Undo(2));
        Assert.Empty(session.Evidence);
        Assert.True(told > 1.5 * session.Replay().Explain().Present[fuse]);
    }
}
