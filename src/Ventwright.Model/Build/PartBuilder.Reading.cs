using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <content>Reading names of nets, hoses, spaces, controls and flaps off the part's keys.</content>
public sealed partial class PartBuilder
{
    /// <summary>The same part with other keys in front, for a nested group such as <c>ports</c>.</summary>
    public PartBuilder With(MapReader keys) => new(Unit, Index, keys);

    /// <summary>The net that a key names; ground after a problem.</summary>
    public int Net(string key) => Keys.Scalar(key, true) is { } name ? NetOf(name) : 0;

    /// <summary>The net of a name on the sheet.</summary>
    public int NetOf(SheetScalar name)
    {
        Unit.NetUses.Add((name.Text, Index, name.Mark));
        return Unit.Net(name.Text);
    }

    /// <summary>The two nets that a key names.</summary>
    public (int A, int B) NetPair(string key) => Pair(key, "nets", NetOf);

    /// <summary>The hose that a key names; the atmosphere after a problem.</summary>
    public int Hose(string key) => Keys.Scalar(key, true) is { } name ? HoseOf(name) : 0;

    /// <summary>The hose of a name on the sheet.</summary>
    public int HoseOf(SheetScalar name)
    {
        Unit.HoseUses.Add((name.Text, Index, name.Mark));
        return Unit.Hose(name.Text);
    }

    /// <summary>The two hoses that a key names.</summary>
    public (int A, int B) HosePair(string key) => Pair(key, "hoses", HoseOf);

    /// <summary>The air space that a key names.</summary>
    public int Space(string key) => Unit.Space(Keys.Text(key, true) ?? "outside");

    /// <summary>The pairs of nets in a list of pairs.</summary>
    public IEnumerable<(int A, int B)> PairsOf(SheetNode? node)
    {
        if (node is null) yield break;
        if (node is not SheetList list)
        {
            Keys.Problems.Error("net-pairs", node.Mark, $"{node.Kind} stands where pairs of nets were expected", "write [[net, net], ...]");
            yield break;
        }

        foreach (SheetNode item in list.Items)
        {
            List<SheetScalar> names = (ValueReader.Names(item, "contact", Keys.Problems) ?? []);
            if (names.Count == 2) yield return (NetOf(names[0]), NetOf(names[1]));
            else Keys.Problems.Error("net-pairs", item.Mark, $"a contact joins two nets, this names {names.Count}", "write [net, net]");
        }
    }

    /// <summary>The control that a key names.</summary>
    public Control? Control(string key)
    {
        if (Keys.Scalar(key, true) is not { } name) return null;
        Control? control = Unit.Controls.Find(c => string.Equals(c.Name, name.Text, StringComparison.Ordinal));
        if (control is null) Unknown(key, "control", name.Text, Unit.Controls.Select(c => c.Name));
        return control;
    }

    /// <summary>The variable of the condition that a key names; -1 after a problem.</summary>
    public int Condition(string key, Dimension dimension)
    {
        if (Keys.Scalar(key, true) is not { } name) return -1;
        Condition? condition = Unit.Conditions.Find(c => string.Equals(c.Name, name.Text, StringComparison.Ordinal));
        if (condition is null) Unknown(key, "condition", name.Text, Unit.Conditions.Select(c => c.Name));
        else if (condition.Dimension != dimension) Keys.Problems.Error("condition-dimension", name.Mark, $"{name.Text} is a {condition.Dimension}, {Id} feels a {dimension}");
        return condition?.Variable ?? -1;
    }

    /// <summary>What turns a shaft: its variable and the values at both ends.</summary>
    public (int Variable, double Low, double High)? Shaft(string key)
    {
        if (Keys.Scalar(key, true) is not { } name) return null;
        Control? control = Unit.Controls.Find(c => string.Equals(c.Name, name.Text, StringComparison.Ordinal));
        if (control is not null) return (control.Variable, control.Low, control.High);
        int variable = Unit.FindVariable(name.Text);
        if (variable >= 0) return (variable, 0, 1);
        Unknown(key, "control, flap or servo", name.Text, Unit.VariableNames);
        return null;
    }

