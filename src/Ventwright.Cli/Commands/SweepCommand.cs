using System.CommandLine;
using Ventwright.Bench.Sensors;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Cli.Commands;

/// <summary><c>sweep SHEET PART --points FILE</c>: the track of a feedback or a potentiometer from end to end.</summary>
internal static class SweepCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("sweep", "Judges the track of a servo's feedback or of a potentiometer from readings between its ends.");
        var input = new SheetInput(command);
        var part = new Argument<string>("PART") { Description = "Id of a servo with feedback, or of a potentiometer." };
        var points = new Option<string>("--points") { Description = "File of points: CSV with position (or time) and ohms (or volts), or a YAML list of { position: 0.1, got: 512 ohm }.", Required = true };
        var channel = new Option<string?>("--channel") { Description = "Channel of a log with the columns time, channel, value." };
        var total = new Option<string?>("--total") { Description = "Resistance from end to end as measured: 5.02kohm." };
        var meter = new Option<string?>("--meter") { Description = "Accuracy of the ohmmeter: '0.5 % + 1 ohm'." };
        var straight = new Option<string?>("--straightness") { Description = "Largest distance from the straight line, 3 % unless told." };
        var ends = new Option<string?>("--ends") { Description = "How far a reading at an end may be from the end of the track, 5 % unless told." };
        var jump = new Option<string?>("--jump") { Description = "Least step that counts as a jump, 2 % unless told." };
        command.Arguments.Add(part);
        foreach (Option option in (Option[])[points, channel, total, meter, straight, ends, jump]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            var problems = new ProblemList();
            SweepData? data = SweepFile.Load(parsed.GetRequiredValue(points), parsed.GetValue(channel), problems);
            if (data is null || problems.HasErrors) throw new BadInputException($"the points cannot be used:\n{string.Join('\n', problems.Sorted)}");
            if (parsed.GetValue(total) is { } whole) data = data with { EndToEndOhms = Positive("--total", whole, Dimension.Ohm) };
            var usual = new TrackLimits();
            var limits = new TrackLimits(
                Share("--straightness", parsed.GetValue(straight)) ?? usual.Linearity, Share("--ends", parsed.GetValue(ends)) ?? usual.End, Share("--jump", parsed.GetValue(jump)) ?? usual.Jump, usual.Noise);
            TrackTest test = TrackTest.TryMake(new Simulator(model), parsed.GetRequiredValue(part), data, SensorText.Meter("--meter", parsed.GetValue(meter)), limits, out string? problem) ?? throw new BadInputException(problem!);
            if (input.AsJson(parsed)) WriteJson(test);
            else WriteText(test);
            return test.Passed == false ? ExitCodes.No : ExitCodes.Fine;
        });
        return command;
    }

    private static double? Share(string option, string? text) => text is null ? null : Positive(option, text, Dimension.Fraction);

    private static double Positive(string option, string text, Dimension dimension)
    {
        double value = SensorText.Quantity(option, text, dimension);
        return value > 0 ? value : throw new BadInputException($"{option} is above 0");
    }

    private static void WriteText(TrackTest test)
    {
        TrackPart part = test.Part;
        Screen.Line($"{part.Id} {part.Name}: track {SensorWords.Ohms(part.Ohms)} from {part.LowNet} to {part.HighNet}, wiper {part.WiperNet}{(part.Pins.Count > 0 ? $" ({string.Join(", ", part.Pins)})" : "")}");
        Screen.Table(["tried", "answer", "found", "allowed"], test.Findings.Select(f => (string[])[f.Title, SensorWords.Answer(f.Passed), f.Found, f.Limit]));
        Screen.Line(SensorWords.Sweep(test));
        foreach (string note in test.Notes) Screen.Line($"note: {note}");
        foreach (string caution in TrackTest.Cautions) Screen.Line($"caution: {caution}");
    }

    private static void WriteJson(TrackTest test) => Json.Write(new
    {
        V = 1,
        Part = test.Part.Id,
        test.Part.Name,
        Track = Json.Number(test.Part.Ohms),
        Verdict = SensorWords.Answer(test.Passed),
        Findings = test.Findings.Select(f => new { f.Title, Answer = SensorWords.Answer(f.Passed), f.Found, Allowed = f.Limit }),
        Line = new { Offset = Json.Number(test.Sweep.Offset), Slope = Json.Number(test.Sweep.Slope), Straightness = Json.Number(test.Sweep.Linearity) },
        Dead = test.Sweep.Dead.Select(d => new { From = Json.Number(d.From), To = Json.Number(d.To) }),
        Jumps = test.Sweep.Jumps.Select(j => new { At = Json.Number(j.Place), Size = Json.Number(j.Size) }),
        Points = test.Points.Select(p => new { At = Json.Number(p.Place), Share = Json.Number(p.Share) }),
        test.Notes,
        TrackTest.Steps,
        TrackTest.Cautions,
    });
}
