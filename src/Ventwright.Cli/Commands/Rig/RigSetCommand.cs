using System.CommandLine;
using System.Globalization;
using Ventwright.Cli.Output;
using Ventwright.Quantities;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig set RIG SHEET --to name=value</c>: sets outputs by hand after the wiring check, and holds them until told to stop.</summary>
internal static class RigSetCommand
{
    private static readonly TimeSpan Beat = TimeSpan.FromSeconds(0.5);

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("set", "Sets outputs by hand, after the wiring check, and holds them until Enter or Ctrl+C; then all is safe again.");
        var input = new RigInput(command, opens: true, sets: true);
        var to = new Option<string[]>("--to") { Description = "An output and its value: cabin-sensor=12.1kohm, supply=on. May be given several times.", Arity = ArgumentArity.OneOrMore, Required = true };
        var seconds = new Option<string?>("--seconds") { Description = "Holds them so long, instead of until Enter." };
        command.Options.Add(to);
        command.Options.Add(seconds);
        command.SetAction(parsed =>
        {
            double? hold = parsed.GetValue(seconds) is { } text ? Seconds(text) : null;
            return input.With(parsed, async (rig, cancel) =>
            {
                (OutputDefinition Output, double Value)[] wanted = [.. parsed.GetRequiredValue(to).Select(t => Parse(rig, t))];
                if (!await RigWiringCommand.PassedAsync(rig, input.IsConfirmed(parsed), input.AsJson(parsed), input.Units(parsed), cancel)) return ExitCodes.No;
                var changes = new List<OutputChange>();
                foreach ((OutputDefinition output, double value) in wanted) changes.Add(await rig.SetAsync(output, value, cancel));
                if (!input.AsJson(parsed)) Show(changes, input.Units(parsed));
                await HoldAsync(rig, hold, cancel);
                var values = await rig.ReadAllAsync(cancel);
                SafeReport safe = await rig.MakeSafeAsync("done");
                if (input.AsJson(parsed)) WriteJson(rig, changes, values, safe);
                else WriteText(rig, values, safe, input.Units(parsed));
                return safe.IsSafe ? ExitCodes.Fine : ExitCodes.No;
            });
        });
        return command;
    }

    /// <summary>Reads <c>name=value</c> for an output.</summary>
    /// <exception cref="BadInputException">It cannot be read.</exception>
    public static (OutputDefinition Output, double Value) Parse(RigBench rig, string text)
    {
        string[] parts = text.Split('=', 2, StringSplitOptions.TrimEntries);
        if (parts.Length != 2) throw new BadInputException($"'{text}' is not name=value, such as cabin-sensor=12.1kohm");
        OutputDefinition output = rig.Output(parts[0]);
        return output.Kind.TryRead(parts[1], out double value, out string? problem) ? (output, value) : throw new BadInputException($"{parts[0]}: {problem}");
    }

    /// <summary>Reads a number of seconds.</summary>
    /// <exception cref="BadInputException">It cannot be read.</exception>
    public static double Seconds(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value is > 0 and < 1e7 ? value
        : throw new BadInputException($"'{text}' is no number of seconds");

    private static void Show(List<OutputChange> changes, UnitSystem units)
    {
        foreach (OutputChange c in changes)
        {
            string held = c.IsClamped ? $" ({c.Output.Kind.Text(c.Asked, units)} was asked for, its limits hold it)" : "";
            Screen.Line($"{c.Output.Name} gives {c.Output.Kind.Text(c.Given, units)}{held}");
        }

        Screen.Flush();
    }

    /// <summary>Waits, and reads the inputs meanwhile, so that a device that is lost is noticed.</summary>
    private static async Task HoldAsync(RigBench rig, double? seconds, CancellationToken cancel)
    {
        if (seconds is null)
        {
            Screen.Line("Enter puts everything back into its safe state.");
            Screen.Flush();
        }

        Task over = seconds is { } s ? Task.Delay(TimeSpan.FromSeconds(s), cancel) : Task.Run(Console.ReadLine, cancel);
        while (await Task.WhenAny(over, Task.Delay(Beat, cancel)) != over)
        {
            cancel.ThrowIfCancellationRequested();
            await rig.ReadAllAsync(cancel);
        }

        await over;
    }

    private static void WriteText(RigBench rig, IReadOnlyDictionary<string, double> values, SafeReport safe, UnitSystem units)
    {
        Screen.Line("Before that the inputs showed:");
        Screen.Table(["input", "wired to", "reads"], rig.Definition.Inputs.Select(i => (string[])[i.Name, i.Wired.ToString(), i.Kind.Text(values[i.Name], units)]));
        Screen.Line(safe.ToString());
    }

    private static void WriteJson(RigBench rig, List<OutputChange> changes, IReadOnlyDictionary<string, double> values, SafeReport safe) => Json.Write(new
    {
        V = 1,
        Outputs = changes.Select(c => new { Channel = c.Output.Name, Asked = RigView.Number(c.Output.Kind, c.Asked), Given = RigView.Number(c.Output.Kind, c.Given), Clamped = c.IsClamped }),
        Inputs = rig.Definition.Inputs.Select(i => new { Channel = i.Name, Unit = QuantityText.Unit(i.Kind.Dimension(), UnitSystem.Metric), Value = RigView.Number(i.Kind, values[i.Name]) }),
        Safe = safe.IsSafe,
    });
}
