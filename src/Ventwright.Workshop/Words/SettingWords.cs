using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>One thing that has to be done to the bench to get from one setting to another.</summary>
/// <param name="Name">Name as the setting has it, such as <c>mode</c> or <c>stand-in RT1</c>.</param>
/// <param name="From">How it stands now, in words.</param>
/// <param name="To">How it has to stand, in words.</param>
/// <param name="Text">What to do, as a person would say it.</param>
public sealed record SettingStep(string Name, string From, string To, string Text);

/// <summary>Settings as people write, read and change them.</summary>
public static class SettingWords
{
    /// <summary>A setting from names and texts.</summary>
    /// <exception cref="RefusedException">Something does not fit the unit.</exception>
    public static Setting Make(UnitModel model, IEnumerable<(string Name, string Value)> words) =>
        Setting.TryMake(model, words, out string? problem) ?? throw new RefusedException(problem ?? "the setting cannot be made");

    /// <summary>A setting from those of the names and texts that the unit knows: what was written down for another version of its sheet may name more.</summary>
    public static Setting MakeOfKnown(UnitModel model, IEnumerable<(string Name, string Value)> words)
    {
        (string, string)[] all = [.. words];
        return Setting.TryMake(model, all, out _) ?? Setting.TryMake(model, all.Where(w => Setting.TryMake(model, [w], out _) is not null), out _) ?? Setting.Default(model);
    }

    /// <summary>Key of the setting that was written down, as the unit knows it: two that were written differently and mean the same have one key.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="set">Names and texts as they were kept.</param>
    public static string KeyOf(UnitModel model, IReadOnlyDictionary<string, string> set) => MakeOfKnown(model, set.Select(s => (s.Key, s.Value))).Key;

    /// <summary>Names and texts of a setting.</summary>
    public static IEnumerable<(string Name, string Value)> Pairs(Setting setting) => setting.Words.Select(w => (w.Key, w.Value));

    /// <summary>Words that leave the named parts alone on the table: all others are absent.</summary>
    /// <exception cref="RefusedException">A part is not known.</exception>
    public static IEnumerable<(string Name, string Value)> Alone(UnitModel model, IReadOnlyCollection<string> kept)
    {
        string[] ids = [.. model.Parts.Select(p => p.Id)];
        foreach (string id in kept)
        {
            if (CheckNames.Unknown("part", id, ids) is { } problem) throw new RefusedException(problem);
        }

        return kept.Count == 0 ? [] : ids.Where(id => !kept.Contains(id, StringComparer.Ordinal)).Select(id => ($"absent {id}", "yes"));
    }

    /// <summary>How a control, a condition, the supply or anything else stands in a setting; what the setting does not name stands as on the sheet.</summary>
    public static string Value(UnitModel model, Setting setting, string name)
    {
        if (setting.Words.TryGetValue(name, out string? value)) return value;
        if (name is "supply" or "pump") return "on";
        Control? control = Array.Find(model.Controls, c => string.Equals(c.Name, name, StringComparison.Ordinal));
        if (control is not null) return control.Positions.Length > 0 ? control.Positions[StartPosition(model, control)] : Number(model.Variables[control.Variable].Start);
        Condition? condition = Array.Find(model.Conditions, c => string.Equals(c.Name, name, StringComparison.Ordinal));
        return condition is null ? "" : Quantities.QuantityText.Format(model.Variables[condition.Variable].Start, condition.Dimension, Quantities.UnitSystem.Metric);
    }

    /// <summary>What has to be done to get from one setting to another; supply first when it goes off, last when it comes on.</summary>
    public static IReadOnlyList<SettingStep> Steps(UnitModel model, Setting stands, Setting wanted)
    {
        List<SettingStep> steps = [];
        foreach (string name in stands.Words.Keys.Union(wanted.Words.Keys))
        {
            string from = Value(model, stands, name), to = Value(model, wanted, name);
            if (!string.Equals(from, to, StringComparison.Ordinal)) steps.Add(new(name, from, to, Text(model, name, to)));
        }

        return [.. steps.Where(s => s.Text.Length > 0).OrderBy(s => Setting.IsAfter(s.Name) ? 0.5 : s.Name != "supply" ? 1 : s.To == "off" ? 0 : 2)];
    }

    /// <summary>What to do, as a person would say it at the bench.</summary>
    public static string Text(UnitModel model, string name, string to)
    {
        int space = name.IndexOf(' ', StringComparison.Ordinal);
        // What stood before is only done on the way to a setting, never undone.
        if (Setting.IsAfter(name)) return to.Length == 0 ? "" : $"First: {Text(model, name[(space + 1)..], to)} and let it settle";
        if (space > 0) return Verb(model, name[..space], name[(space + 1)..], to);
        return name switch
        {
            "supply" => to == "off" ? "Switch the supply off" : "Switch the supply on",
            "pump" => to == "off" ? "Stop the vacuum pump" : "Start the vacuum pump",
            _ => Array.Exists(model.Conditions, c => c.Name == name) ? $"Let {name} be {to}" : $"Turn {name} to {to}",
        };
    }

    /// <summary>A part's name first, its id second.</summary>
    public static string PartName(UnitModel model, string id)
    {
        int part = model.PartIndex(id);
        return part < 0 ? id : model.Parts[part].Title;
    }

    private static string Verb(UnitModel model, string verb, string target, string to) => (verb, to.Length > 0) switch
    {
        ("stand-in", true) => $"Put {to} in place of {PartName(model, target)}",
        ("stand-in", false) => $"Put {PartName(model, target)} back in its place",
        ("unplug", true) => $"Unplug {PartName(model, target)}",
        ("unplug", false) => $"Plug {PartName(model, target)} in",
        ("absent", true) => $"Take {PartName(model, target)} off the bench",
        ("absent", false) => $"Put {PartName(model, target)} on the bench",
        ("wiggle", true) => $"Wiggle {PartName(model, target)} while you read",
        ("wiggle", false) => $"Leave {PartName(model, target)} alone",
        ("feed", true) => $"Feed {target} with {to}",
        _ => $"Take the feed off {target}",
    };

    private static int StartPosition(UnitModel model, Control control) =>
        Math.Clamp((int)Math.Round(model.Variables[control.Variable].Start), 0, control.Positions.Length - 1);

    private static string Number(double value) => value.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture);
}
