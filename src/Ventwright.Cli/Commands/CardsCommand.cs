using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary><c>cards SHEET --out FOLDER</c>: paper for the bench.</summary>
internal static class CardsCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("cards", "Paper for the bench as PDF: the check list, the function chart and the pin table, with room for readings.");
        var input = new SheetInput(command);
        var folder = new Option<string?>("--out") { Description = "Folder for the files; made when it is not there." };
        var size = new Option<string?>("--paper") { Description = "a4 (as without it) or letter." };
        var units = new Option<string?>("--units") { Description = "metric (as without it) or us." };
        var minutes = new Option<string?>("--minutes") { Description = "Check list of what can be shown in so many minutes." };
        var date = new Option<string?>("--date") { Description = "Date on the paper, as 2026-03-01; today without it." };
        var blind = new Option<bool>("--blind") { Description = "Leave out what is expected, so that nobody is led." };
        var set = new Option<string[]>("--set") { Description = "A control or condition that the function chart holds, unless it turns it: fan=3.", Arity = ArgumentArity.OneOrMore };
        foreach (Option option in (Option[])[set, folder, size, units, minutes, date, blind]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            string to = parsed.GetValue(folder) ?? throw new BadInputException("say where the files go: --out FOLDER");
            PaperSize paper = OneOf("--paper", parsed.GetValue(size), ("a4", PaperSize.A4), ("letter", PaperSize.Letter));
            UnitSystem system = OneOf("--units", parsed.GetValue(units), (input.Units(parsed) == UnitSystem.US ? "us" : "metric", input.Units(parsed)), ("us", UnitSystem.US), ("metric", UnitSystem.Metric));
            (string, string)[] held = [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))];
            var options = new Wanted(paper, system, Minutes(parsed.GetValue(minutes)), Date(parsed.GetValue(date)), !parsed.GetValue(blind), held);
            UnitModel model = input.Load(parsed);
            MakeFolder(to);
            string[] files = WriteAll(model, options, to);
            if (input.AsJson(parsed)) Json.Write(new { V = 1, Files = files });
            else foreach (string file in files) Screen.Line(file);
            return ExitCodes.Fine;
        });
        return command;
    }

    private sealed record Wanted(PaperSize Paper, UnitSystem Units, double? Minutes, DateOnly Date, bool ShowExpected, (string Name, string Value)[] Held);

    private static string[] WriteAll(UnitModel model, Wanted wanted, string folder)
    {
        var simulator = new Simulator(model);
        FunctionChart chart = FunctionChart.TryMake(simulator, wanted.Held, out string? problem) ?? throw new BadInputException(problem ?? "the chart cannot be made");
        Progress.Say($"working out what {model.Faults.Length} faults do to every check");
        var bench = new BenchDiagnosis(simulator);
        Checklist list = Checklist.Of(BenchPlan.Make(bench, simulator, wanted.Minutes, []), bench, model, wanted.Units);
        PinTable pins = PinTable.Of(simulator, wanted.Units);
        return
        [
            WriteOne(folder, "check-list.pdf", to => ChecklistCard.Write(list, wanted.Paper, wanted.Date, wanted.ShowExpected, to)),
            WriteOne(folder, "function-chart.pdf", to => ChartCard.Write(model, chart, wanted.Paper, wanted.Date, to)),
            WriteOne(folder, "pin-table.pdf", to => PinCard.Write(pins, wanted.Paper, wanted.Date, wanted.ShowExpected, to)),
        ];
    }

    /// <summary>Finds out before the long work whether there will be a place for its result.</summary>
    private static void MakeFolder(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw NotWritable(folder, e);
        }
    }

    private static BadInputException NotWritable(string folder, Exception why) => new($"cannot write into '{folder}': {why.Message.TrimEnd('.')}; name another folder with --out");

    private static string WriteOne(string folder, string name, Action<Stream> write)
    {
        string path = Path.Combine(folder, name);
        try
        {
            using FileStream to = File.Create(path);
            write(to);
            return path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw NotWritable(folder, e);
        }
        catch (ReportException e)
        {
            throw new BadInputException(e.Message);
        }
    }

    /// <summary>The first choice when nothing was said.</summary>
    internal static T OneOf<T>(string option, string? text, params (string Word, T Value)[] choices)
    {
        if (text is null) return choices[0].Value;
        foreach ((string word, T value) in choices)
        {
            if (string.Equals(word, text, StringComparison.OrdinalIgnoreCase)) return value;
        }

        throw new BadInputException($"{option} is {string.Join(" or ", choices.Select(c => c.Word).Distinct())}, not '{text}'");
    }

    private static double? Minutes(string? text)
    {
        if (text is null) return null;
        bool good = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value > 0;
        return good ? value : throw new BadInputException($"--minutes wants a number above 0, not '{text}'");
    }

    private static DateOnly Date(string? text)
    {
        if (text is null) return DateOnly.FromDateTime(TimeProvider.System.GetLocalNow().DateTime);
        bool good = DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date);
        return good ? date : throw new BadInputException($"--date wants a date such as 2026-03-01, not '{text}'");
    }
}
