using System.Text.RegularExpressions;

namespace Ventwright.Web;

/// <summary>Decimal points and commas at the edge of the program; inside there are only points.</summary>
internal static partial class Numbers
{
    /// <summary>Points between digits become commas; names such as <c>mod.7</c> stay.</summary>
    public static string WithComma(string text) => PointInNumber().Replace(text, "${whole},${rest}");

    /// <summary>A comma between digits becomes a point.</summary>
    public static string WithPoint(string text) => CommaInNumber().Replace(text, "${whole}.${rest}");

    [GeneratedRegex(@"(?<![\p{L}\d.])(?<whole>-?\d+)\.(?<rest>\d)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 500)]
    private static partial Regex PointInNumber();

    [GeneratedRegex(@"(?<![\p{L}\d,.])(?<whole>-?\d+),(?<rest>\d)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 500)]
    private static partial Regex CommaInNumber();
}
