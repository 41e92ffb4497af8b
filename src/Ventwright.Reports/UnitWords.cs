using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Reports;

/// <summary>Settings, checks and places in words that a person would say at the bench.</summary>
internal sealed class UnitWords(UnitModel model, UnitSystem units)
{
    /// <summary>How to make a setting, one thing a line. What it does not name stands as at the start.</summary>
    public IReadOnlyList<string> Setting(Setting setting) =>
        setting.Words.Count == 0 ? ["as at the start"] : [.. setting.Words.OrderBy(w => Order(w.Key)).Select(w => Step(w.Key, w.Value))];

    /// <summary>How the controls stand at the start, such as <c>mode off, warmth 0.5</c>.</summary>
    public string Start() => model.Controls.Length == 0 ? "no controls" : string.Join(", ", model.Controls.Select(c => $"{c.Name} {StartOf(c)}"));

    /// <summary>A check in words.</summary>
    public string Check(Observable what) => what.Kind switch
    {
        ObservableKind.Volts => what.Second is null ? $"Volts at {what.Target}, to ground" : $"Volts from {what.Target} to {what.Second}",
        ObservableKind.Ohms => what.Second is null or "gnd" ? $"Ohms from {what.Target} to ground" : $"Ohms between {what.Target} and {what.Second}",
        ObservableKind.Amps => what.Target == "supply" ? "Current from the supply" : $"Current through {Part(what.Target)}",
        ObservableKind.Vacuum => $"Vacuum in hose {what.Target}",
        ObservableKind.Position => $"Where {Part(what.Target)} stands",
        ObservableKind.Motion => $"How {Part(what.Target)} runs",
        ObservableKind.Airflow => $"Air at {Part(what.Target)}",
        ObservableKind.Light => $"Light of {Part(what.Target)}",
        ObservableKind.Sound => $"Sound of {Part(what.Target)} as the setting is made",
        ObservableKind.Loses => $"Vacuum that {Part(what.Target)} loses in 1 min, alone on a hand pump at {PaperText.Quantity(Readings.HandPumpPa, Dimension.Pressure, units)}",
        ObservableKind.Falls => $"Vacuum that hose {what.Target} and all that hangs on it lose in 1 min, the vacuum supply taken off",
        ObservableKind.Sweep => $"Track of {Part(what.Target)}, unplugged, swept slowly from end to end: does the ohmmeter follow?",
        ObservableKind.Contacts => $"Contacts of {Part(what.Target)}, the plug pulled: green, white or burnt?",
        _ => $"Seconds that {Part(what.Target)} takes from end to end, supply straight on its motor",
    };

    /// <summary>Name of a part with its id behind it, unless the id says the same.</summary>
    public string Part(string id)
    {
        int part = model.PartIndex(id);
        if (part < 0) return id;
        string name = model.Parts[part].Name;
        return string.Equals(name.Replace(' ', '-'), id, StringComparison.OrdinalIgnoreCase) ? name : $"{name} ({id})";
    }

    /// <summary>A fault in words, with its part.</summary>
    public string Fault(Fault fault) => $"{Owner(fault)}: {FaultName(fault)}";

    /// <summary>A fault in words, without its part.</summary>
    public static string FaultName(Fault fault)
    {
        string[] words = fault.Name.Replace('-', ' ').Split('@');
        return words.Length == 1 ? words[0] : $"{words[0]} ({words[1]})";
    }

    /// <summary>Part of a fault, in words.</summary>
    public string Owner(Fault fault) => Part(model.Parts[fault.Part].Id);

    /// <summary>Faults by part, a line a part.</summary>
    public IReadOnlyList<string> ByPart(IEnumerable<Fault> faults) =>
        [.. faults.GroupBy(f => f.Part).Select(g => $"{Owner(g.First())}: {string.Join(", ", g.Select(FaultName))}")];

    /// <summary>Groups of faults that look the same: those of one part together on a line, those of several a line each.</summary>
    public IReadOnlyList<string> Alike(IEnumerable<IReadOnlyList<Fault>> groups)
    {
        var byOnePart = groups.ToLookup(g => g.All(f => f.Part == g[0].Part));
        IEnumerable<string> one = byOnePart[true].GroupBy(g => g[0].Part).Select(p => $"{Owner(p.First()[0])}: {string.Join("; ", p.Select(g => string.Join(" = ", g.Select(FaultName))))}");
        return [.. one, .. byOnePart[false].Select(g => string.Join("  =  ", g.Select(Fault)))];
    }

    /// <summary>Answers to a check that is told in words; empty for numbers. The pin of a plug is written in.</summary>
    public IReadOnlyList<string> Answers(Observable what)
    {
        IReadOnlyList<string> words = Readings.WordsOf(model, what);
        return what.Kind == ObservableKind.Contacts ? [words[0], Readings.CorrodedAt + "________"] : words;
    }

    private int Order(string name)
    {
        int control = Array.FindIndex(model.Controls, c => c.Name == name);
        return control >= 0 ? control : name is "supply" or "pump" ? 100 : 200;
    }

    private string Step(string name, string value)
    {
        int blank = name.IndexOf(' ', StringComparison.Ordinal);
        if (blank < 0) return Plain(name, value);
        if (Simulation.Setting.IsAfter(name)) return $"coming from {Step(name[(blank + 1)..], value)}";
        string what = name[(blank + 1)..], part = Part(what);
        return name[..blank] switch
        {
            "stand-in" => $"in place of {part}: {PaperText.Given(value, units)}",
            "unplug" => $"unplugged: {part}",
            "wiggle" => $"wiggled while read: {part}",
            "absent" => $"taken out: {part}",
            "feed" => $"{what} fed with {PaperText.Given(value, units)}",
            _ => $"{name} {value}",
        };
    }

    private string Plain(string name, string value)
    {
        if (name is "supply" or "pump") return $"{name} {value}";
        Control? control = Array.Find(model.Controls, c => c.Name == name);
        if (control is null) return $"{name} at {PaperText.Given(value, units)}";
        return control.Positions.Length > 0 ? $"{name} {value}" : $"{name} {value}{End(control, value)}";
    }

    private static string End(Control dial, string value)
    {
        if (!double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double at)) return "";
        return at == dial.Low ? " (low end)" : at == dial.High ? " (high end)" : "";
    }

    private string StartOf(Control control)
    {
        double at = model.Variables[control.Variable].Start;
        if (control.Positions.Length == 0) return at.ToString("0.##", CultureInfo.InvariantCulture);
        return control.Positions[Math.Clamp((int)at, 0, control.Positions.Length - 1)];
    }
}
