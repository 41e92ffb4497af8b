using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Cli.Commands;

/// <summary><c>check SHEET</c>: all problems of a sheet, then its stated rows against the model.</summary>
internal static class CheckCommand
{
    private const long LargestExcerptBytes = 1 << 22;

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("check", "Finds every problem in a sheet and compares what the manual states with what the model computes.");
        var input = new SheetInput(command);
        command.SetAction(parsed => Run(input.Path(parsed), input.AsJson(parsed), input.Units(parsed)));
        return command;
    }

    private static int Run(string path, bool json, UnitSystem units)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Load(path, problems);
        StatedResult[] stated = model is null ? [] : StatedRows.Compare(model);
        int code = model is null || problems.HasErrors ? ExitCodes.BadInput
            : stated.Any(s => s.Answer == StatedAnswer.Disagrees) ? ExitCodes.No : ExitCodes.Fine;
        if (json) WriteJson(path, problems, stated, code, units);
        else WriteText(path, model, problems, stated, units);
        return code;
    }

    private static void WriteText(string path, UnitModel? model, ProblemList problems, StatedResult[] stated, UnitSystem units)
    {
        var texts = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (Problem problem in problems.Sorted) Screen.Line(problem.Render(TextOf(problem.At.File, texts)));
        foreach (StatedResult row in stated.Where(s => s.Answer != StatedAnswer.Agrees)) Screen.Line($"{row.Row.At}: {row.Sentence(units)}");
        if (model is null)
        {
            int errors = problems.Sorted.Count(p => p.Severity == Severity.Error);
            Screen.Line($"{path}: {errors} error{(errors == 1 ? "" : "s")}; the sheet cannot be used");
            return;
        }

        Screen.Line($"{path}: {model.Title}: {model.Parts.Length} parts, {model.Nets.Length} nets, {model.Hoses.Length} hoses, {model.Faults.Length} faults");
        if (stated.Length > 0) Screen.Line($"{stated.Count(s => s.Answer == StatedAnswer.Agrees)} of {stated.Length} stated rows agree with the model");
    }

    private static void WriteJson(string path, ProblemList problems, StatedResult[] stated, int code, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Sheet = path,
        Ok = code == ExitCodes.Fine,
        Problems = problems.Sorted.Select(p => new
        {
            p.At.File,
            p.At.Line,
            p.At.Column,
            Severity = p.Severity == Severity.Error ? "error" : "warning",
            p.Code,
            p.Message,
            p.Hint,
        }),
        Stated = stated.Select(s => new
        {
            At = s.Row.What.ToString(),
            Set = s.Row.Settings.ToDictionary(w => w.Name, w => w.Value),
            s.Row.Source,
            s.Row.At.File,
            s.Row.At.Line,
            Answer = s.Answer switch { StatedAnswer.Agrees => "agrees", StatedAnswer.Disagrees => "disagrees", _ => "no-answer" },
            Stated = s.StatedText(units),
            Text = s.Sentence(units),
            Computed = s.Band is null ? null : BandJson.Of(s.Band, units),
        }),
    });

    private static string TextOf(string file, Dictionary<string, string> texts)
    {
        if (texts.TryGetValue(file, out string? text)) return text;
        try
        {
            return texts[file] = new FileInfo(file) is { Exists: true, Length: < LargestExcerptBytes } ? File.ReadAllText(file) : "";
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return texts[file] = "";
        }
    }
}
