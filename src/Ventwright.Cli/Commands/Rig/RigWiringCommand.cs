using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Quantities;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Wiring;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig wiring RIG SHEET</c>: holds every channel against what the model expects with everything off, and with <c>--live</c> with the supply on.</summary>
internal static class RigWiringCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("wiring", "Measures every channel with everything off and says which are off, and what to look at.");
        var input = new RigInput(command, opens: true, sets: true);
        var live = new Option<bool>("--live") { Description = "Then, once confirmed, with supply and pump on: finds leads that are swapped." };
        command.Options.Add(live);
        command.SetAction(parsed => input.With(parsed, async (rig, cancel) =>
        {
            bool isJson = input.AsJson(parsed);
            var check = new WiringCheck(rig);
            WiringReport off = await check.OffAsync(cancel);
            if (!isJson) Show(rig, off, input.Units(parsed));
            WiringReport? on = null;
            if (parsed.GetValue(live) && Confirmed(rig, off, input.IsConfirmed(parsed), isJson))
            {
                Progress.Say($"waiting {RigWords.LiveRest.TotalSeconds:0} s for the unit to come to rest");
                on = await check.LiveAsync(input.Panel(parsed), RigWords.LiveRest, cancel);
                if (!isJson) RigView.Wiring(on, input.Units(parsed));
            }

            if (isJson) Json.Write(new { V = 1, Off = RigView.Json(off), Live = on is null ? null : RigView.Json(on) });
            return off.IsGood && on is not { IsGood: false } ? ExitCodes.Fine : ExitCodes.No;
        }));
        return command;
    }

    /// <summary>Makes the check before something is set: shows the table and asks the person.</summary>
    /// <returns>Whether outputs may be set.</returns>
    public static async Task<bool> PassedAsync(RigBench rig, bool isConfirmed, bool isJson, UnitSystem units, CancellationToken cancel)
    {
        WiringReport report = await new WiringCheck(rig).OffAsync(cancel);
        if (!isJson) Show(rig, report, units);
        return Confirmed(rig, report, isConfirmed, isJson);
    }

    private static void Show(RigBench rig, WiringReport report, UnitSystem units)
    {
        RigView.Cautions(rig.Definition);
        RigView.Wiring(report, units);
        Screen.Flush();
    }

    private static bool Confirmed(RigBench rig, WiringReport report, bool isConfirmed, bool isJson)
    {
        bool isYes = isConfirmed && report.IsGood;
        if (!isConfirmed && !isJson)
        {
            Screen.Line(report.IsGood ? "Is every lead where the table says, the fuse in, the guards on? Type yes to allow outputs to be set:"
                : "Best clear that up first. If you know the reason and it is harmless, and fuse and guards are in place, type yes to allow outputs to be set:");
            Screen.Flush();
            isYes = string.Equals(Console.ReadLine()?.Trim(), "yes", StringComparison.OrdinalIgnoreCase);
        }

        if (!isYes)
        {
            Console.Error.WriteLine(isConfirmed ? "ventwright: the wiring check is not good, so --confirm does not hold; nothing was switched on."
                : isJson ? "ventwright: with --json say --confirm too; nothing was switched on." : "ventwright: not confirmed; nothing was switched on.");
            return false;
        }

        rig.Confirm(report);
        return true;
    }
}