    /// <summary>The position of a selector that an entry is for; -1 after a problem.</summary>
    public int Position(Control control, SheetEntry entry)
    {
        int position = Array.IndexOf(control.Positions, entry.Key);
        if (position >= 0) return position;
        string? near = NearMiss.Suggest(entry.Key, control.Positions);
        Keys.Problems.Error(
            "unknown-position", entry.KeyMark, $"{control.Name} has no position `{entry.Key}`",
            near is null ? $"its positions are {string.Join(", ", control.Positions)}" : $"did you mean `{near}`?");
        return -1;
    }

    /// <summary>Reports positions of a selector that a table of contacts or ports leaves out.</summary>
    public void CoverAll(Control control, SheetMap table)
    {
        string[] missing = [.. control.Positions.Where(p => table[p] is null)];
        if (missing.Length > 0)
            Keys.Problems.Error("position-not-covered", table.Mark, $"{Id} says nothing about {control.Name} = {string.Join(", ", missing)}", "add the position, with `none` if it joins nothing");
    }

    /// <summary>Lets the variable move the flaps that the part's <c>moves</c> names.</summary>
    public void Movers(int mover)
    {
        bool backward = string.Equals(Keys.Word("turns", ["forward", "backward"]), "backward", StringComparison.Ordinal);
        foreach (SheetScalar name in Keys.Scalars("moves"))
        {
            int flap = Unit.FindVariable(name.Text);
            if (flap < 0 || Unit.Variables[flap].Law != VariableLaw.Linkage)
                Unknown("moves", "flap", name.Text, Unit.Variables.Where(v => v.Law == VariableLaw.Linkage).Select(v => v.Name));
            else if (Unit.Variables[flap].Input >= 0)
                Keys.Problems.Error("flap-two-movers", name.Mark, $"{name.Text} is moved by {Unit.Variables[Unit.Variables[flap].Input].Name} already");
            else Unit.Link(flap, mover, backward ? 1 : 0, backward ? -1 : 1);
        }
    }

    /// <summary>The gate of an air path: <c>FLAP word</c>, or <c>FLAP</c> for open when moved.</summary>
    public Gate? FlapGate(string key)
    {
        if (Keys.Scalar(key) is not { } text) return null;
        string[] words = text.Text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        int flap = Unit.FindVariable(words[0]), part = Unit.FindPart(words[0]);
        if (flap < 0 || !Unit.PositionWords.TryGetValue(part, out var names))
        {
            Unknown(key, "flap", words[0], Unit.PositionWords.Keys.Select(p => Unit.Parts[p].Id));
            return null;
        }

        string word = words.Length == 1 ? names.Moved : string.Join(' ', words[1..]);
        if (string.Equals(word, names.Moved, StringComparison.Ordinal)) return Gate.Fraction(flap);
        if (string.Equals(word, names.AtRest, StringComparison.Ordinal)) return Gate.Fraction(flap, false);
        Unknown(key, $"position of {words[0]}", word, [names.AtRest, names.Moved]);
        return null;
    }

    /// <summary>Reports a name that does not exist, with the nearest that does.</summary>
    public void Unknown(string key, string what, string name, IEnumerable<string> known)
    {
        string? near = NearMiss.Suggest(name, known);
        string list = string.Join(", ", known.Take(8));
        Keys.Problems.Error("unknown-name", Keys.MarkOf(key), $"{Id}: no {what} `{name}`", near is not null ? $"did you mean `{near}`?" : list.Length > 0 ? $"known are {list}" : null);
    }

    private (int A, int B) Pair(string key, string what, Func<SheetScalar, int> node)
    {
        List<SheetScalar> names = Keys.Scalars(key, true);
        if (names.Count == 2) return (node(names[0]), node(names[1]));
        if (Keys.Has(key)) Keys.Problems.Error("pair", Keys.MarkOf(key), $"{Id}: `{key}` names {names.Count} {what}", $"write the two {what} as [a, b]");
        return (0, 0);
    }
}
