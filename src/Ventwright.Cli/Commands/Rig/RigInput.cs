using System.CommandLine;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Virtual;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary>What the commands on a rig take: the rig file, the sheet, and whether the unit is a simulated one.</summary>
internal sealed class RigInput
{
    private readonly Argument<string> _rig = new("RIG") { Description = "The rig file, YAML." };
    private readonly SheetInput _sheet;
    private readonly Option<bool> _virtual = new("--virtual") { Description = "Wires the rig to the simulated unit: no device is touched." };
    private readonly Option<string[]> _set = new("--set") { Description = "How the panel stands: mode=auto. A virtual unit's panel is turned so.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string[]> _fault = new("--fault") { Description = "A fault of the virtual unit: Y1:stuck-shut.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<bool> _confirm = new("--confirm") { Description = "Takes a good wiring check as confirmed, without asking. You answer for the wiring." };

    /// <summary>Adds them to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="opens">Whether it opens the rig.</param>
    /// <param name="sets">Whether it sets outputs.</param>
    public RigInput(Command command, bool opens, bool sets)
    {
        command.Arguments.Add(_rig);
        _sheet = new(command);
        if (opens) command.Options.Add(_virtual);
        if (opens) command.Options.Add(_set);
        if (opens) command.Options.Add(_fault);
        if (sets) command.Options.Add(_confirm);
    }

    /// <summary>Whether the answer is JSON.</summary>
    public bool AsJson(ParseResult parsed) => _sheet.AsJson(parsed);

    /// <summary>Units to write.</summary>
    public UnitSystem Units(ParseResult parsed) => _sheet.Units(parsed);

    /// <summary>Whether the wiring counts as confirmed when its check is good.</summary>
    public bool IsConfirmed(ParseResult parsed) => parsed.GetValue(_confirm);

    /// <summary>The compiled sheet.</summary>
    public UnitModel Model(ParseResult parsed) => _sheet.Load(parsed);

    /// <summary>The rig, and all problems of its file.</summary>
    public RigDefinition? Load(ParseResult parsed, UnitModel model, ProblemList problems) => RigFile.Load(Path(parsed), model, problems);

    /// <summary>Path of the rig file.</summary>
    public string Path(ParseResult parsed) => parsed.GetRequiredValue(_rig);

    /// <summary>The simulated unit that the rig is wired to, or null for a real one; there once <see cref="Bench"/> was called.</summary>
    public VirtualUnit? Unit { get; private set; }

    /// <summary>How the panel stands, as name and text.</summary>
    public IReadOnlyList<(string Name, string Value)> Panel(ParseResult parsed) => [.. (parsed.GetValue(_set) ?? []).SelectMany(SettingText.Words)];

    /// <summary>The rig, not yet open.</summary>
    /// <exception cref="BadInputException">The rig file has errors; the message tells each.</exception>
    public RigBench Bench(ParseResult parsed)
    {
        UnitModel model = Model(parsed);
        var problems = new ProblemList();
        RigDefinition? rig = Load(parsed, model, problems);
        if (rig is null) throw new BadInputException("the rig file cannot be used:\n" + string.Join('\n', problems.Sorted.Select(p => p.ToString())));
        if (!parsed.GetValue(_virtual))
        {
            if (parsed.GetValue(_fault) is { Length: > 0 }) throw new BadInputException("--fault is for a virtual unit; say --virtual too");
            if (Setting.TryMake(model, Panel(parsed), out string? wrong) is null) throw new BadInputException(wrong!);
            return RigBench.Real(rig, model);
        }

        Fault[] faults = [.. (parsed.GetValue(_fault) ?? []).Select(id => SettingOptions.FindFault(model, id))];
        VirtualUnit unit = Unit = new(new Simulator(model), faults);
        try
        {
            unit.Turn(Panel(parsed));
        }
        catch (ArgumentException e)
        {
            throw new BadInputException(e.Message.Split(" (Parameter", 2)[0]);
        }

        return RigBench.Virtual(rig, unit);
    }

    /// <summary>Runs something on an open rig, makes the rig safe however it ends, and turns the rig's trouble into a message and an exit code.</summary>
    public int With(ParseResult parsed, Func<RigBench, CancellationToken, Task<int>> work)
    {
        try
        {
            return WithAsync(Bench(parsed), work).GetAwaiter().GetResult();
        }
        catch (RigException e) when (e.Trouble is RigTrouble.NotPossible or RigTrouble.NotConfirmed or RigTrouble.OutOfLimits)
        {
            throw new BadInputException(e.Message);
        }
        catch (RigException e)
        {
            Screen.Flush();
            Console.Error.WriteLine($"ventwright: {e.Message}");
            return ExitCodes.No;
        }
    }

    private static async Task<int> WithAsync(RigBench rig, Func<RigBench, CancellationToken, Task<int>> work)
    {
        using var ending = new CancellationTokenSource();
        await using (rig)
        {
            using var guard = new SafeOnExit(rig, ending.Cancel);
            rig.Stopped += report =>
            {
                if (!report.IsSafe) Console.Error.WriteLine($"ventwright: {report}");
            };
            try
            {
                Progress.Say($"opening {string.Join(", ", rig.Definition.Devices.Select(d => d.Name))}");
                await rig.OpenAsync(ending.Token);
                return await work(rig, ending.Token);
            }
            catch (OperationCanceledException) when (ending.IsCancellationRequested)
            {
                Console.Error.WriteLine($"ventwright: stopped. {rig.LastStop}");
                return ExitCodes.No;
            }
        }
    }
}
