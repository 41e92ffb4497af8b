using System.CommandLine;
using Ventwright.Bench.Sensors;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Cli.Commands;

/// <summary><c>sensor SHEET PART</c>: a temperature sensor from resistances at known temperatures, against the sheet.</summary>
internal sealed class SensorCommand
{
    private readonly Argument<string> _part = new("PART") { Description = "Id of a thermistor." };
    private readonly Option<string[]> _at = new("--at") { Description = "A resistance beside a thermometer: 21C=11.8kohm. May be given several times.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string?> _ice = new("--ice") { Description = "Resistance in the ice bath." };
    private readonly Option<string?> _boiling = new("--boiling") { Description = "Resistance in boiling water; wants --pressure or --altitude." };
    private readonly Option<string?> _altitude = new("--altitude") { Description = "Altitude of the place: 400m." };
    private readonly Option<string?> _pressure = new("--pressure") { Description = "Air pressure of the place itself, not reduced to sea level: 965mbar." };
    private readonly Option<string?> _meter = new("--meter") { Description = "Accuracy of the ohmmeter: '0.5 % + 1 ohm'." };
    private readonly Option<string?> _thermometer = new("--thermometer") { Description = "Accuracy of the thermometer: 0.5K." };
    private readonly Option<string?> _range = new("--range") { Description = "Working range: '-10C..40C'. 0 to 50 degC unless told." };
    private readonly Option<string[]> _set = new("--set") { Description = "A control or condition held while consequences are looked for: mode=auto.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<bool> _write = new("--write") { Description = "Writes the fitted curve into the sheet; only the lines of this sensor change." };
    private readonly Option<string?> _out = new("--out") { Description = "With --write: another file for the changed sheet." };
    private readonly Option<bool> _how = new("--how") { Description = "Tells how to make each bath, with its pitfalls; the cautions are always told." };
    private readonly SheetInput _input;

    private SensorCommand(Command command)
    {
        _input = new(command);
        command.Arguments.Add(_part);
        foreach (Option option in (Option[])[_at, _ice, _boiling, _altitude, _pressure, _meter, _thermometer, _range, _set, _write, _out, _how]) command.Options.Add(option);
    }

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("sensor", "A temperature sensor from resistances at known temperatures: its curve, how it compares with the sheet, and what that changes.");
        var self = new SensorCommand(command);
        command.SetAction(self.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        UnitModel model = _input.Load(parsed);
        UnitSystem units = _input.Units(parsed);
        string id = parsed.GetRequiredValue(_part);
        if (SensorPart.TryFind(model, id, out string? problem) is null) throw new BadInputException(problem!);
        SensorReading[] readings = Readings(parsed);
        if (readings.Length == 0)
        {
            if (parsed.GetValue(_how)) return HowTo(parsed, units);
            throw new BadInputException("give readings: --ice 32.6kohm --at 21C=11.9kohm (--how tells how to make the baths)");
        }

        (string, string)[] set = [.. (parsed.GetValue(_set) ?? []).Select(t => SettingOptions.Pair("--set", t))];
        Progress.Say($"working out what {id} as measured changes");
        SensorCheck check = SensorCheck.TryMake(new Simulator(model), id, readings, SensorText.Meter("--meter", parsed.GetValue(_meter)), Range(parsed), set, out problem) ?? throw new BadInputException(problem!);
        SheetCurve? written = Write(parsed, check);
        if (_input.AsJson(parsed)) SensorView.WriteJson(check, written, units);
        else
        {
            SensorView.WriteText(check, units);
            SensorView.WriteBaths(check.Readings.Select(r => r.Reading.Bath), parsed.GetValue(_how), units);
            if (written is not null) SensorView.WriteEdit(check, written, Target(parsed), units);
        }

        return check.Verdict == SensorVerdict.Good && check.FitHolds ? ExitCodes.Fine : ExitCodes.No;
    }

    private int HowTo(ParseResult parsed, UnitSystem units)
    {
        Bath[] baths = [Bath.Ice, Bath.At(294.15, Thermometer(parsed)), Bath.At(323.15, Thermometer(parsed)), Boiling(parsed, "0 m")];
        if (_input.AsJson(parsed)) Json.Write(new { V = 1, Baths = baths.Select(b => SensorView.BathJson(b, units)) });
        else SensorView.WriteBaths(baths, true, units);
        return ExitCodes.Fine;
    }

    private SensorReading[] Readings(ParseResult parsed)
    {
        var readings = new List<SensorReading>();
        if (parsed.GetValue(_ice) is { } ice) readings.Add(new(Bath.Ice, SensorText.Ohms("--ice", ice)));
        foreach (string text in parsed.GetValue(_at) ?? [])
        {
            (string at, string ohms) = SettingOptions.Pair("--at", text);
            readings.Add(new(Bath.At(SensorText.Temperature("--at", at), Thermometer(parsed)), SensorText.Ohms("--at", ohms)));
        }

        if (parsed.GetValue(_boiling) is { } boiling)
        {
            readings.Add(new(Boiling(parsed, null), SensorText.Ohms("--boiling", boiling)));
        }

        return [.. readings];
    }

    private Bath Boiling(ParseResult parsed, string? otherwise) =>
        parsed.GetValue(_pressure) is { } pressure ? SensorText.BoilingByPressure("--pressure", pressure)
            : SensorText.BoilingByAltitude("--altitude", parsed.GetValue(_altitude) ?? otherwise ?? throw new BadInputException("--boiling wants --pressure 965mbar or --altitude 400m: water does not boil at 100 degC everywhere"));

    private double Thermometer(ParseResult parsed) => SensorText.Thermometer("--thermometer", parsed.GetValue(_thermometer));

    private (double, double)? Range(ParseResult parsed)
    {
        if (parsed.GetValue(_range) is not { } text) return null;
        string[] ends = text.Split("..", 2, StringSplitOptions.TrimEntries);
        if (ends.Length != 2) throw new BadInputException($"--range wants two temperatures such as 0C..50C, not '{text}'");
        return (SensorText.Temperature("--range", ends[0]), SensorText.Temperature("--range", ends[1]));
    }

    private string Target(ParseResult parsed) => parsed.GetValue(_out) ?? _input.Path(parsed);

    private SheetCurve? Write(ParseResult parsed, SensorCheck check)
    {
        if (!parsed.GetValue(_write))
            return parsed.GetValue(_out) is null ? null : throw new BadInputException("--out goes with --write");
        string path = _input.Path(parsed), target = Target(parsed);
        var problems = new ProblemList();
        string text = SheetText.LoadFile(path, problems) ?? throw new BadInputException(problems.Sorted[0].ToString());
        SheetCurve edit = SheetCurve.TryWrite(path, text, check, out string? problem) ?? throw new BadInputException(problem!);
        string beside = target + ".new";
        try
        {
            // Written beside and moved over, so that a full disk leaves the sheet as it was.
            File.WriteAllText(beside, edit.Text);
            File.Move(beside, target, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{target} cannot be written: {e.Message}");
        }

        return edit;
    }
}
