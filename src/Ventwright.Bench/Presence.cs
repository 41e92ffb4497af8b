using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>What is on the bench: a unit is built up piece by piece, from a part alone on the table to all of it.</summary>
public sealed class Presence
{
    private const string Absent = "absent ";
    private readonly bool[] _present;

    private Presence(UnitModel model, IReadOnlyList<(string Name, string Value)> words)
    {
        Words = words;
        var absent = words.Where(w => w.Name.StartsWith(Absent, StringComparison.Ordinal)).Select(w => w.Name[Absent.Length..]).ToHashSet(StringComparer.Ordinal);
        _present = [.. model.Parts.Select(p => !absent.Contains(p.Id))];
        HasSupply = _present[model.Electric[model.SupplyBranch].Part] || words.Any(w => w.Name.StartsWith("feed ", StringComparison.Ordinal));
    }

    /// <summary>What is absent, unplugged or fed directly, as a setting names it.</summary>
    public IReadOnlyList<(string Name, string Value)> Words { get; }

    /// <summary>Whether the supply is on the bench, or a net is fed directly.</summary>
    public bool HasSupply { get; }

    /// <summary>The whole unit.</summary>
    public static Presence Whole(UnitModel model) => new(model, []);

    /// <summary>What is on the bench, from words of a setting: <c>absent X=yes</c>, <c>unplug X=yes</c>, <c>feed net=12 V</c>.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="words">The words; others are refused.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static Presence? TryMake(UnitModel model, IEnumerable<(string Name, string Value)> words, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(model);
        (string Name, string Value)[] all = [.. words];
        string? other = all.Select(w => w.Name).FirstOrDefault(n => !IsPresence(n));
        problem = other is null ? null : $"'{other}' does not say what is on the bench: absent, unplug, feed do";
        return problem is null && Setting.TryMake(model, all, out problem) is { } setting ? new(model, [.. setting.Words.Select(w => (w.Key, w.Value))]) : null;
    }

    /// <summary>Whether a word of a setting says what is on the bench.</summary>
    public static bool IsPresence(string name) => name.Split(' ')[0] is "absent" or "unplug" or "feed" && name.Contains(' ', StringComparison.Ordinal);

    /// <summary>Whether a part is on the bench.</summary>
    /// <param name="part">Index of the part.</param>
    public bool Has(int part) => _present[part];

    /// <summary>Whether a check can be made with what is there: its part is; for volts and vacuum, something else at the net or hose, and at the place.</summary>
    public bool Allows(UnitModel model, Point point)
    {
        ArgumentNullException.ThrowIfNull(model);
        if (Words.Count == 0) return true;
        if (point.When == PointState.Running && !HasSupply) return false;
        if (point.What.Kind is not (ObservableKind.Volts or ObservableKind.Vacuum)) return _present[point.Part];
        bool reachable = Enumerable.Range(0, _present.Length).Any(p => _present[p] && model.Parts[p].Place == point.Place);
        return reachable && Touching(model, point.What).Any(Has);
    }

    private static IEnumerable<int> Touching(UnitModel model, Observable what)
    {
        int node = Array.IndexOf(what.Kind == ObservableKind.Volts ? model.Nets : model.Hoses, what.Target);
        return what.Kind == ObservableKind.Volts
            ? model.Electric.Where(b => b.A == node || b.B == node).Select(b => b.Part)
            : model.Vacuum.Where(b => b.A == node || b.B == node).Select(b => b.Part).Concat(model.VacuumSources.Where(s => s.Hose == node).Select(s => s.Part));
    }
}
