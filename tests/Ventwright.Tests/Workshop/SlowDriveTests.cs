using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Tests.Workshop;

/// <summary>The slow drive of a session against its own contract: it stands where the record has it, whoever answered and whatever was taken back. No outside source.</summary>
public sealed class SlowDriveTests : StoreFolder
{
    private static readonly string[] Cold = ["0.02 V", "0.02 V", "11.9 V", "11.9 V", "clicks"];

    [Fact]
    public async Task A_drive_stands_after_the_end_of_the_program_where_it_stood()
    {
        string id;
        int turn;
        double cabin;
        using (SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath))
        {
            OpenSession session = Begin(store);
            id = session.Record.Id;
            await AnswerAsync(session, 2);
            SlowStanding before = await StandsAsync(session);
            (turn, cabin) = (before.Turn!.Number, before.Turn.Car.Air);
        }

        using SqliteSessionStore again = SqliteSessionStore.Open(DatabasePath);
        SlowStanding standing = await StandsAsync(OpenSession.Open(again, id));
        Assert.Equal((3, 3), (turn, standing.Turn!.Number));
        Assert.Equal(cabin, standing.Turn.Car.Air, 1e-9);
        Assert.Equal([1, 2], standing.Track.Answers.Select(a => a.Turn.Number));
    }

    [Fact]
    public async Task Answers_are_readings_of_the_session_and_are_seen_through_another_program()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath), other = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Begin(store), second = OpenSession.Open(other, session.Record.Id);
        await AnswerAsync(session, 1);
        second.Refresh();
        Assert.Equal(2, (await StandsAsync(second)).Turn!.Number);
        ReadingBody[] readings = [.. session.Evidence.Select(WrittenEntries.Body<ReadingBody>)];
        Assert.Equal(Cold, readings.Select(r => r.Got));
        Assert.All(readings, r => Assert.Contains("stand-in RT1", r.Set.Keys));

        // Whoever is later is told, and nothing is kept of it.
        second.SlowDrive!.Answer(2, Cold, "second");
        session.Refresh();
        Assert.Throws<RefusedException>(() => session.SlowDrive!.Answer(2, Cold, "first"));
        Assert.Equal(2 * Cold.Length, session.Evidence.Count);
    }

    [Fact]
    public async Task A_turn_can_be_taken_back_and_answered_otherwise()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Begin(store);
        Assert.Throws<RefusedException>(() => session.SlowDrive!.TakeBack(1));
        await AnswerAsync(session, 2);
        Assert.Throws<RefusedException>(() => session.SlowDrive!.TakeBack(1));
        double cabin = (await StandsAsync(session)).Turn!.Car.Air;
        session.SlowDrive!.TakeBack(2);
        SlowStanding standing = await StandsAsync(session);
        Assert.Equal(2, standing.Turn!.Number);
        Assert.Equal(Cold.Length, session.Evidence.Count);
        string[] hot = ["4.4 V", "4.4 V", "3 V", "3 V", "silent"];
        session.SlowDrive!.Answer(2, hot, null);
        Assert.NotEqual(cabin, (await StandsAsync(session)).Turn!.Car.Air, 0.01);
    }

    [Fact]
    public async Task A_reading_that_is_taken_back_opens_its_turn_and_what_came_after_it_waits_until_it_counts_again()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Begin(store);
        await AnswerAsync(session, 2);
        SessionEvent first = session.Evidence[0];
        session.Undo(first.Number);
        Assert.Equal(1, (await StandsAsync(session)).Turn!.Number);
        Assert.Equal(Cold.Length - 1, session.SlowDrive!.Begun.Count);
        session.Redo(first.Number);
        Assert.Equal(3, (await StandsAsync(session)).Turn!.Number);

        // Answered anew, the second turn is of another way there: it has to be answered again as well.
        session.Undo(first.Number);
        await StandsAsync(session);
        session.SlowDrive!.Answer(1, ["0.03 V", .. Cold[1..]], null);
        SlowStanding standing = await StandsAsync(session);
        Assert.Equal(2, standing.Turn!.Number);
        Assert.Empty(session.SlowDrive!.Begun);
        Assert.Single(session.Entries, e => e.Undone);
    }

    [Fact]
    public async Task What_cannot_be_read_is_refused_and_nothing_is_kept()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Begin(store);
        await StandsAsync(session);
        foreach (string bad in (string[])["-5 ohm", "NaN V", "", "<script>alert(1)</script>"])
            Assert.Throws<RefusedException>(() => session.SlowDrive!.Answer(1, [.. Cold[..3], bad, "clicks"], null));
        Assert.Empty(session.Evidence);
        Assert.Throws<RefusedException>(() => session.BeginSlowDrive(new("nowhere")));
        Assert.Throws<RefusedException>(() => session.BeginSlowDrive(new("own", "scenario: 1\nname: [")));
        Assert.Throws<RefusedException>(() => session.BeginSlowDrive(new("pull-down"), [("mode", "nowhere")]));
        Assert.Single(session.Entries);
    }

    [Fact]
    public async Task An_own_scenario_stands_with_the_session_and_another_drive_takes_the_first_ones_place()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Begin(store);
        await AnswerAsync(session, 1);
        const string own = "scenario: 1\nname: Cold start of a test\nlength: 40 s\nstart: { cabin: -5 degC }\nmoments: [{ at: 0 s, outside: -5 degC, panel: { mode: [auto] } }]\n";
        SessionEvent begun = session.BeginSlowDrive(new("own", own));
        SlowStanding standing = await StandsAsync(session);
        Assert.Equal(("Cold start of a test", 1), (standing.Name, standing.Turn!.Number));
        Assert.Equal(268.15, standing.Turn.Car.Air, 0.5);
        Assert.Equal("Slow car begun: Cold start of a test", DriveWords.Begun(WrittenEntries.Body<SlowDriveBody>(begun)));
        session.Undo(begun.Number);
        Assert.Equal(2, (await StandsAsync(session)).Turn!.Number);
    }

    private static OpenSession Begin(SqliteSessionStore store)
    {
        string path = SheetShelf.Find("twin-blower-automatic.yaml")!;
        OpenSession session = OpenSession.Open(store, new SessionDesk(store).Start("Slow car", path, File.ReadAllText(path)).Id);
        session.BeginSlowDrive(new("pull-down"));
        return session;
    }

    private static async Task AnswerAsync(OpenSession session, int turns)
    {
        for (int turn = 1; turn <= turns; turn++)
        {
            await StandsAsync(session);
            session.SlowDrive!.Answer(turn, Cold, null);
        }

        await StandsAsync(session);
    }

    /// <summary>Where the drive stands once the car has caught up.</summary>
    private static async Task<SlowStanding> StandsAsync(OpenSession session)
    {
        SlowDriveInHand drive = session.SlowDrive!;
        await drive.Moving;
        return drive.Standing!;
    }
}
