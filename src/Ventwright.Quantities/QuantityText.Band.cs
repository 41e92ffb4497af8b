using System.Diagnostics.CodeAnalysis;

namespace Ventwright.Quantities;

public static partial class QuantityText
{
    /// <summary>
    /// Reads a band: <c>4.6 .. 5.0 V</c>, <c>900 mV .. 1.1 V</c>, <c>0..1</c>, <c>5.0 V +- 0.2 V</c>, <c>42 ohm +- 5 %</c>. A unit that is
    /// missing on one side is taken from the other. A percentage is of the value in the middle, except for fractions, where it is added as
    /// points (<c>50 % +- 2 %</c> is 48 to 52 %). Temperatures take a difference: <c>25 degC +- 1 K</c>.
    /// </summary>
    /// <param name="text">The band.</param>
    /// <param name="expected">What must be measured.</param>
    /// <param name="low">Lower end in SI.</param>
    /// <param name="high">Upper end in SI, not below <paramref name="low"/>.</param>
    /// <param name="problem">What is wrong with the text, or null.</param>
    public static bool TryParseBand(string text, Dimension expected, out double low, out double high, [NotNullWhen(false)] out string? problem)
    {
        (low, high) = (0, 0);
        string clean = Normalise(text);
        if (clean.Length > LongestText)
        {
            problem = $"'{Quote(text)}' is too long for a band";
            return false;
        }

        int dots = clean.IndexOf("..", StringComparison.Ordinal);
        int plusMinus = clean.IndexOf("+-", StringComparison.Ordinal);
        if (dots >= 0) problem = FromEnds(clean[..dots], clean[(dots + 2)..], expected, out low, out high);
        else if (plusMinus >= 0) problem = FromMiddle(clean[..plusMinus], clean[(plusMinus + 2)..], expected, out low, out high);
        else problem = NoBand(text, expected);
        if (problem is null) return true;
        (low, high) = (0, 0);
        return false;
    }

    private static string NoBand(string text, Dimension expected)
    {
        string unit = DimensionWords.LikelyUnit(expected);
        string space = unit.Length > 0 ? " " : "";
        return $"'{Quote(text)}' is not a band; write '10 .. 12{space}{unit}' or '{DimensionWords.Example(expected)} +- 5 %'";
    }

    private static string? FromEnds(string lowText, string highText, Dimension expected, out double low, out double high)
    {
        high = 0;
        ShareUnit(ref lowText, ref highText);
        if (!TryParse(lowText, expected, out low, out string? problem) || !TryParse(highText, expected, out high, out problem)) return problem;
        return low <= high ? null : $"the band '{Quote(lowText)} .. {Quote(highText)}' runs backwards; write the smaller value first";
    }

    private static string? FromMiddle(string middleText, string halfText, Dimension expected, out double low, out double high)
    {
        (low, high) = (0, 0);
        bool percent = halfText.TrimEnd().EndsWith('%') && expected != Dimension.Fraction;
        if (percent && expected == Dimension.Temperature) return "a temperature has no percentage; write '25 degC +- 1 K'";
        if (!percent) ShareUnit(ref middleText, ref halfText);
        Dimension halfDimension = percent ? Dimension.Fraction
            : expected == Dimension.Temperature ? Dimension.TemperatureDifference : expected;
        if (!TryParse(middleText, expected, out double middle, out string? problem)) return problem;
        if (!TryParse(halfText, halfDimension, out double half, out problem)) return problem;
        if (half < 0) return $"the tolerance '{Quote(halfText)}' is negative; write it without a sign";
        if (percent) half *= Math.Abs(middle);
        (low, high) = (middle - half, middle + half);
        return double.IsFinite(low) && double.IsFinite(high) ? null : "the band is too wide";
    }

    /// <summary>Gives a side without unit the unit of the other side.</summary>
    private static void ShareUnit(ref string left, ref string right)
    {
        if (!TrySplit(left, out _, out string leftUnit, out _) || !TrySplit(right, out _, out string rightUnit, out _)) return;
        if (leftUnit.Length == 0) left = $"{left.Trim()} {rightUnit}";
        else if (rightUnit.Length == 0) right = $"{right.Trim()} {leftUnit}";
    }
}
