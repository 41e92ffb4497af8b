using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>A kind of part that is proved on the pages of sensors.</summary>
public enum SensorKind
{
    /// <summary>A thermistor.</summary>
    Thermistor,

    /// <summary>The track of a servo's feedback, or a potentiometer.</summary>
    Track,

    /// <summary>An aspirator.</summary>
    Aspirator,
}

/// <summary>A sensor of the unit in the list.</summary>
/// <param name="Part">Its id.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Does">What it feels or tells, in words.</param>
public sealed record SensorLine(string Part, SensorKind Kind, string Does);

/// <summary>What is known of a sensor.</summary>
/// <param name="Text">It in a few words.</param>
/// <param name="Fit">How it compares with the sheet; not known while it is not measured or cannot be told.</param>
public sealed record SensorStanding(string Text, Fit Fit);

/// <summary>All sensors of a session's unit with what is known of each.</summary>
public static class SensorBoard
{
    /// <summary>Thermistors, tracks and aspirators of a unit, in the order of the sheet.</summary>
    public static IReadOnlyList<SensorLine> Of(UnitModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return
        [
            .. SensorPart.All(model).Select(id => new SensorLine(id, SensorKind.Thermistor, $"feels {SensorPart.TryFind(model, id, out _)!.Condition}")),
            .. AspiratorCheck.All(model).Where(id => AspiratorCheck.SensorOf(model, id) is not null).Select(id => new SensorLine(id, SensorKind.Aspirator, $"draws air past {SettingWords.PartName(model, AspiratorCheck.SensorOf(model, id)!)}")),
            .. TrackPart.All(model).Select(id => new SensorLine(id, SensorKind.Track, model.Parts[model.PartIndex(id)].Kind == "servo" ? "tells the module where it stands" : "tells the module how it is turned")),
        ];
    }

    /// <summary>The kind of a part, or null when it is no sensor.</summary>
    public static SensorKind? KindOf(UnitModel model, string part) => Of(model).FirstOrDefault(l => l.Part == part)?.Kind;

    /// <summary>What is known of a sensor. Takes a second or two for points that are new.</summary>
    public static async Task<SensorStanding> StandingAsync(OpenSession session, SensorLine line, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(line);
        return line.Kind switch
        {
            SensorKind.Thermistor => Thermistor(SensorPoints.Of(session, line.Part), await SensorPoints.CheckAsync(session, line.Part), units),
            SensorKind.Track => Track(session, line.Part),
            _ => Aspirator(session, line.Part),
        };
    }

    private static SensorStanding Thermistor(IReadOnlyList<SensorPoint> points, SensorFound found, UnitSystem units)
    {
        if (points.Count == 0) return new("not measured", Fit.NotKnown);
        if (points.Any(p => p.IsOpen)) return new("no connection", Fit.Differs);
        if (found.Check is not { } check) return new(points.Count == 1 ? "one point, one more is needed" : "points do not fit together", Fit.NotKnown);
        if (!check.FitHolds) return new("points do not lie on one curve", Fit.NotKnown);
        SensorAt worst = check.Over.Where(a => check.Verdict != SensorVerdict.OutOfTolerance || a.Verdict == SensorVerdict.OutOfTolerance).MaxBy(a => Math.Abs(a.ReadsWarmK))!;
        string off = $"{SensorWords.Side(worst.ReadsWarmK, units)} at {SensorWords.Degrees(worst.Kelvin, units)}";
        return check.Verdict switch
        {
            SensorVerdict.Good => new($"right, {SensorWords.Difference(worst.ReadsWarmK, units)} off at most", Fit.AsExpected),
            SensorVerdict.OutOfTolerance => new($"reads {off}", Fit.Differs),
            _ => new($"cannot tell yet, {off}", Fit.NotKnown),
        };
    }

    private static SensorStanding Track(OpenSession session, string part)
    {
        if (Sweeps.Of(session, part) is not { } sweep) return new("not swept", Fit.NotKnown);
        if (Sweeps.Judge(session.Unit, sweep).Test is not { } test) return new("sweep not finished", Fit.NotKnown);
        return new(SensorWords.Sweep(test), test.Passed switch { true => Fit.AsExpected, false => Fit.Differs, _ => Fit.NotKnown });
    }

    private static SensorStanding Aspirator(OpenSession session, string part)
    {
        string at = Aspirators.What(part).ToString();
        SessionEvent? last = session.Evidence.LastOrDefault(e => e.Kind == SessionEventKind.Reading && WrittenEntries.Body<ReadingBody>(e).At == at);
        if (last is null) return new("not looked at", Fit.NotKnown);
        string word = WrittenEntries.Body<ReadingBody>(last).Got;
        return session.Judged(last) switch
        {
            { Fit: Fit.AsExpected } => new($"{word}, as expected", Fit.AsExpected),
            { Fit: Fit.Differs } differs => new($"{word} instead of {string.Join(" or ", differs.Band.Words)}", Fit.Differs),
            _ => new(word, Fit.NotKnown),
        };
    }
}
