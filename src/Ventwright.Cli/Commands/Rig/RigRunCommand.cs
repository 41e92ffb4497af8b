using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Quantities;
using Ventwright.Rig;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Simulation;
using Ventwright.Store;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig run RIG SHEET</c>: plays values or a script around the unit, reads and logs all channels, stops safe.</summary>
internal static class RigRunCommand
{
    private const double SlowestHz = 0.1, FastestHz = 50, UsualHz = 5;
    private const string Keys = "Type and Enter: pause, hand (you set outputs: NAME=VALUE), go, stop. Ctrl+C stops too.";

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("run", "Plays a script around the unit at a fixed rate, after the wiring check; reads and logs all channels, and stops safe.");
        var input = new RigInput(command, opens: true, sets: true);
        var hold = new Option<string[]>("--hold") { Description = "An output and the value that it holds: RT1=12.1kohm, RT1=30degC.", Arity = ArgumentArity.OneOrMore };
        var script = new Option<string?>("--script") { Description = "A CSV file with the column seconds and one for each output: values between its rows are drawn straight." };
        var seconds = new Option<string?>("--seconds") { Description = "Ends after so long." };
        var rate = new Option<string?>("--rate") { Description = $"Rounds in a second, {UsualHz} unless told." };
        var log = new Option<string?>("--log") { Description = "Writes all channels to a new CSV file." };
        var car = new CarOptions(command, "Puts the simulated car round the unit: ", usual: null);
        var kept = new RunToStore(command);
        var agree = new Option<bool>("--must-agree") { Description = "Exit code 1 also when the run leaves that of a sound unit; with --scenario." };
        foreach (Option option in (Option[])[hold, script, seconds, rate, log, agree]) command.Options.Add(option);
        command.SetAction(parsed => input.With(parsed, async (rig, cancel) =>
        {
            bool isJson = input.AsJson(parsed);
            var options = new RunOptions
            {
                Period = TimeSpan.FromSeconds(1 / Rate(parsed.GetValue(rate))),
                EndsAfter = parsed.GetValue(seconds) is { } s ? TimeSpan.FromSeconds(RigSetCommand.Seconds(s)) : null,
                LogPath = parsed.GetValue(log),
                Panel = input.Panel(parsed),
            };
            string[] held = parsed.GetValue(hold) ?? [];
            RunDrive? drive = Drive(parsed, rig, car, input.Panel(parsed));
            if (drive is null && parsed.GetValue(agree)) throw new BadInputException("--must-agree is for a run with the simulated car; say --scenario too");
            if (drive is not null && (held.Length > 0 || parsed.GetValue(script) is not null)) throw new BadInputException("--scenario sets the outputs itself; leave --hold and --script out");
            ISurroundings surroundings = drive is not null ? drive.Surroundings(rig.Definition, rig.Model) : Surroundings(rig, held, parsed.GetValue(script));
            using SqliteSessionStore? store = kept.Open(parsed);
            if (!await RigWiringCommand.PassedAsync(rig, input.IsConfirmed(parsed), isJson, input.Units(parsed), cancel)) return ExitCodes.No;
            RunAgainstSound? against = null;
            if (drive is not null) (against, options) = Against(rig, drive, options);
            if (drive is not null && input.Unit is { } unit) options = options with { Heard = options.Heard + (sample => unit.Turn(sample.Panel)) };
            RunKeeper? keeper = null;
            if (store is not null) (keeper, options) = kept.Begin(parsed, store, rig, options, drive?.World.Title ?? (parsed.GetValue(script) is { } path ? Path.GetFileName(path) : $"held: {string.Join(", ", held)}"), drive);
            await using RigRun run = RigRun.Start(rig, surroundings, options);
            if (!isJson) Watch(rig, run, input.Units(parsed));
            _ = Task.Run(() => ListenAsync(rig, run), CancellationToken.None);
            RunReport report = await run.Completion;
            keeper?.End(report);
            if (keeper is not null && await keeper.Kept is > 0 and var number && !isJson) Screen.Line($"The run is kept as number {number} of the session.");
            DrivePair? pair = against is null ? null : await against.FinishAsync();
            if (isJson) Json.Write(RigView.Json(report, rig, run.Latest, DriveView.Json(pair, input.Units(parsed))));
            else RigView.Report(report);
            if (pair is not null && !isJson) DriveView.Verdict(pair, input.Units(parsed));
            return report.IsFault || (parsed.GetValue(agree) && pair is not { Deviations.Count: 0 }) ? ExitCodes.No : ExitCodes.Fine;
        }));
        return command;
    }

    private static RunDrive? Drive(ParseResult parsed, RigBench rig, CarOptions car, IReadOnlyList<(string Name, string Value)> panel) =>
        car.Scenario(parsed) is null ? null : RunDrive.Of(rig.Definition, rig.Model, car.Text(parsed), panel, rig.IsVirtual);

    /// <summary>Lets a sound unit make the same run beside this one.</summary>
    private static (RunAgainstSound Against, RunOptions Options) Against(RigBench rig, RunDrive drive, RunOptions options)
    {
        var table = new RunTable(rig.Definition, rig.Model, options.Panel);
        var against = new RunAgainstSound(new Simulator(rig.Model), drive, () => table.Heads);
        return (against, options with { Heard = options.Heard + (sample => against.Take(table.Row(sample))) });
    }

    private static ScriptedSurroundings Surroundings(RigBench rig, string[] hold, string? script)
    {
        if (script is not null && hold.Length > 0) throw new BadInputException("--hold and --script cannot both be given; put what is held into the script as a column");
        if (script is not null) return ScriptedSurroundings.Table(rig.Definition, rig.Model, script);
        var values = hold.Select(h => h.Split('=', 2, StringSplitOptions.TrimEntries)).ToList();
        if (values.Find(v => v.Length != 2) is { } wrong) throw new BadInputException($"'{wrong[0]}' is not name=value, such as RT1=12.1kohm");
        return ScriptedSurroundings.Holding(rig.Definition, rig.Model, values.Select(v => (v[0], v[1])));
    }

    private static double Rate(string? text)
    {
        if (text is null) return UsualHz;
        double rate = double.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out double value) ? value : double.NaN;
        return rate is >= SlowestHz and <= FastestHz ? rate : throw new BadInputException($"--rate wants a number from {SlowestHz} to {FastestHz}, not '{text}'");
    }

    private static void Watch(RigBench rig, RigRun run, UnitSystem units)
    {
        Screen.Line(Keys);
        Screen.Flush();
        double next = 0;
        run.Sampled += sample =>
        {
            if (sample.Seconds < next && sample.Notes.Count == 0) return;
            next = sample.Seconds + 1;
            RigView.Sample(rig, sample, units);
        };
    }

    private static async Task ListenAsync(RigBench rig, RigRun run)
    {
        while (run.State != RunState.Stopped && Console.ReadLine() is { } line)
        {
            try
            {
                await ObeyAsync(rig, run, line.Trim());
            }
            catch (Exception e) when (e is RigException or BadInputException)
            {
                Console.Error.WriteLine($"ventwright: {e.Message}");
            }
        }
    }

    private static async Task ObeyAsync(RigBench rig, RigRun run, string line)
    {
        switch (line)
        {
            case "pause": run.Pause(); break;
            case "go": run.Resume(); break;
            case "hand": run.TakeOver(); break;
            case "stop": await run.StopAsync("stopped by hand"); break;
            case "": break;
            default:
                if (run.State != RunState.Manual) throw new BadInputException(line.Contains('=', StringComparison.Ordinal) ? "say 'hand' first: the run sets the outputs now" : $"'{line}' is not known here. {Keys}");
                (OutputDefinition output, double value) = RigSetCommand.Parse(rig, line);
                await rig.SetAsync(output, value, CancellationToken.None);
                break;
        }
    }
}
