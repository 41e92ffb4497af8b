using System.Globalization;
using Ventwright.Bench;
using Ventwright.Quantities;
using Ventwright.Reports.Page;
using Ventwright.Workshop;

namespace Ventwright.Reports;

/// <summary>What there is on paper for a session.</summary>
public enum PaperKind
{
    /// <summary>The bench plan as a list to tick.</summary>
    CheckList,

    /// <summary>Settings against all that moves, blows or lights.</summary>
    FunctionChart,

    /// <summary>Pins of module and test connectors.</summary>
    PinTable,

    /// <summary>What was read, done, found and proven.</summary>
    Report,
}

/// <summary>How the paper is to be.</summary>
/// <param name="Paper">Size.</param>
/// <param name="Units">Units of bands and readings.</param>
/// <param name="Date">Date in the foot and in the file.</param>
/// <param name="ShowExpected">Whether lists say what is expected.</param>
public sealed record PaperWanted(PaperSize Paper, UnitSystem Units, DateOnly Date, bool ShowExpected = true);

/// <summary>Paper for a session of the store.</summary>
public static class SessionPaper
{
    /// <summary>Name for the file.</summary>
    public static string FileName(OpenSession session, PaperKind kind) => $"{kind switch
    {
        PaperKind.CheckList => "check-list",
        PaperKind.FunctionChart => "function-chart",
        PaperKind.PinTable => "pin-table",
        _ => "report",
    }}-{session.Record.Id}.pdf";

    /// <summary>Makes a piece of paper. Check list and report need the plan, which takes a minute or so the first time.</summary>
    /// <param name="session">The session.</param>
    /// <param name="kind">What.</param>
    /// <param name="wanted">How.</param>
    /// <param name="say">Is told in words what is being worked out; on any thread.</param>
    /// <param name="stop">Breaks off.</param>
    /// <returns>The PDF.</returns>
    /// <exception cref="ReportException">The system has no fit font.</exception>
    /// <exception cref="OperationCanceledException">It was broken off.</exception>
    public static async Task<byte[]> WriteAsync(OpenSession session, PaperKind kind, PaperWanted wanted, Action<string>? say = null, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(wanted);
        using var to = new MemoryStream();
        UnitOnSheet unit = session.Unit;
        switch (kind)
        {
            case PaperKind.CheckList:
                Checklist list = await ListAsync(session, wanted.Units, say, stop).ConfigureAwait(false);
                ChecklistCard.Write(list, wanted.Paper, wanted.Date, wanted.ShowExpected, to);
                break;
            case PaperKind.FunctionChart:
                say?.Invoke("Trying every setting of the controls");
                ChartCard.Write(unit.Model, await Task.Run(() => unit.Chart, stop).ConfigureAwait(false), wanted.Paper, wanted.Date, to);
                break;
            case PaperKind.PinTable:
                say?.Invoke("Working out what every pin should show");
                PinCard.Write(await Task.Run(() => PinTable.Of(unit.Simulator, wanted.Units), stop).ConfigureAwait(false), wanted.Paper, wanted.Date, wanted.ShowExpected, to);
                break;
            default:
                SessionReport.Write(await ReportAsync(session, wanted, say, stop).ConfigureAwait(false), wanted.Paper, to);
                break;
        }

        return to.ToArray();
    }

    /// <summary>The bench plan of a session as a list with numbered lines.</summary>
    public static async Task<Checklist> ListAsync(OpenSession session, UnitSystem units, Action<string>? say = null, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        UnitOnSheet unit = session.Unit;
        BenchPlan plan = await PlanAsync(unit, say, stop).ConfigureAwait(false);
        return await Task.Run(() => Checklist.Of(plan, unit.NewDiagnosis(), unit.Model, units), stop).ConfigureAwait(false);
    }

    /// <summary>What the report of a session says.</summary>
    public static async Task<SessionReportModel> ReportAsync(OpenSession session, PaperWanted wanted, Action<string>? say = null, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(wanted);
        BenchPlan plan = await PlanAsync(session.Unit, say, stop).ConfigureAwait(false);
        return await Task.Run(() => new ReportFiller(session, wanted, say, stop).Fill(plan), stop).ConfigureAwait(false);
    }

    private static async Task<BenchPlan> PlanAsync(UnitOnSheet unit, Action<string>? say, CancellationToken stop)
    {
        if (!unit.Plan.IsCompleted) say?.Invoke(string.Create(CultureInfo.InvariantCulture, $"Working out what {unit.Model.Faults.Length} faults do to every check; the first time takes a minute or so"));
        return (await unit.Plan.WaitAsync(stop).ConfigureAwait(false)).Plan;
    }
}
