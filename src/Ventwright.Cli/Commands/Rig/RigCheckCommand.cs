using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig check RIG SHEET</c>: finds every problem of a rig file, and lists its channels. Touches no device.</summary>
internal static class RigCheckCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("check", "Checks a rig file against the sheet and lists its channels; touches no device.");
        var input = new RigInput(command, opens: false, sets: false);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Model(parsed);
            var problems = new ProblemList();
            RigDefinition? rig = input.Load(parsed, model, problems);
            if (input.AsJson(parsed)) WriteJson(input.Path(parsed), rig, problems);
            else WriteText(input.Path(parsed), rig, problems, input.Units(parsed));
            return rig is null ? ExitCodes.BadInput : ExitCodes.Fine;
        });
        return command;
    }

    private static void WriteText(string path, RigDefinition? rig, ProblemList problems, UnitSystem units)
    {
        string text = problems.Count > 0 && File.Exists(path) ? File.ReadAllText(path) : "";
        foreach (Problem problem in problems.Sorted) Screen.Line(problem.Render(text));
        if (rig is null) return;
        Screen.Line($"{rig.Name}: {rig.Devices.Count} devices, {rig.Outputs.Count} outputs, {rig.Inputs.Count} inputs.");
        Screen.Table(["device", "kind", "line"], rig.Devices.Select(d => (string[])[d.Name, d.Kind, d.Line]));
        Screen.Table(["output", "gives", "device", "point", "wired to", "limits", "safe"], rig.Outputs.Select(o => (string[])
            [o.Name, Word(o.Kind), o.Device, string.Join(", ", o.Points), o.Wired.Name, o.Kind.IsContact() ? "" : $"{o.Kind.Text(o.Low, units)} .. {o.Kind.Text(o.High, units)}", o.Kind.Text(o.Safe, units)]));
        Screen.Table(["input", "reads", "device", "point", "wired to", "stops beyond"], rig.Inputs.Select(i => (string[])
            [i.Name, Word(i.Kind), i.Device, i.Point.ToString(), i.Wired.ToString(), double.IsFinite(i.High) && !i.Kind.IsContact() ? $"{i.Kind.Text(i.Low, units)} .. {i.Kind.Text(i.High, units)}" : ""]));
        RigView.Cautions(rig);
    }

    private static void WriteJson(string path, RigDefinition? rig, ProblemList problems) => Json.Write(new
    {
        V = 1,
        Rig = path,
        Ok = rig is not null,
        Problems = problems.Sorted.Select(p => new { p.At.File, p.At.Line, p.At.Column, Severity = p.Severity.ToString().ToLowerInvariant(), p.Code, p.Message, p.Hint }),
        Devices = rig?.Devices.Select(d => new { d.Name, d.Kind, d.Line }),
        Outputs = rig?.Outputs.Select(o => new
        {
            o.Name,
            Gives = Word(o.Kind),
            o.Device,
            Points = o.Points.Select(p => p.ToString()),
            WiredTo = o.Wired.Name,
            Low = Json.Number(o.Low),
            High = Json.Number(o.High),
            Safe = o.Kind.Text(o.Safe, UnitSystem.Metric),
        }),
        Inputs = rig?.Inputs.Select(i => new { i.Name, Reads = Word(i.Kind), i.Device, Point = i.Point.ToString(), WiredTo = i.Wired.ToString(), Low = Json.Number(i.Low), High = Json.Number(i.High) }),
        Cautions = rig?.Cautions,
    });

    private static string Word(ChannelKind kind) => kind.ToString().ToLowerInvariant();
}
