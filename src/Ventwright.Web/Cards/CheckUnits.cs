using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Web.Cards;

/// <summary>Units offered beside the field of a reading, the usual one first.</summary>
internal static class CheckUnits
{
    /// <summary>Symbols for a kind of check; empty where the answer is a word.</summary>
    public static IReadOnlyList<string> For(ObservableKind kind, UnitSystem system) => kind switch
    {
        ObservableKind.Volts => ["V", "mV"],
        ObservableKind.Ohms => ["ohm", "kohm", "Mohm", "mohm"],
        ObservableKind.Amps => ["A", "mA"],
        ObservableKind.Vacuum or ObservableKind.Loses or ObservableKind.Falls => system == UnitSystem.US ? ["inHg", "kPa"] : ["kPa", "inHg"],
        ObservableKind.Seconds => ["s"],
        _ => [],
    };

    /// <summary>What was typed, with the unit beside the field where the person wrote none.</summary>
    public static string WithUnit(string typed, string unit)
    {
        string text = typed.Trim();
        return text.Length > 0 && char.IsAsciiDigit(text[^1]) ? $"{text} {unit}" : text;
    }
}
