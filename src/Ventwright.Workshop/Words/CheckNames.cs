using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop;

/// <summary>Checks as a person types them, held against what the unit has.</summary>
public static class CheckNames
{
    /// <summary>Reads a check such as <c>volts(mod.7)</c>.</summary>
    /// <exception cref="RefusedException">It is not a check, or names something that the sheet does not have.</exception>
    public static Observable Parse(UnitModel model, string text)
    {
        if (!Observable.TryParse(text, out Observable what, out string? problem)) throw new RefusedException(problem ?? $"'{text}' is not a check");
        if (Problem(model, what) is { } wrong) throw new RefusedException(wrong);
        return what;
    }

    /// <summary>What is wrong with a check on this unit, or null.</summary>
    public static string? Problem(UnitModel model, Observable what) => what.Kind switch
    {
        ObservableKind.Volts or ObservableKind.Ohms => Unknown("net", what.Target, model.Nets) ?? (what.Second is null ? null : Unknown("net", what.Second, model.Nets)),
        ObservableKind.Vacuum or ObservableKind.Falls => Unknown("hose", what.Target, model.Hoses),
        ObservableKind.Amps when model.PartIndex(what.Target) is var part and >= 0 && model.MainBranch[part] >= 0 => null,
        _ => model.Points.Any(p => p.What == what) ? null : NoSuchCheck(model, what),
    };

    /// <summary>Says that a name is unknown, with the nearest one; null when it is known.</summary>
    public static string? Unknown(string noun, string name, IReadOnlyCollection<string> known)
    {
        if (known.Contains(name, StringComparer.Ordinal)) return null;
        return $"there is no {noun} `{name}`{Hint(name, known)}";
    }

    private static string NoSuchCheck(UnitModel model, Observable what)
    {
        string[] parts = [.. model.Parts.Select(p => p.Id)];
        if (Unknown("part", what.Target, parts) is { } unknown) return unknown;
        string[] others = [.. model.Points.Where(p => p.What.Target == what.Target).Select(p => p.What.ToString()).Distinct()];
        return others.Length > 0 ? $"{what} cannot be looked at; on {what.Target} there is {string.Join(", ", others)}" : $"{what} cannot be looked at; `ventwright show SHEET {what.Target}` tells what the part has";
    }

    private static string Hint(string name, IReadOnlyCollection<string> known) =>
        NearMiss.Suggest(name, known) is { } near ? $"; did you mean `{near}`?" : $"; known are {string.Join(", ", known.Take(12))}{(known.Count > 12 ? ", ..." : "")}";
}
