using Ventwright.Bench.Sensors;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>A point of a sensor in a session.</summary>
/// <param name="Entry">Its entry.</param>
/// <param name="Written">As it was written.</param>
/// <param name="Reading">As it is read; the resistance is infinite where the meter showed no connection.</param>
public sealed record SensorPoint(SessionEvent Entry, SensorPointBody Written, SensorReading Reading)
{
    /// <summary>Whether the meter showed no connection.</summary>
    public bool IsOpen => double.IsInfinity(Reading.Ohms);
}

/// <summary>A kind of bath that the person is led through.</summary>
public enum PointStep
{
    /// <summary>Ice and water.</summary>
    Ice,

    /// <summary>The room.</summary>
    Room,

    /// <summary>Hot water beside a thermometer, or boiling water.</summary>
    Hot,
}

/// <summary>The points of a session's sensors: checked, kept as entries, read again. They are the same on every device, and can be taken back.</summary>
public static class SensorPoints
{
    /// <summary>Words for baths in the record; they never change.</summary>
    public const string Ice = "ice", Boiling = "boiling", Thermometer = "thermometer";

    /// <summary>From here on water counts as hot, K; <see cref="Bath.At"/> names it so too.</summary>
    private const double HotK = 308;

    private const double LeastK = 200, MostK = 450;

