using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Bench.StandIns;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>What is told of a part when something stands in for it.</summary>
public enum StandInAsk
{
    /// <summary>A temperature, or ohms.</summary>
    Temperature,

    /// <summary>A position, 0..1 or a word.</summary>
    Position,

    /// <summary>Open or closed, or the temperature or pressure that it switches by.</summary>
    Contact,

    /// <summary>A position or a depression.</summary>
    Pull,

    /// <summary>On, off, or a depression.</summary>
    Source,
}

/// <summary>A part that something can stand in for.</summary>
/// <param name="Part">Its id.</param>
/// <param name="Ask">What is told.</param>
/// <param name="Words">Words that may be told.</param>
public sealed record StandInLine(string Part, StandInAsk Ask, IReadOnlyList<string> Words);

/// <summary>What is to stand in, out of which drawer.</summary>
/// <param name="Part">Id of the part.</param>
/// <param name="Value">Temperature, ohms, position, word or depression.</param>
/// <param name="Drawer"><c>E24</c> or another series, or <see cref="StandIns.Own"/>.</param>
/// <param name="OwnDrawer">The person's own resistors: one on each line, value, tolerance, count.</param>
/// <param name="MostResistors">Most resistors to join, 1 to 3.</param>
public sealed record StandInWish(string Part, string Value, string Drawer, string OwnDrawer, int MostResistors);

/// <summary>What to put in place of a part.</summary>
/// <param name="StandIn">The stand-in.</param>
/// <param name="Drawer">The drawer it was looked for in.</param>
public sealed record StandInFound(StandIn StandIn, Drawer Drawer);

/// <summary>Stand-ins as a person asks for them.</summary>
public static class StandIns
{
    /// <summary>The choice of the person's own drawer.</summary>
    public const string Own = "own";

    /// <summary>Drawers that are offered.</summary>
    public static IReadOnlyList<string> Drawers { get; } = ["E12", "E24", "E96", Own];

    /// <summary>Parts that something can stand in for, sensors first.</summary>
    public static IReadOnlyList<StandInLine> Of(UnitModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return [.. StandInSearch.All(model).Select(id => Line(model, id)).OfType<StandInLine>().OrderBy(l => l.Ask)];
    }

    /// <summary>The part of that id, or null when nothing can stand in for it.</summary>
    public static StandInLine? Of(UnitModel model, string part) => Of(model).FirstOrDefault(l => l.Part == part);

    /// <summary>Works a stand-in out. Takes a moment for a large drawer.</summary>
    /// <exception cref="RefusedException">The value or the drawer cannot be used.</exception>
    public static StandInFound Find(UnitOnSheet unit, StandInWish wish)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(wish);
        string? problem;
        Drawer? drawer = wish.Drawer == Own ? Drawer.TryParse("own drawer", wish.OwnDrawer, out problem) : Drawers.Contains(wish.Drawer) ? Drawer.TryRead(wish.Drawer, out problem) : Unknown(wish.Drawer, out problem);
        if (drawer is null) throw new RefusedException(problem!);
        if (wish.MostResistors is < 1 or > 3) throw new RefusedException("1, 2 or 3 resistors are joined");
        StandIn? found = StandInSearch.TryMake(unit.Simulator, wish.Part, Value(unit.Model, wish), drawer, new(MostResistors: wish.MostResistors), out problem);
        return found is null ? throw new RefusedException(problem!) : new(found, drawer);
    }

    /// <summary>Puts a stand-in on the session's panel, once it is in its place.</summary>
    /// <exception cref="RefusedException">The model has no word for it.</exception>
    public static SessionEvent Fit(OpenSession session, StandIn standIn, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(standIn);
        (string name, string value) = standIn.Word ?? throw new RefusedException($"the panel has no word for what stands in for {standIn.Part}");
        return session.Turn(name, value, by);
    }

    /// <summary>Whether the panel stands as a stand-in has it.</summary>
    public static bool IsFitted(OpenSession session, StandIn standIn)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(standIn);
        return standIn.Word is { } word && session.Stands.Words.TryGetValue(word.Name, out string? value) && value == word.Value;
    }

    /// <summary>A drawer's list without blanks that say nothing, for keeping.</summary>
    /// <exception cref="RefusedException">It cannot be read.</exception>
    public static string Compact(string drawer)
    {
        Drawer? read = Drawer.TryParse("own drawer", drawer, out string? problem);
        if (read is null) throw new RefusedException(problem!);
        return string.Join('\n', read.Resistors.Select(r => string.Create(
            CultureInfo.InvariantCulture, $"{SensorWords.Plain(r.Ohms)},{r.Tolerance * 100:0.###}%{(r.Count == int.MaxValue ? "" : $",{r.Count}")}")));
    }

    private static Drawer? Unknown(string drawer, out string? problem)
    {
        problem = $"'{drawer}' is no drawer; known are {string.Join(", ", Drawers)}";
        return null;
    }

    /// <summary>Steps name a sensor's stand-in in ohms; the search goes by the temperature that these are on the sheet's curve.</summary>
    private static string Value(UnitModel model, StandInWish wish)
    {
        if (SensorPart.TryFind(model, wish.Part, out _) is not { } sensor || !QuantityText.TryParse(wish.Value, Dimension.Ohm, out double ohms, out _)) return wish.Value.Trim();
        if (!(ohms > 0)) throw new RefusedException("a resistance in a sensor's place is above 0 ohm");
        return SensorText.Exact(sensor.Curve.Kelvin(ohms)) + " K";
    }

    private static StandInLine? Line(UnitModel model, string id)
    {
        string[] words = model.PositionWords[model.PartIndex(id)] is { } known ? [known.AtRest, known.Moved] : [];
        return model.Parts[model.PartIndex(id)].Kind switch
        {
            "thermistor" => new(id, StandInAsk.Temperature, []),
            "servo" or "potentiometer" => TrackPart.TryFind(model, id, out _) is null ? null : new(id, StandInAsk.Position, words),
            "thermostatic-switch" or "pressure-switch" => new(id, StandInAsk.Contact, ["closed", "open"]),
            "vacuum-source" => new(id, StandInAsk.Source, ["on", "off"]),
            _ => new(id, StandInAsk.Pull, words),
        };
    }
}
