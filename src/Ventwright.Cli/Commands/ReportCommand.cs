using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>bench report SESSION --out FILE</c>: the report of a session as PDF.</summary>
internal static class ReportCommand
{
    private static readonly Option<string?> To = new("--out") { Description = "The PDF file to write." };
    private static readonly Option<string?> Paper = new("--paper") { Description = "a4 (as without it) or letter." };
    private static readonly Option<string?> Units = new("--units") { Description = "metric (as without it) or us." };

    /// <summary>Options of the command.</summary>
    public static Option[] Options { get; } = [To, Paper, Units];

    /// <summary>Writes the report.</summary>
    public static int Run(SqliteSessionStore store, string id, ParseResult parsed, bool json)
    {
        string path = parsed.GetValue(To) ?? throw new BadInputException("say where the report goes: --out FILE");
        PaperSize paper = CardsCommand.OneOf("--paper", parsed.GetValue(Paper), ("a4", PaperSize.A4), ("letter", PaperSize.Letter));
        UnitSystem units = CardsCommand.OneOf("--units", parsed.GetValue(Units), ("metric", UnitSystem.Metric), ("us", UnitSystem.US));
        OpenSession session = BenchCommand.Open(store, id);
        try
        {
            // A place for the result is found out before the long work.
            using FileStream file = File.Create(path);
            var wanted = new PaperWanted(paper, units, DateOnly.FromDateTime(TimeProvider.System.GetLocalNow().DateTime));
            file.Write(SessionPaper.WriteAsync(session, PaperKind.Report, wanted, Progress.Say).GetAwaiter().GetResult());
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"cannot write '{path}': {e.Message.TrimEnd('.')}; name another file with --out");
        }
        catch (ReportException e)
        {
            throw new BadInputException(e.Message);
        }

        if (json) Json.Write(new { V = 1, File = path });
        else Screen.Line(path);
        return ExitCodes.Fine;
    }
}
