using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Quantities;
using Ventwright.Rig;
using Ventwright.Rig.Definition;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig read RIG SHEET</c>: what the inputs show now, all outputs in their safe state.</summary>
internal static class RigReadCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("read", "Reads the inputs once, with all outputs in their safe state.");
        var input = new RigInput(command, opens: true, sets: false);
        var only = new Option<string[]>("--only") { Description = "Only this input; may be given several times.", Arity = ArgumentArity.OneOrMore };
        command.Options.Add(only);
        command.SetAction(parsed => input.With(parsed, async (rig, cancel) =>
        {
            InputDefinition[] asked = parsed.GetValue(only) is { Length: > 0 } names ? [.. names.Select(rig.Input)] : [.. rig.Definition.Inputs];
            var rows = new List<(InputDefinition Input, double Value, string? Trouble)>();
            foreach (InputDefinition one in asked)
            {
                try
                {
                    rows.Add((one, await rig.ReadAsync(one, cancel), null));
                }
                catch (RigException e)
                {
                    rows.Add((one, double.NaN, e.Message));
                }
            }

            if (input.AsJson(parsed))
                Json.Write(new { V = 1, Inputs = rows.Select(r => new { Channel = r.Input.Name, WiredTo = r.Input.Wired.ToString(), Unit = QuantityText.Unit(r.Input.Kind.Dimension(), UnitSystem.Metric), Value = RigView.Number(r.Input.Kind, r.Value), r.Trouble }) });
            else
                Screen.Table(["input", "wired to", "reads"], rows.Select(r => (string[])[r.Input.Name, r.Input.Wired.ToString(), r.Trouble ?? r.Input.Kind.Text(r.Value, input.Units(parsed))]));
            return rows.Exists(r => r.Trouble is not null) ? ExitCodes.No : ExitCodes.Fine;
        }));
        return command;
    }
}
