using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation;

/// <summary>
/// How the unit stands on the bench: controls, conditions, supply, pump, stand-ins, what is unplugged, absent or fed directly. Immutable; two settings
/// with the same <see cref="Key"/> are the same.
/// </summary>
public sealed class Setting
{
    private const string After = "after ";

    private Setting(UnitModel model, SortedDictionary<string, string> words)
    {
        Words = words;
        Key = string.Join(" ", words.Select(w => $"{w.Key}={w.Value}"));
        Start = [.. model.Variables.Select(v => v.Start)];
    }

    /// <summary>Name and text of everything that differs from the sheet's own starting point.</summary>
    public IReadOnlyDictionary<string, string> Words { get; }

    /// <summary>The state that it leaves the bench in: running, or dead for resistance measurements when the supply is off.</summary>
    public PointState State => Words.TryGetValue("supply", out string? supply) && supply == "off" ? PointState.Dead : PointState.Running;

    /// <summary>Canonical text.</summary>
    public string Key { get; }

    /// <summary>Starting values of the variables, with controls and conditions as set.</summary>
    internal double[] Start { get; }

    /// <summary>Parameter changes that the setting makes (stand-ins, unplugged and absent parts, supply off).</summary>
    internal List<Edit> Edits { get; } = [];

    /// <summary>Nets fed directly.</summary>
    internal List<(int Net, double Volts, double Ohms)> Feeds { get; } = [];

    /// <summary>Whether the pump or engine runs.</summary>
    internal bool Pump { get; private set; } = true;

    /// <summary><see cref="Key"/> without what is wiggled: sound units with the same one show the same.</summary>
    public string StillKey => Wiggled is null ? Key : string.Join(" ", Words.Where(w => !w.Key.StartsWith("wiggle ", StringComparison.Ordinal)).Select(w => $"{w.Key}={w.Value}"));

    /// <summary>Id of the part that is wiggled while a check is made, or null. It changes nothing in a sound unit.</summary>
    public string? Wiggled { get; private set; }

    /// <summary>How the unit stood before, where the way there matters (hysteresis); null for a unit that was just laid on the bench in this setting.</summary>
    internal Setting? Before { get; private set; }

    /// <summary>The sheet's own starting point.</summary>
    public static Setting Default(UnitModel model) => new(model, []);

    /// <summary>
    /// Makes a setting from names and texts. Names: controls (<c>mode=screen</c>, <c>warmth=0.4</c>), conditions (<c>cabin=30 degC</c>), <c>supply</c> and
    /// <c>pump</c> (on, off), and with a verb before the name: <c>stand-in RT1=12.1 kohm</c>, <c>unplug C3=yes</c>, <c>absent M1=yes</c>,
    /// <c>feed net=12 V</c>, <c>wiggle X5=on</c>. <c>after</c> before any of them says how it stood before this setting was made:
    /// <c>after stand-in RT3=30 kohm</c>.
    /// </summary>
    /// <param name="model">The unit.</param>
    /// <param name="words">Names and texts.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static Setting? TryMake(UnitModel model, IEnumerable<(string Name, string Value)> words, out string? problem)
    {
        var sorted = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach ((string name, string value) in words) sorted[name.Trim()] = value.Trim();
        var setting = new Setting(model, sorted);
        foreach ((string name, string value) in sorted.Where(w => !IsAfter(w.Key)))
        {
            problem = setting.Apply(model, name, value);
            if (problem is not null) return null;
        }

        return setting.Remember(model, sorted, out problem) ? setting : null;
    }

    /// <summary>Whether a word of a setting says how it stood before.</summary>
    public static bool IsAfter(string name) => name.StartsWith(After, StringComparison.Ordinal);

    private bool Remember(UnitModel model, SortedDictionary<string, string> words, out string? problem)
    {
        problem = null;
        if (!words.Keys.Any(IsAfter)) return true;
        var before = words.Where(w => !IsAfter(w.Key)).ToDictionary(w => w.Key, w => w.Value, StringComparer.Ordinal);
        foreach ((string name, string value) in words.Where(w => IsAfter(w.Key))) before[name[After.Length..].Trim()] = value;
        Before = TryMake(model, before.Select(w => (w.Key, w.Value)), out problem);
        return Before is not null;
    }

    private string? Apply(UnitModel model, string name, string value)
    {
        int space = name.IndexOf(' ', StringComparison.Ordinal);
        if (space > 0) return ApplyVerb(model, name[..space], name[(space + 1)..].Trim(), value);
        if (name is "supply" or "pump")
        {
            if (value is not ("on" or "off")) return $"{name} is on or off, not '{value}'";
            if (name == "pump") Pump = value == "on";
            else if (value == "off") Edits.Add(new(model.Electric[model.SupplyBranch].Parameter + 1, EditKind.Set, double.PositiveInfinity));
            return null;
        }

        Control? control = Array.Find(model.Controls, c => string.Equals(c.Name, name, StringComparison.Ordinal));
        if (control is not null) return ApplyControl(control, value);
        Condition? condition = Array.Find(model.Conditions, c => string.Equals(c.Name, name, StringComparison.Ordinal));
        if (condition is null) return Near($"there is no control or condition '{name}'", name, [.. model.Controls.Select(c => c.Name), .. model.Conditions.Select(c => c.Name), "supply", "pump"]);
        if (!TryCondition(value, condition.Dimension, out double si, out string? problem)) return $"{name}: {problem}";
        Start[condition.Variable] = si;
        return null;
    }

