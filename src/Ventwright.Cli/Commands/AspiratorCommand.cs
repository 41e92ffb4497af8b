using System.CommandLine;
using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Cli.Commands;

/// <summary><c>aspirator SHEET</c>: the air past the cabin sensor, and what the loss of its hose does.</summary>
internal static class AspiratorCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("aspirator", "The air that the aspirator draws past its sensor in each setting, how to look at it, and what the loss of its hose does.");
        var input = new SheetInput(command);
        var which = new Argument<string?>("ASPIRATOR") { Description = "Id of the aspirator, when the sheet has several.", Arity = ArgumentArity.ZeroOrOne };
        var dash = new Option<string?>("--dash-air") { Description = "Temperature of still air behind the dash: 40C (common practice, no source) unless told." };
        var set = new Option<string[]>("--set") { Description = "A control or condition that is held: mode=auto.", Arity = ArgumentArity.OneOrMore };
        var seen = new Option<string?>("--seen") { Description = "What was seen as --set has it, other controls where the sheet has them: none, weak, fair or strong; says whether it fits." };
        command.Arguments.Add(which);
        foreach (Option option in (Option[])[dash, set, seen]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            UnitSystem units = input.Units(parsed);
            string id = parsed.GetValue(which) ?? AspiratorCheck.All(model) switch
            {
                [string only] => only,
                [] => throw new BadInputException("this sheet has no aspirator"),
                var several => throw new BadInputException($"say which: {string.Join(", ", several)}"),
            };
            double kelvin = parsed.GetValue(dash) is { } air ? SensorText.Temperature("--dash-air", air) : AspiratorCheck.UsualDashKelvin;
            (string, string)[] held = [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))];
            Progress.Say("working out the air in each setting");
            AspiratorCheck check = Aspirators.Check(new Simulator(model), id, kelvin, parsed.GetValue(seen) is null ? held : AspiratorCheck.AsItStands(model, held));
            SeenAir? judged = parsed.GetValue(seen) is { } word ? Judge(check, word) : null;
            if (input.AsJson(parsed)) WriteJson(check, judged, units);
            else WriteText(model, check, judged, units);
            return judged?.Fits == false ? ExitCodes.No : ExitCodes.Fine;
        });
        return command;
    }

    private static SeenAir Judge(AspiratorCheck check, string word) =>
        Aspirators.Airs.Contains(word, StringComparer.Ordinal) ? Aspirators.Judge(check.Flows[0], word) : throw new BadInputException($"--seen is one of {string.Join(", ", Aspirators.Airs)}, not '{word}'");

    private static void WriteText(UnitModel model, AspiratorCheck check, SeenAir? judged, UnitSystem units)
    {
        Screen.Line($"{check.Id} {check.Name}, past {check.Sensor.Id} {check.Sensor.Name}, opening {QuantityText.Format(check.AreaM2, Dimension.Area, units)}");
        Screen.Table(
            ["setting", "air speed in the opening", "band", "flow", "word", "a strip of tissue", "hose off"],
            check.Flows.Select(f => (string[])
            [
                SensorWords.Set(f.Set) + (f.AlsoIn.Count > 0 ? string.Create(CultureInfo.InvariantCulture, $" and {f.AlsoIn.Count} more") : ""), SensorWords.Speed(f.Speed.Nominal.Value), $"{SensorWords.Speed(Math.Max(0, f.Speed.Low))} .. {SensorWords.Speed(f.Speed.High)}",
                QuantityText.Format(f.FlowM3PerS, Dimension.VolumeFlow, units), Aspirators.Expected(f), AspiratorFlow.Tissue(f.Speed.Nominal.Word ?? "none"), $"{SensorWords.Speed(f.WithoutHose)}, {f.WordWithoutHose}",
            ]));
        if (judged is { } answer) Screen.Line(answer.Text);
        HoseLoss loss = check.Loss;
        Screen.Line($"hose off: {check.Sensor.Id} sits in still air of the dash, taken as {SensorWords.Degrees(loss.DashKelvin, units)} while {check.Sensor.Condition} is {SensorWords.Degrees(loss.CabinKelvin, units)}");
        Screen.Line($"  at once, with {SensorWords.Set(loss.Set)}:");
        foreach (ChangedCheck c in loss.Changed) Screen.Line($"    {CheckTitles.Of(model, c.What)}: {c.Lost.Word} instead of {c.Sound.Word}");
        if (loss.Changed.Count == 0) Screen.Line("    nothing to be seen");
        Screen.Line($"  if the air of the dash stays {SensorWords.Difference(loss.DashKelvin - loss.CabinKelvin, units)} {(loss.DashKelvin < loss.CabinKelvin ? "colder" : "warmer")} than {check.Sensor.Condition}:");
        foreach (SensorConsequence c in loss.Consequences.Take(6)) Screen.Line($"    {c.Say(units)}");
        if (loss.Consequences.Count == 0) Screen.Line("    nothing changes");
        foreach (string step in AspiratorCheck.Steps) Screen.Line($"  - {step}");
        foreach (string caution in AspiratorCheck.Cautions) Screen.Line($"  caution: {caution}");
    }

    private static void WriteJson(AspiratorCheck check, SeenAir? judged, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Aspirator = check.Id,
        Sensor = check.Sensor.Id,
        AreaCm2 = Json.Number(check.AreaM2 * 1e4),
        Flows = check.Flows.Select(f => new
        {
            Set = f.Set.ToDictionary(s => s.Name, s => s.Value),
            AlsoIn = f.AlsoIn.Select(a => a.ToDictionary(s => s.Name, s => s.Value)),
            Speed = BandJson.Of(f.Speed, units),
            Flow = Json.Number(QuantityText.ToUnit(f.FlowM3PerS, Dimension.VolumeFlow, units)),
            Tissue = AspiratorFlow.Tissue(f.Speed.Nominal.Word ?? "none"),
            WithoutHose = new { Speed = Json.Number(f.WithoutHose), Word = f.WordWithoutHose },
        }),
        Seen = judged is { } answer ? new { answer.Fits, answer.Text } : null,
        HoseOff = new
        {
            DashAir = SensorView.T(check.Loss.DashKelvin, units),
            Felt = SensorView.T(check.Loss.CabinKelvin, units),
            Set = check.Loss.Set.ToDictionary(s => s.Name, s => s.Value),
            Changed = check.Loss.Changed.Select(c => new { At = c.What.ToString(), Sound = c.Sound.Word, Lost = c.Lost.Word }),
            Consequences = check.Loss.Consequences.Select(c => SensorView.ConsequenceJson(c, units)),
        },
        AspiratorCheck.Steps,
        AspiratorCheck.Cautions,
    });
}
