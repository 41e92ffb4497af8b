using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace Ventwright.Quantities;

/// <summary>
/// Reads and writes quantities as people write them: <c>42 ohm</c>, <c>4.7kohm</c>, <c>72 degF</c>, <c>1e3 Pa</c>. Numbers have a decimal
/// point and no thousands separators. Nothing here throws on bad text: the problem is put in plain words.
/// </summary>
public static partial class QuantityText
{
    private const int LongestText = 100;

    /// <summary>Reads a quantity whose dimension is known.</summary>
    /// <param name="text">A number with a unit; a unit is not wanted for <see cref="Dimension.None"/> and may be missing for <see cref="Dimension.Fraction"/>.</param>
    /// <param name="expected">What must be measured.</param>
    /// <param name="si">The value in SI; 0 when the text is no good.</param>
    /// <param name="problem">What is wrong with the text, or null.</param>
    public static bool TryParse(string text, Dimension expected, out double si, [NotNullWhen(false)] out string? problem)
    {
        si = 0;
        if (!TrySplit(text, out double number, out string unit, out problem)) return false;
        problem = Convert(text, number, unit, expected, out si);
        return problem is null;
    }

    /// <summary>
    /// Reads a quantity and finds its dimension from the unit. <c>degC</c>, <c>degF</c> and <c>K</c> are taken as temperatures, not as
    /// differences; a number without unit is <see cref="Dimension.None"/>.
    /// </summary>
    public static bool TryParseAny(string text, out Quantity quantity, [NotNullWhen(false)] out string? problem)
    {
        quantity = default;
        if (!TrySplit(text, out double number, out string unit, out problem)) return false;
        Dimension dimension = Units.FindAny(unit)?.Dimension ?? Dimension.None;
        problem = Convert(text, number, unit, dimension, out double si);
        if (problem is not null) return false;
        quantity = new Quantity(si, dimension);
        return true;
    }

    private static string? Convert(string text, double number, string symbol, Dimension expected, out double si)
    {
        si = 0;
        Unit? unit = Units.Find(symbol, expected);
        bool plain = symbol.Length == 0 && expected is (Dimension.None or Dimension.Fraction);
        if (unit is null && !plain) return WrongUnit(text, symbol, expected);
        double value = unit?.ToSi(number) ?? number;
        if (!double.IsFinite(value)) return $"'{Quote(text)}' is too large";
        if (expected == Dimension.Temperature && value < 0) return $"'{Quote(text)}' is below absolute zero";
        si = value;
        return null;
    }

    private static string WrongUnit(string text, string symbol, Dimension expected)
    {
        if (symbol.Length == 0) return $"no unit: write '{Quote(text)} {DimensionWords.LikelyUnit(expected)}'";
        string wanted = $"{DimensionWords.Noun(expected)} such as '{DimensionWords.Example(expected)}' was expected";
        if (Units.FindAny(symbol) is { } other) return $"'{Quote(text)}' is {DimensionWords.Noun(other.Dimension)}; {wanted}";
        if (symbol[0] is ',' or '_' or '\'') return $"'{Quote(text)}' is not a number; use a decimal point and no thousands separators";
        IEnumerable<string> likely = Units.All.Where(u => u.Dimension == expected).Select(u => u.Symbol);
        string? near = NearMiss.Suggest(symbol, likely) ?? NearMiss.Suggest(symbol, Units.Symbols);
        return $"unknown unit '{Quote(symbol)}'; {(near is null ? wanted : $"did you mean '{near}'?")}";
    }

    /// <summary>Splits normalised text into number and unit symbol.</summary>
    private static bool TrySplit(string text, out double number, out string unit, [NotNullWhen(false)] out string? problem)
    {
        (number, unit, problem) = (0, "", null);
        string clean = Normalise(text);
        int length = NumberLength(clean);
        if (text.Length > LongestText) problem = $"'{Quote(text)}' is too long for a quantity";
        else if (clean.Length == 0) problem = "a number was expected, nothing is there";
        else if (length == 0) problem = $"'{Quote(text)}' is not a number with a unit, such as '12 V'";
        if (problem is not null) return false;

        number = double.Parse(clean.AsSpan(0, length), NumberStyles.Float, CultureInfo.InvariantCulture);
        unit = clean[length..].TrimStart();
        if (double.IsFinite(number)) return true;
        problem = $"'{Quote(text)}' is too large";
        return false;
    }

    /// <summary>Every way to write a unit of a dimension: symbols, other names, and both with the signs that mean the same.</summary>
    public static IEnumerable<string> UnitWords(Dimension dimension)
    {
        foreach (string word in Units.All.Where(u => u.Dimension == dimension).SelectMany(u => (string?[])[u.Symbol, u.Alias]).OfType<string>())
        {
            yield return word;
            string signed = word.Replace("ohm", "\u03A9", StringComparison.Ordinal).Replace("deg", "\u00B0", StringComparison.Ordinal);
            if (dimension is Dimension.Area or Dimension.Volume or Dimension.VolumeFlow) signed = signed.Replace('2', '\u00B2').Replace('3', '\u00B3');
            if (signed != word) yield return signed;
            if (word.StartsWith('u')) yield return "\u00B5" + word[1..];
        }
    }

    /// <summary>Signs that mean the same are made one: both omegas, both mus, raised figures, the degree sign, the true minus.</summary>
    private static string Normalise(string text)
    {
        string clean = text.Trim();
        if (clean.Length > LongestText || System.Text.Ascii.IsValid(clean)) return clean;
        return clean.Replace("\u03A9", "ohm", StringComparison.Ordinal).Replace("\u2126", "ohm", StringComparison.Ordinal)
            .Replace('\u00B5', 'u').Replace('\u03BC', 'u').Replace('\u00B2', '2').Replace('\u00B3', '3')
            .Replace("\u00B0", "deg", StringComparison.Ordinal).Replace('\u00B7', '.').Replace('\u2212', '-')
            .Replace("\u00B1", "+-", StringComparison.Ordinal).Replace('\u00A0', ' ');
    }

    /// <summary>Length of the number at the start of the text: sign, digits, point and digits, exponent. 0 when there is none.</summary>
    private static int NumberLength(string text)
    {
        int i = text.Length > 0 && text[0] is ('+' or '-') ? 1 : 0;
        int digits = Digits(text, i);
        if (digits == 0) return 0;
        i += digits;
        if (i < text.Length && text[i] == '.' && Digits(text, i + 1) is > 0 and int decimals) i += 1 + decimals;
        if (i < text.Length && text[i] is ('e' or 'E'))
        {
            int sign = i + 1 < text.Length && text[i + 1] is ('+' or '-') ? 1 : 0;
            if (Digits(text, i + 1 + sign) is > 0 and int exponent) i += 1 + sign + exponent;
        }

        return i;
    }

    private static int Digits(string text, int start)
    {
        int end = start;
        while (end < text.Length && char.IsAsciiDigit(text[end])) end++;
        return end - start;
    }

    /// <summary>The text for a message: short, without control characters.</summary>
    private static string Quote(string text)
    {
        string shown = text.Trim();
        if (shown.Length > 40) shown = string.Concat(shown.AsSpan(0, 37), "...");
        return string.Concat(shown.Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '?' : c));
    }
}