    private static bool TryCondition(string value, Dimension dimension, out double si, out string? problem)
    {
        if (QuantityText.TryParse(value, dimension, out si, out problem)) return true;
        string letter = value.Length > 1 && char.IsDigit(value[^2]) ? value[^1..] : "";
        return letter is "C" or "F" && QuantityText.TryParse(value[..^1] + " deg" + letter, dimension, out si, out problem);
    }

    private string? ApplyControl(Control control, string value)
    {
        if (control.Positions.Length > 0)
        {
            int position = Array.IndexOf(control.Positions, value);
            if (position < 0) return Near($"{control.Name} has no position '{value}'", value, control.Positions);
            Start[control.Variable] = position;
            return null;
        }

        if (!double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double dial) || !(dial >= control.Low && dial <= control.High))
            return string.Create(CultureInfo.InvariantCulture, $"{control.Name} is a dial from {control.Low} to {control.High}, '{value}' is not on it");
        Start[control.Variable] = dial;
        return null;
    }

    private string? ApplyVerb(UnitModel model, string verb, string name, string value)
    {
        if (verb == "feed")
        {
            int net = Array.IndexOf(model.Nets, name);
            if (net <= 0) return Near($"there is no net '{name}' to feed", name, model.Nets);
            if (!QuantityText.TryParse(value, Dimension.Volt, out double volts, out string? problem)) return problem;
            Feeds.Add((net, volts, 0.02));
            return null;
        }

        int part = model.PartIndex(name);
        if (part < 0) return Near($"there is no part '{name}'", name, model.Parts.Select(p => p.Id));
        if (verb is "unplug" or "absent")
        {
            Remove(model, part);
            return null;
        }

        if (verb == "wiggle") return Wiggle(name, value);
        return verb == "stand-in" ? StandIn(model, part, name, value) : $"'{verb}' is not something to do with {name}: stand-in, unplug, absent, feed, wiggle";
    }

    private string? Wiggle(string name, string value)
    {
        if (value is not ("on" or "yes")) return $"wiggle {name} is on, not '{value}'; leave it out when the part is left alone";
        if (Wiggled is not null) return $"{Wiggled} and {name} are wiggled at the same time; a reading tells more with one of them";
        Wiggled = name;
        return null;
    }

    private void Remove(UnitModel model, int part)
    {
        foreach (ElectricBranch branch in model.Electric.Where(b => b.Part == part)) Edits.Add(OpenEdit(branch));
        foreach (VacuumBranch branch in model.Vacuum.Where(b => b.Part == part)) Edits.Add(new(branch.Parameter, EditKind.Set, 0));
        foreach (AirBranch branch in model.Air.Where(b => b.Part == part)) Edits.Add(new(branch.Parameter, EditKind.Set, 0));
    }

    private static Edit OpenEdit(ElectricBranch branch) => branch.Law switch
    {
        ElectricLaw.Source => new(branch.Parameter + 1, EditKind.Set, double.PositiveInfinity),
        ElectricLaw.Thermistor => new(branch.Parameter + 1, EditKind.Set, double.PositiveInfinity),
        ElectricLaw.Stage => new(branch.Parameter + 4, EditKind.Set, 0),
        ElectricLaw.Diode => new(branch.Parameter, EditKind.Set, 1e6),
        _ => new(branch.Parameter, EditKind.Set, double.PositiveInfinity),
    };

    private string? StandIn(UnitModel model, int part, string name, string value)
    {
        ElectricBranch? sensor = Array.Find(model.Electric, b => b.Part == part && b.Law == ElectricLaw.Thermistor);
        if (sensor is not null)
        {
            if (!QuantityText.TryParse(value, Dimension.Ohm, out double ohms, out string? problem)) return $"{name}: {problem}";
            Edits.Add(new(sensor.Parameter + 3, EditKind.Set, ohms));
            Edits.Add(new(sensor.Parameter + 1, EditKind.Set, 1));
            return null;
        }

        int variable = model.MainVariable[part];
        if (variable < 0) return $"nothing can stand in for {name}: it is neither a sensor nor a switch nor a mover";
        double? held = value is "open" or "off" ? 0 : value is "closed" or "on" ? 1 : double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number : null;
        if (held is null) return $"'{value}' is nothing that can stand in for {name}: write open, closed, or a position from 0 to 1";
        Edits.Add(new(model.Variables[variable].Parameter, EditKind.Set, held.Value));
        return null;
    }

    private static string Near(string message, string name, IEnumerable<string> known)
    {
        string? near = NearMiss.Suggest(name, known);
        return near is not null ? $"{message}; did you mean '{near}'?" : $"{message}; known are {string.Join(", ", known.Take(10))}";
    }
}
