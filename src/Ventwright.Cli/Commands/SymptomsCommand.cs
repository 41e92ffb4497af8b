using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>symptoms SHEET</c>: what one would notice in a setting, and which faults make it.</summary>
internal static class SymptomsCommand
{
    private const int MostFaults = 6;

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("symptoms", "What one would notice in a setting without a meter, with the faults behind it: pick yours and give it to `find` or `bench symptom`.");
        var input = new SheetInput(command);
        var options = new SettingOptions(command);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            Setting setting = options.Setting(model, parsed);
            Progress.Say($"working out what one would notice of {model.Faults.Length} faults");
            IReadOnlyList<NoticedSymptom> symptoms = SymptomList.In(new Simulator(model), setting);
            if (input.AsJson(parsed)) Json.Write(AsJson(setting, symptoms));
            else Write(model, setting, symptoms);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void Write(UnitModel model, Setting setting, IReadOnlyList<NoticedSymptom> symptoms)
    {
        Screen.Line($"Set: {FindingsView.Set(setting)}");
        if (symptoms.Count == 0) Screen.Line("No fault on the sheet shows itself to eye, ear or hand in this setting.");
        else Screen.Table(["at", "one notices", "sound", "share", "faults"], symptoms.Select(s => (string[])
            [string.Join(", ", s.Checks), s.Got, s.Sound, s.Share.ToString("0.0 %", CultureInfo.InvariantCulture), Names(model, s.Faults)]));
        Screen.Line("Share: of the weight of all faults that one would notice in this setting. Another setting: --set mode=...");
    }

    private static string Names(UnitModel model, IReadOnlyList<Fault> faults)
    {
        string named = string.Join("; ", faults.Take(MostFaults).Select(f => CheckTitles.FaultTitle(model, f)));
        return faults.Count > MostFaults ? $"{named} and {faults.Count - MostFaults} more" : named;
    }

    private static object AsJson(Setting setting, IReadOnlyList<NoticedSymptom> symptoms) => new
    {
        V = 1,
        Set = setting.Words,
        Symptoms = symptoms.Select(s => new { At = s.Checks.Select(c => c.ToString()), s.Got, s.Sound, Share = Json.Number(s.Share), Faults = s.Faults.Select(f => f.Id) }),
    };
}
