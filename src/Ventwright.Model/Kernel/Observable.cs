using Ventwright.Quantities;

namespace Ventwright.Model.Kernel;

/// <summary>What a check looks at.</summary>
public enum ObservableKind
{
    /// <summary>Volts of a net to ground, or between two nets.</summary>
    Volts,

    /// <summary>Ohms between two nets (or a net and ground) with the supply off, as a meter reads them.</summary>
    Ohms,

    /// <summary>Amperes through a part.</summary>
    Amps,

    /// <summary>Depression of a hose.</summary>
    Vacuum,

    /// <summary>Position of a flap, actuator or servo: a word, with a share of the travel behind it.</summary>
    Position,

    /// <summary>Whether and how fast a motor runs: still, slow, runs.</summary>
    Motion,

    /// <summary>Air out of a vent or through an air path: none, weak, fair, strong.</summary>
    Airflow,

    /// <summary>A lamp: dark, dim, lit.</summary>
    Light,

    /// <summary>What a coil does when the setting is made: silent, clicks, buzzes.</summary>
    Sound,

    /// <summary>Depression that an isolated hose loses in a minute.</summary>
    Loses,

    /// <summary>Seconds that a servo takes from end to end with supply straight on its motor.</summary>
    Seconds,

    /// <summary>Depression that a hose loses in a minute once the supply of vacuum is taken off, the unit as it stands.</summary>
    Falls,

    /// <summary>What the contacts of a pulled plug look like: clean, or corroded at one pin or several.</summary>
    Contacts,

    /// <summary>Whether a meter on the wiper of a track follows while the shaft is turned from end to end, the part alone.</summary>
    Sweep,
}

/// <summary>A thing to look at, written as <c>volts(mod.7)</c> or <c>ohms(mod.3, gnd)</c>.</summary>
/// <param name="Kind">What is looked at.</param>
/// <param name="Target">Net, hose, vent or part.</param>
/// <param name="Second">Second net, or null.</param>
public readonly record struct Observable(ObservableKind Kind, string Target, string? Second = null)
{
    /// <summary>Reads <c>kind(target)</c> or <c>kind(net, net)</c>; says what is wrong in <paramref name="problem"/> if it cannot.</summary>
    public static bool TryParse(string text, out Observable observable, out string? problem)
    {
        observable = default;
        problem = null;
        int open = text.IndexOf('(', StringComparison.Ordinal);
        if (open <= 0 || !text.TrimEnd().EndsWith(')'))
        {
            problem = $"'{text}' is not a check; write it as volts(net), ohms(net, net), position(part), airflow(vent), ...";
            return false;
        }

        string word = text[..open].Trim();
        if (!Enum.TryParse(word, ignoreCase: true, out ObservableKind kind) || char.IsDigit(word[0]))
        {
            string? near = Quantities.NearMiss.Suggest(word, Enum.GetNames<ObservableKind>().Select(Lower));
            problem = $"'{word}' is not something to look at" + (near is null
                ? $"; known are {string.Join(", ", Enum.GetNames<ObservableKind>().Select(Lower))}" : $"; did you mean '{near}'?");
            return false;
        }

        string[] names = text.TrimEnd()[(open + 1)..^1].Split(',', StringSplitOptions.TrimEntries);
        bool two = kind is ObservableKind.Volts or ObservableKind.Ohms;
        if (names.Length > (two ? 2 : 1) || names.Any(n => n.Length == 0))
        {
            problem = $"'{text}' names {names.Length} things; {Lower(word)} takes one{(two ? " or two nets" : "")}";
            return false;
        }

        observable = new(kind, names[0], names.Length == 2 ? names[1] : kind == ObservableKind.Ohms ? "gnd" : null);
        return true;
    }

    /// <summary>What the observable measures; none for one that is told in words.</summary>
    public Dimension Dimension() => Kind switch
    {
        ObservableKind.Volts => Quantities.Dimension.Volt,
        ObservableKind.Ohms => Quantities.Dimension.Ohm,
        ObservableKind.Amps => Quantities.Dimension.Ampere,
        ObservableKind.Vacuum or ObservableKind.Loses or ObservableKind.Falls => Quantities.Dimension.Pressure,
        ObservableKind.Seconds => Quantities.Dimension.Second,
        _ => Quantities.Dimension.None,
    };

    /// <inheritdoc/>
    public override string ToString() => $"{Lower(Kind.ToString())}({Target}{(Second is null ? "" : ", " + Second)})";

    private static string Lower(string name) => name.ToLowerInvariant();
}
