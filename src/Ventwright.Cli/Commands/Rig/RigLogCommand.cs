using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig;
using Ventwright.Rig.Logs;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig import-log SHEET LOG</c>: readings from a log of any logger, taken at its steady moments.</summary>
internal static class RigLogCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("import-log", "Takes readings from a CSV log at moments when everything stood still; `find` reads the result.");
        var input = new SheetInput(command);
        var log = new Argument<string>("LOG") { Description = "The log, CSV, of this program or of any logger." };
        var map = new Option<string?>("--map") { Description = "A YAML file that says what the columns are. Not needed for the program's own logs." };
        var to = new Option<string?>("--out") { Description = "Writes the readings to this file, instead of to the screen." };
        command.Arguments.Add(log);
        command.Options.Add(map);
        command.Options.Add(to);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            IReadOnlyList<LoggedReading> readings = Read(parsed.GetRequiredValue(log), parsed.GetValue(map), model);
            foreach (LoggedReading reading in readings.DistinctBy(r => string.Join(' ', r.Set))) SettingWords.Make(model, reading.Set);
            if (parsed.GetValue(to) is { } path) Write(path, LogImport.ToYaml(readings));
            if (input.AsJson(parsed))
            {
                Json.Write(new
                {
                    V = 1,
                    Readings = readings.Select(r => new
                    {
                        Set = r.Set.ToDictionary(s => s.Name, s => s.Value),
                        At = r.At.ToString(),
                        r.Got,
                        Value = Json.Number(QuantityText.ToUnit(r.Si, r.At.Dimension(), UnitSystem.Metric)),
                        Unit = QuantityText.Unit(r.At.Dimension(), UnitSystem.Metric),
                        r.FromS,
                        r.ToS,
                    }),
                });
            }
            else if (parsed.GetValue(to) is null) Screen.Line(LogImport.ToYaml(readings).TrimEnd('\n'));
            else Screen.Line($"{readings.Count} readings from {readings.Select(r => r.FromS).Distinct().Count()} steady moments are in {parsed.GetValue(to)}.");
            return readings.Count > 0 ? ExitCodes.Fine : ExitCodes.No;
        });
        return command;
    }

    private static IReadOnlyList<LoggedReading> Read(string path, string? map, UnitModel model)
    {
        var problems = new ProblemList();
        try
        {
            return LogImport.Read(path, map, model, problems)
                ?? throw new BadInputException("the map of the log cannot be used:\n" + string.Join('\n', problems.Sorted.Select(p => p.ToString())));
        }
        catch (RigException e)
        {
            throw new BadInputException(e.Message);
        }
    }

    private static void Write(string path, string text)
    {
        try
        {
            File.WriteAllText(path, text);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new BadInputException($"cannot write {path}: {e.Message.TrimEnd('.')}");
        }
    }
}
