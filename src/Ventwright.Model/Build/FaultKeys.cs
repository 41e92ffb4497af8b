using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <summary>The keys <c>faults</c> and <c>cause</c> that every part may have: other weights, added faults, common causes.</summary>
internal static class FaultKeys
{
    /// <summary>Applies the keys to the faults that the part has so far.</summary>
    public static void Apply(PartBuilder part)
    {
        if (part.Keys.Map("faults") is { } faults)
        {
            foreach (SheetEntry entry in faults.Entries)
            {
                if (entry.Value is SheetMap added) Add(part, entry.Key, new MapReader(added, part.Keys.Problems));
                else Reweight(part, entry);
            }
        }

        if (part.Keys.Text("cause") is { } cause) Change(part.Unit, f => f.Part == part.Index, f => f with { CommonCause = cause });
    }

    private static void Reweight(PartBuilder part, SheetEntry entry)
    {
        string text = ValueReader.Text(entry.Value, entry.Key, part.Keys.Problems) ?? "";
        string family = $"{part.Id}:{entry.Key}";
        if (!QuantityText.TryParse(text, Dimension.None, out double times, out string? problem) || times < 0)
            part.Keys.Problems.Error("fault-weight", entry.Value.Mark, problem ?? $"a weight of {text} makes no sense", "write how many times as likely as usual: 3, or 0 to leave it out");
        else if (!part.Unit.Faults.Exists(f => f.Family == family))
            part.Unknown("faults", "fault", entry.Key, part.Unit.Faults.Where(f => f.Part == part.Index).Select(f => f.Family[(part.Id.Length + 1)..]).Distinct());
        else if (times == 0) part.Unit.Faults.RemoveAll(f => f.Family == family);
        else Change(part.Unit, f => f.Family == family, f => f with { Weight = f.Weight * times });
    }

    private static void Add(PartBuilder part, string name, MapReader keys)
    {
        List<Edit> edits = [];
        foreach ((string key, EditKind kind) in (ReadOnlySpan<(string, EditKind)>)[("set", EditKind.Set), ("scale", EditKind.Scale)])
        {
            foreach (SheetEntry entry in keys.Map(key)?.Entries ?? [])
            {
                int parameter = part.Unit.ParameterNames.IndexOf($"{part.Id} {entry.Key}");
                string text = ValueReader.Text(entry.Value, entry.Key, part.Keys.Problems) ?? "";
                if (parameter < 0)
                    part.Unknown("faults", "quantity of the part", entry.Key, part.Unit.ParameterNames.Where(n => n.StartsWith(part.Id + " ", StringComparison.Ordinal)).Select(n => n[(part.Id.Length + 1)..]));
                else if (!TryValue(text, kind, out double value)) part.Keys.Problems.Error("quantity", entry.Value.Mark, $"'{text}' is not a value");
                else edits.Add(new(parameter, kind, value));
            }
        }

        if (edits.Count == 0) part.Keys.Problems.Error("fault-edit", keys.Mark, $"the added fault {name} changes nothing", "give `set:` or `scale:` with a quantity of the part");
        part.Fault(name, keys.Number("weight", 1), keys.Text("symptom") ?? name, [.. edits]);
        keys.Done();
    }

    private static bool TryValue(string text, EditKind kind, out double value)
    {
        if (QuantityText.TryParse(text, Dimension.None, out value, out _)) return true;
        bool read = QuantityText.TryParseAny(text, out Quantity quantity, out _) && kind == EditKind.Set;
        value = quantity.Si;
        return read;
    }

    private static void Change(ModelBuilder unit, Predicate<Fault> which, Func<Fault, Fault> change)
    {
        for (int i = 0; i < unit.Faults.Count; i++)
        {
            if (which(unit.Faults[i])) unit.Faults[i] = change(unit.Faults[i]);
        }
    }
}
