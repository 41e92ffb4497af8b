using System.Globalization;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Drawing;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Sensors;
using Drawn = Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Reports;

/// <summary>Fills the report of a session from its record.</summary>
internal sealed class ReportFiller(OpenSession session, PaperWanted wanted, Action<string>? say, CancellationToken stop)
{
    private readonly UnitOnSheet _unit = session.Unit;
    private readonly UnitModel _model = session.Unit.Model;
    private readonly UnitWords _words = new(session.Unit.Model, wanted.Units);
    private readonly SessionEvent[] _evidence = [.. session.Evidence];

    public SessionReportModel Fill(BenchPlan plan)
    {
        say?.Invoke("Holding every reading against a sound unit");
        ReportReading[] readings = [.. Readings().Select(Reading)];
        (SessionFindings findings, double[] coverage) = Found(_unit.NewDiagnosis(), plan);
        say?.Invoke("Drawing the unit");
        string drawing = Drawn.Write(UnitLayout.Of(_model), DrawingState.Of(_unit.Simulator, session.Stands, null, wanted.Units), null, forPaper: true);
        DateOnly started = DateOnly.FromDateTime(session.Record.Started.DateTime);
        return new(session.Record.Title, _model.Title, By(), started, wanted.Date < started ? started : wanted.Date, readings, Events(), findings, coverage, drawing);
    }

    private IEnumerable<SessionEvent> Readings() => _evidence.Where(e => e.Kind == SessionEventKind.Reading);

    private (SessionFindings Findings, double[] Coverage) Found(BenchDiagnosis bench, BenchPlan plan)
    {
        var coverage = new List<double>();
        var taken = new List<TakenReading>();
        var renewed = new Dictionary<string, int>(StringComparer.Ordinal);
        int count = Readings().Count();
        foreach (SessionEvent entry in _evidence)
        {
            stop.ThrowIfCancellationRequested();
            WrittenEntries.Apply(bench, _model, entry);
            if (entry.Kind != SessionEventKind.Reading)
            {
                renewed[WrittenEntries.Body<PartBody>(entry).Part] = (int)entry.Number;
                continue;
            }

            (Setting setting, Observable what, _) = Written(entry);
            taken.Add(new((int)entry.Number, setting, what));
            say?.Invoke(string.Create(CultureInfo.InvariantCulture, $"Working out what is proven after reading {taken.Count} of {count}"));
            coverage.Add(Proof.Judge(bench.Explain()).Coverage);
        }

        return (SessionFindings.Of(_model, bench, bench.Find(1), taken, renewed, plan.ShownByNone.ToHashSet()), [.. coverage]);
    }

    private (Setting Setting, Observable What, Outcome Outcome) Written(SessionEvent entry)
    {
        ReadingBody body = WrittenEntries.Body<ReadingBody>(entry);
        return WrittenEntries.Check(_model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
    }

    private ReportReading Reading(SessionEvent entry)
    {
        (Setting setting, Observable what, Outcome outcome) = Written(entry);
        Judgement judged = Judgement.Of(_unit, setting, what, outcome);
        ReadingVerdict verdict = judged.Fit switch { Fit.AsExpected => ReadingVerdict.AsExpected, Fit.Differs => ReadingVerdict.Differs, _ => ReadingVerdict.NotJudged };
        string got = PaperText.Given(WrittenEntries.Body<ReadingBody>(entry).Got, wanted.Units);
        return new((int)entry.Number, string.Join(" \u00B7 ", _words.Setting(setting)), $"{_words.Check(what)} ({what})", got, PaperText.Band(judged.Band, wanted.Units), verdict);
    }

    private ReportEvent[] Events()
    {
        var lost = session.Misfits.ToDictionary(m => m.Entry.Number, m => m.Reason);
        IEnumerable<ReportEvent> events = session.Entries.Where(e => !e.Undone)
            .Select(e => (Entry: e, Text: lost.TryGetValue(e.Number, out string? reason) ? $"Kept, but not readable with this sheet: {reason}" : Text(e)))
            .Where(e => e.Text is not null).Select(e => new ReportEvent((int)e.Entry.Number, DateOnly.FromDateTime(e.Entry.When.DateTime), e.Text!, e.Entry.By));
        return [.. events];
    }

    private string? Text(SessionEvent entry) => entry.Kind switch
    {
        SessionEventKind.Repaired => $"{_words.Part(WrittenEntries.Body<PartBody>(entry).Part)} repaired",
        SessionEventKind.Swapped => $"{_words.Part(WrittenEntries.Body<PartBody>(entry).Part)} exchanged",
        SessionEventKind.Symptom => $"Symptom: {WrittenEntries.Body<TextBody>(entry).Text}",
        SessionEventKind.Note => WrittenEntries.Body<TextBody>(entry).Text,
        SessionEventKind.Unreachable => $"Cannot be reached on this bench: {WrittenEntries.Body<CheckBody>(entry).At}",
        SessionEventKind.Sheet => string.Create(CultureInfo.InvariantCulture, $"Judged by version {WrittenEntries.Body<SheetBody>(entry).Version} of its sheet from here on"),
        SessionEventKind.SensorPoint => SensorPoints.Title(_model, WrittenEntries.Body<SensorPointBody>(entry)),
        SessionEventKind.Sweep when WrittenEntries.Body<SweepBody>(entry) is { IsStep: false } sweep => Sweeps.Title(_model, sweep),
        SessionEventKind.SlowDrive => DriveWords.Begun(WrittenEntries.Body<SlowDriveBody>(entry)),
        _ => null,
    };

    private string By()
    {
        string[] names = [.. session.Entries.Where(e => !e.Undone).Select(e => e.By).Distinct(StringComparer.Ordinal).Take(4)];
        return names.Length == 0 ? "nobody yet" : string.Join(", ", names);
    }
}