    /// <summary>Checks and keeps a point.</summary>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public static SessionEvent Enter(OpenSession session, SensorPointBody body, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(body);
        if (SensorPart.TryFind(session.Unit.Model, body.Part, out string? problem) is null) throw new RefusedException(problem!);
        SensorPointBody clean = body with { At = Clean(body.At), Ohms = body.Ohms.Trim(), Thermometer = Clean(body.Thermometer), Meter = Clean(body.Meter) };
        SensorReading reading = Read(clean);
        if (reading.Bath.Kelvin is < LeastK or > MostK) throw new RefusedException($"temperature: {clean.At} is outside what a thermistor of a climate unit is for (-73 .. 177 degC)");
        SensorText.Meter("accuracy of the meter", clean.Meter);
        return session.Keep(clean, by);
    }

    /// <summary>Reads a point as written.</summary>
    /// <exception cref="RefusedException">Something about it cannot be.</exception>
    public static SensorReading Read(SensorPointBody body)
    {
        ArgumentNullException.ThrowIfNull(body);
        return new(BathOf(body), OhmsOf(body.Ohms));
    }

    /// <summary>The points of a sensor that stand, by temperature; those that cannot be read are passed over.</summary>
    public static IReadOnlyList<SensorPoint> Of(OpenSession session, string part)
    {
        ArgumentNullException.ThrowIfNull(session);
        return [.. All(session).Where(p => p.Written.Part == part).OrderBy(p => p.Reading.Bath.Kelvin)];
    }

    /// <summary>The points of one kind of bath.</summary>
    public static IReadOnlyList<SensorPoint> Of(IReadOnlyList<SensorPoint> points, PointStep step) => [.. points.Where(p => StepOf(p) == step)];

    /// <summary>The bath that comes next: the first without a point, null when each has one.</summary>
    public static PointStep? Next(IReadOnlyList<SensorPoint> points) => Enum.GetValues<PointStep>().Cast<PointStep?>().FirstOrDefault(s => Of(points, s!.Value).Count == 0);

    /// <summary>How a bath is made, with its cautions, before its temperature is known: a room at 21 degC, hot water at 50 degC.</summary>
    public static Bath Guide(PointStep step) => step switch
    {
        PointStep.Ice => Bath.Ice,
        PointStep.Room => Bath.At(294.15, Bath.UsualThermometerK),
        _ => Bath.At(323.15, Bath.UsualThermometerK),
    };

    /// <summary>How boiling water is made, with its cautions; at sea level where the place is not told.</summary>
    public static Bath GuideBoiling(string? place) => SensorText.BoilingAt("altitude or air pressure", string.IsNullOrWhiteSpace(place) ? "0 m" : place);

    /// <summary>What was last written in the session, for the fields of the next point: the place for boiling water, the accuracies. Null where nothing was.</summary>
    public static (string? Place, string? Thermometer, string? Meter) Habits(OpenSession session)
    {
        SensorPointBody[] all = [.. All(session).OrderBy(p => p.Entry.Number).Select(p => p.Written)];
        return (all.LastOrDefault(b => b.Bath == Boiling)?.At, all.LastOrDefault(b => b.Thermometer is not null)?.Thermometer, all.LastOrDefault()?.Meter);
    }

    /// <summary>The sensor against the sheet, worked out in the background and kept: the same points give the same answer at once.</summary>
    public static Task<SensorFound> CheckAsync(OpenSession session, string part)
    {
        ArgumentNullException.ThrowIfNull(session);
        IReadOnlyList<SensorPoint> points = Of(session, part);
        string? meter = points.OrderBy(p => p.Entry.Number).LastOrDefault()?.Written.Meter;
        return session.Unit.SensorWork.CheckAsync(part, [.. points.Select(p => p.Reading)], SensorText.Meter("accuracy of the meter", meter));
    }

    /// <summary>The check of the session that a point answers, or null when the sheet has none.</summary>
    public static BareCheck? CheckOf(OpenSession session, SensorPoint point)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(point);
        return SensorPart.TryFind(session.Unit.Model, point.Written.Part, out _) is { } sensor ? BareReadings.Of(session.Unit.Model, sensor, point.Reading.Bath.Kelvin) : null;
    }

    /// <summary>Takes a point back, and the reading that it was kept as.</summary>
    public static void TakeBack(OpenSession session, SensorPoint point)
    {
        ArgumentNullException.ThrowIfNull(session);
        if (CheckOf(session, point) is { } check && BareReadings.Kept(session, check, point.Written.Ohms) is { } reading) session.Undo(reading.Number);
        session.Undo(point.Entry.Number);
    }

    /// <summary>A point in one line: <c>Cabin sensor (RT1): 30.1 kohm in the ice bath</c>.</summary>
    public static string Title(Model.Kernel.UnitModel model, SensorPointBody body) => $"{SettingWords.PartName(model, body.Part)}: {body.Ohms} {body.Bath switch
    {
        Ice => "in the ice bath",
        Boiling => $"in boiling water at {body.At}",
        _ => $"beside a thermometer at {body.At}",
    }}";

    private static IEnumerable<SensorPoint> All(OpenSession session) =>
        session.Entries.Where(e => e is { Kind: SessionEventKind.SensorPoint, Undone: false }).Select(Known).OfType<SensorPoint>();

    private static SensorPoint? Known(SessionEvent entry)
    {
        try
        {
            SensorPointBody body = WrittenEntries.Body<SensorPointBody>(entry);
            return new(entry, body, Read(body));
        }
        catch (RefusedException)
        {
            // Written by a program that reads more; it stays in the record.
            return null;
        }
    }

    private static PointStep StepOf(SensorPoint point) => point.Reading.Bath.Kind switch
    {
        BathKind.Ice => PointStep.Ice,
        BathKind.Boiling => PointStep.Hot,
        _ => point.Reading.Bath.Kelvin > HotK ? PointStep.Hot : PointStep.Room,
    };

    private static Bath BathOf(SensorPointBody body) => body.Bath switch
    {
        Ice => Bath.Ice,
        Boiling => SensorText.BoilingAt("altitude or air pressure", Required(body.At, "write the altitude or the air pressure: water does not boil at 100 degC everywhere")),
        Thermometer => Bath.At(SensorText.Temperature("temperature", Required(body.At, "write what the thermometer shows")), SensorText.Thermometer("accuracy of the thermometer", body.Thermometer)),
        _ => throw new RefusedException($"'{body.Bath}' is no bath; known are {Ice}, {Boiling}, {Thermometer}"),
    };

    private static double OhmsOf(string text)
    {
        if (text.Trim().ToUpperInvariant() is "OL" or "OPEN") return double.PositiveInfinity;
        double ohms = SensorText.Quantity("resistance", text, Dimension.Ohm);
        return ohms > 0 ? ohms : throw new RefusedException("resistance: that of a sensor is above 0 ohm; at 0 it is shorted, or the meter's leads touch");
    }

    private static string Required(string? text, string problem) => string.IsNullOrWhiteSpace(text) ? throw new RefusedException(problem) : text;

    private static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
