using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Bench.Car;
using Ventwright.Bench.SlowDrive;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>slow-car SHEET</c>: the simulated car round a real unit, at the pace of a person with a resistance box.</summary>
internal static class SlowCarCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("slow-car", "Closes the simulated car round a real module by hand: tells resistances, asks what the unit does, moves the car on.");
        var input = new SheetInput(command);
        var car = new CarOptions(command);
        var simulate = new Option<bool>("--simulate") { Description = "Lets a simulated unit answer, with the faults of --fault: to see how it goes." };
        var readings = new Option<string?>("--readings") { Description = "Writes what was seen as a readings file for find." };
        foreach (Option option in (Option[])[simulate, readings]) command.Options.Add(option);
        var hands = new SettingOptions(command);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            if (model.Module is null) throw new BadInputException("this unit has no module: there is nothing that regulates by itself");
            Scenario world = car.Scenario(parsed)!;
            CarBody body = car.Car(parsed);
            var simulator = new Simulator(model);
            var predictor = new SheetPredictor(simulator);
            var drive = new SlowCar(simulator, predictor, world, body, hands.Words(model, parsed));
            bool json = input.AsJson(parsed);
            if (parsed.GetValue(simulate)) drive.Simulate(hands.Faults(model, parsed));
            else if (!Ask(model, drive, json)) Screen.Line("Stopped before the end; what was answered is judged.");
            if (parsed.GetValue(readings) is { } path) WriteReadings(path, drive);
            SlowCar sound = new SlowCar(simulator, predictor, world, body, hands.Words(model, parsed)).Simulate([]);
            SlowVerdict verdict = SlowVerdict.Of(drive, sound);
            if (json) WriteJson(drive, verdict, input.Units(parsed));
            else WriteText(drive, sound, verdict, input.Units(parsed));
            return verdict.Regulates && verdict.OutsideTurns == 0 ? ExitCodes.Fine : ExitCodes.No;
        });
        return command;
    }

    /// <summary>Asks turn by turn; false if the input ended before the drive.</summary>
    private static bool Ask(UnitModel model, SlowCar drive, bool quiet)
    {
        if (!quiet) Screen.Line("Caution: the blowers may start at any turn: keep hands, sleeves and hair off them. Answer with what you see; quit ends the drive.");
        while (drive.Turn is { } turn)
        {
            if (!quiet) Tell(turn);
            var seen = new List<Shown>();
            foreach (SlowLook look in drive.Looks)
            {
                if (AskOne(model, look, quiet) is not { } shown) return false;
                seen.Add(shown);
            }

            SlowAnswer answer = drive.Answer(seen);
            for (int i = 0; i < seen.Count && !quiet; i++)
            {
                if (answer.Outside[i]) Screen.Line($"  {drive.Looks[i].Text}: a sound unit shows {ReadingWords.Of(turn.Expected[i], UnitSystem.Metric)}");
            }
        }

        return true;
    }

    private static Shown? AskOne(UnitModel model, SlowLook look, bool quiet)
    {
        while (true)
        {
            if (!quiet) Screen.Line($"  {look.Text}, {look.What}?");
            Screen.Flush();
            string? line = Console.ReadLine()?.Trim();
            if (line is null or "quit" or "q") return null;
            if (line.Length == 0) continue;
            if (ReadingText.TrySee(model, look.What, line, out Shown shown, out string? problem)) return shown;
            Screen.Line($"  {problem}");
        }
    }

    private static void Tell(SlowTurn turn)
    {
        Screen.Line();
        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Turn {turn.Number}, {turn.Seconds / 60:0.0} min of car time, cabin {turn.Car.Air - 273.15:0.0} degC. Set:"));
        foreach (CarResistance r in turn.Resistances)
            Screen.Line($"  {r.Part} {r.Name}: {QuantityText.Format(r.Ohms, Dimension.Ohm, UnitSystem.Metric)} ({(r.Kelvin - 273.15).ToString("0.0", CultureInfo.InvariantCulture)} degC)");
        foreach ((string name, string value) in turn.Setting.Words.Where(w => !w.Key.Contains(' ', StringComparison.Ordinal)).Select(w => (w.Key, w.Value))) Screen.Line($"  {name} at {value}");
    }

    private static string Seen(Shown shown) => shown.Word ?? (shown.Unsteady ? "unsteady" : $"{shown.Value.ToString("0.00", CultureInfo.InvariantCulture)} V");

    private static void WriteText(SlowCar drive, SlowCar sound, SlowVerdict verdict, UnitSystem units)
    {
        string Degrees(double k) => QuantityText.Format(k, Dimension.Temperature, units);
        Screen.Line();
        Screen.Table(["turn", "min", "cabin", "sound unit", .. drive.Looks.Select(l => l.What.ToString())], drive.Answers.Select((a, t) => (string[])
            [a.Turn.Number.ToString(CultureInfo.InvariantCulture), (a.Turn.Seconds / 60).ToString("0.0", CultureInfo.InvariantCulture), Degrees(a.Turn.Car.Air),
                t < sound.Answers.Count ? Degrees(sound.Answers[t].Turn.Car.Air) : "", .. a.Seen.Select((s, i) => Seen(s) + (a.Outside[i] ? " !" : ""))]));
        Screen.Line($"{(verdict.Regulates ? "The module regulates" : "The module does not regulate as it should")}: the cabin ends at {Degrees(verdict.CabinK)}, with a sound unit at {Degrees(verdict.SoundCabinK)}.");
        Screen.Line(verdict.First is { } first ? $"First outside what a sound unit shows: {first}; in {verdict.OutsideTurns} of {drive.Answers.Count} turns something was." : "Nothing was outside what a sound unit shows.");
    }

    private static void WriteJson(SlowCar drive, SlowVerdict verdict, UnitSystem units) => Json.Write(new
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

    private static void WriteReadings(string path, SlowCar drive)
    {
        IEnumerable<string> rows = drive.Answers.SelectMany(a => drive.Looks.Select((l, i) =>
            $"- {{ set: {{ {string.Join(", ", a.Turn.Setting.Words.Select(w => $"\"{w.Key}\": \"{w.Value}\""))} }}, at: \"{l.What}\", got: \"{Seen(a.Seen[i])}\" }}"));
        OutputFile.Write(path, rows);
    }
}
