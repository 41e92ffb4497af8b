using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Bench.SlowDrive;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Cli.Commands;

/// <summary><c>slow-car SHEET</c>: the simulated car round a real unit, at the pace of a person with a resistance box.</summary>
internal static class SlowCarCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("slow-car", "Closes the simulated car round a real module by hand: tells resistances, asks what the unit does, moves the car on.");
        var input = new SheetInput(command, isOptional: true);
        var car = new CarOptions(command);
        var simulate = new Option<bool>("--simulate") { Description = "Lets a simulated unit answer, with the faults of --fault: to see how it goes." };
        var readings = new Option<string?>("--readings") { Description = "Writes what was seen as a readings file for find." };
        var kept = new SessionOptions(command, "Goes on with the drive of this bench session, in place of SHEET; what is seen is kept as its readings.");
        var begin = new Option<bool>("--begin") { Description = "Begins another drive in place of the one that the session has in hand." };
        foreach (Option option in (Option[])[simulate, readings, begin]) command.Options.Add(option);
        var hands = new SettingOptions(command);
        command.SetAction(parsed =>
        {
            using SqliteSessionStore? store = kept.Open(parsed);
            if (store is null == !input.IsTold(parsed)) throw new BadInputException("name the sheet, or with --session a bench session, which has its own");
            if (store is null && parsed.GetValue(begin)) throw new BadInputException("--begin is for a drive that a session has in hand; say --session too");
            if (store is not null && parsed.GetValue(simulate)) throw new BadInputException("--simulate makes its answers up, and a session keeps what was seen: leave one of them out");
            bool json = input.AsJson(parsed);
            (SlowTrack drive, Task<SlowTrack> sound) = store is null ? Free(parsed, input.Load(parsed), car, hands, parsed.GetValue(simulate), json)
                : Kept(BenchCommand.Open(store, kept.Id(parsed)!), parsed, car, hands, parsed.GetValue(begin), json);
            if (parsed.GetValue(readings) is { } path) WriteReadings(path, drive);
            SlowTrack against = drive.Answers.Count == 0 ? drive : sound.GetAwaiter().GetResult();
            SlowVerdict verdict = SlowVerdict.Of(drive, against);
            if (json) WriteJson(drive, verdict, input.Units(parsed));
            else WriteText(drive, against, verdict, input.Units(parsed));
            return verdict.Regulates && verdict.OutsideTurns == 0 ? ExitCodes.Fine : ExitCodes.No;
        });
        return command;
    }

    /// <summary>A drive that is over with the command.</summary>
    private static (SlowTrack Drive, Task<SlowTrack> Sound) Free(ParseResult parsed, UnitModel model, CarOptions car, SettingOptions hands, bool simulate, bool json)
    {
        if (model.Module is null) throw new BadInputException("this unit has no module: there is nothing that regulates by itself");
        var simulator = new Simulator(model);
        var predictor = new SheetPredictor(simulator);
        SlowCar New() => new(simulator, predictor, car.Scenario(parsed)!, car.Car(parsed), hands.Words(model, parsed));
        SlowCar drive = New();
        if (simulate) drive.Simulate(hands.Faults(model, parsed));
        else if (!new SlowCarTalk(model, drive.Looks, json).Ask(() => drive.Turn, seen => drive.Answer([.. seen.Select(s => s.Shown)]), null)) Screen.Line("Stopped before the end; what was answered is judged.");
        return (drive.Track, Task.Run(() => New().Simulate([])));
    }

    /// <summary>The drive of a session: answers are kept as they are given, and it can be gone on with at any time, on any device.</summary>
    private static (SlowTrack Drive, Task<SlowTrack> Sound) Kept(OpenSession session, ParseResult parsed, CarOptions car, SettingOptions hands, bool begin, bool json)
    {
        UnitModel model = session.Unit.Model;
        IReadOnlyList<(string Name, string Value)> words = hands.Words(model, parsed);
        if (begin || session.SlowDrive is null) session.BeginSlowDrive(car.Text(parsed), words);
        else if (car.IsTold(parsed) || words.Count > 0) throw new BadInputException("the session has a drive in hand: say --begin to begin another one in its place, or leave scenario, car and setting out to go on with it");
        SlowDriveInHand drive = session.SlowDrive!;
        SlowStanding Stands()
        {
            drive.Moving.GetAwaiter().GetResult();
            return drive.Standing!;
        }

        bool isOver = new SlowCarTalk(model, Stands().Track.Looks, json).Ask(
            () => Stands().Turn,
            seen =>
            {
                drive.Answer(Stands().Turn!.Number, [.. seen.Select(s => s.Text)], null);
                return Stands().Track.Answers[^1];
            },
            () => drive.TakeBack(Stands().Track.Answers is [.., { } last] ? last.Turn.Number : 0));
        if (!isOver) Screen.Line("Stopped before the end; what was answered is kept, and judged so far.");
        return (Stands().Track, drive.Sound);
    }

    private static string Seen(Shown shown) => shown.Word ?? (shown.Unsteady ? "unsteady" : $"{shown.Value.ToString("0.00", CultureInfo.InvariantCulture)} V");

    private static void WriteText(SlowTrack drive, SlowTrack sound, SlowVerdict verdict, UnitSystem units)
    {
        if (drive.Answers.Count == 0)
        {
            Screen.Line("Nothing was answered yet, so there is nothing to judge.");
            return;
        }

        string Degrees(double k) => QuantityText.Format(k, Dimension.Temperature, units);
        Screen.Line();
        Screen.Table(["turn", "min", "cabin", "sound unit", .. drive.Looks.Select(l => l.What.ToString())], drive.Answers.Select((a, t) => (string[])
            [a.Turn.Number.ToString(CultureInfo.InvariantCulture), (a.Turn.Seconds / 60).ToString("0.0", CultureInfo.InvariantCulture), Degrees(a.Turn.Car.Air),
                t < sound.Answers.Count ? Degrees(sound.Answers[t].Turn.Car.Air) : "", .. a.Seen.Select((s, i) => Seen(s) + (a.Outside[i] ? " !" : ""))]));
        Screen.Line($"{(verdict.Regulates ? "The module regulates" : "The module does not regulate as it should")}: the cabin ends at {Degrees(verdict.CabinK)}, with a sound unit at {Degrees(verdict.SoundCabinK)}.");
        Screen.Line(verdict.First is { } first ? $"First outside what a sound unit shows: {first}; in {verdict.OutsideTurns} of {drive.Answers.Count} turns something was." : "Nothing was outside what a sound unit shows.");
    }

    private static void WriteJson(SlowTrack drive, SlowVerdict verdict, UnitSystem units) => Json.Write(new
    {
        V = 1,
        verdict.Regulates,
        Cabin = Json.Number(QuantityText.ToUnit(verdict.CabinK, Dimension.Temperature, units)),
        SoundCabin = Json.Number(QuantityText.ToUnit(verdict.SoundCabinK, Dimension.Temperature, units)),
        Unit = QuantityText.Unit(Dimension.Temperature, units),
        verdict.First,
        verdict.OutsideTurns,
        Turns = drive.Answers.Select(a => new
        {
            a.Turn.Number,
            a.Turn.Seconds,
            Cabin = Json.Number(QuantityText.ToUnit(a.Turn.Car.Air, Dimension.Temperature, units)),
            Set = a.Turn.Setting.Words,
            Seen = drive.Looks.Select((l, i) => new { At = l.What.ToString(), Value = Json.Number(a.Seen[i].Value), a.Seen[i].Word, Outside = a.Outside[i], Expected = BandJson.Of(a.Turn.Expected[i], units) }),
        }),
    });

    private static void WriteReadings(string path, SlowTrack drive)
    {
        IEnumerable<string> rows = drive.Answers.SelectMany(a => drive.Looks.Select((l, i) =>
            $"- {{ set: {{ {string.Join(", ", a.Turn.Setting.Words.Select(w => $"\"{w.Key}\": \"{w.Value}\""))} }}, at: \"{l.What}\", got: \"{Seen(a.Seen[i])}\" }}"));
        OutputFile.Write(path, rows);
    }
}
