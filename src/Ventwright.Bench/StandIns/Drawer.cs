using System.Globalization;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Sensing;
using Ventwright.Quantities;

namespace Ventwright.Bench.StandIns;

/// <summary>The resistors that a person has.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Resistors">What is in it.</param>
public sealed record Drawer(string Name, IReadOnlyList<DrawerResistor> Resistors)
{
    private const int MostDecades = 9, MostKinds = 1500;

    /// <summary>A whole series from 1 ohm up to 1 Mohm.</summary>
    /// <param name="series">3, 6, 12, 24, 48, 96 or 192.</param>
    public static Drawer OfSeries(int series) => OfSeries(series, 1, 6);

    /// <summary>A whole series over some decades.</summary>
    /// <param name="series">3, 6, 12, 24, 48, 96 or 192.</param>
    /// <param name="lowestOhms">Start of the first decade, ohm.</param>
    /// <param name="decades">Number of decades.</param>
    public static Drawer OfSeries(int series, double lowestOhms, int decades)
    {
        double tolerance = PreferredNumbers.Tolerance(series), last = lowestOhms * Math.Pow(10, decades);
        string range = $"{QuantityText.Format(lowestOhms, Dimension.Ohm, UnitSystem.Metric)} .. {QuantityText.Format(last, Dimension.Ohm, UnitSystem.Metric)}";
        return new(string.Create(CultureInfo.InvariantCulture, $"E{series}, {range}, {tolerance * 100:0.#} %"), [.. PreferredNumbers.Values(series, lowestOhms, decades).Select(v => new DrawerResistor(v, tolerance))]);
    }

    /// <summary>Reads a series with or without its decades: <c>E24</c>, <c>E96@100ohm..100kohm</c>; or a file of values.</summary>
    /// <param name="text">The text.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static Drawer? TryRead(string text, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        problem = null;
        string[] halves = text.Split('@', 2);
        if (halves[0].Length is < 2 or > 4 || halves[0][0] is not ('E' or 'e') || !int.TryParse(halves[0].AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out int series)) return File(text, out problem);
        if (!PreferredNumbers.Series.Contains(series))
        {
            problem = $"there is no series E{series}; known are {string.Join(", ", PreferredNumbers.Series.Select(s => $"E{s}"))}";
            return null;
        }

        if (halves.Length == 1) return OfSeries(series);
        if (!QuantityText.TryParseBand(halves[1], Dimension.Ohm, out double low, out double high, out problem)) return null;
        int first = low > 0 ? (int)Math.Floor(Math.Log10(low) + 1e-9) : 99, decades = (int)Math.Ceiling(Math.Log10(high) - 1e-9) - first;
        if (low > 0 && first >= -2 && decades is >= 1 and <= MostDecades) return OfSeries(series, Math.Pow(10, first), decades);
        problem = $"'{halves[1]}' is no range of decades for resistors, such as 10ohm..1Mohm";
        return null;
    }

    private static Drawer? File(string path, out string? problem)
    {
        var problems = new ProblemList();
        string? text = SheetText.LoadFile(path, problems);
        if (text is null)
        {
            problem = $"{problems.Sorted[0]}; a drawer is a series such as E24, or a file with one resistor on each line: 4.7 kohm, 5 %, 3";
            return null;
        }

        return TryParse(path, text, out problem);
    }

    /// <summary>Reads a list: one resistor on each line, value, tolerance (5 % without it) and count (as many as wanted without it), with commas or semicolons.</summary>
    /// <param name="name">Name for messages.</param>
    /// <param name="text">The list.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static Drawer? TryParse(string name, string text, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        var found = new List<DrawerResistor>();
        int number = 0;
        foreach (string whole in text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n'))
        {
            number++;
            string line = whole.Split('#')[0].Trim();
            if (line.Length == 0 || (number == 1 && char.IsLetter(line[0]))) continue;
            string[] cells = line.Split([',', ';'], StringSplitOptions.TrimEntries);
            problem = Read(cells, out DrawerResistor resistor);
            if (problem is not null)
            {
                problem = $"{name}:{number}: {problem}";
                return null;
            }

            found.Add(resistor);
        }

        problem = found.Count == 0 ? $"{name} lists no resistor" : found.Count > MostKinds ? $"{name} lists more than {MostKinds} kinds of resistor" : null;
        return problem is null ? new(name, found) : null;
    }

    private static string? Read(string[] cells, out DrawerResistor resistor)
    {
        resistor = default;
        double tolerance = 0.05;
        int count = int.MaxValue;
        if (!QuantityText.TryParse(cells[0], Dimension.Ohm, out double ohms, out string? problem)) return problem;
        if (!(ohms > 0)) return "a resistor has more than 0 ohm";
        if (cells.Length > 3) return "write value, tolerance, count";
        if (cells.Length > 1 && cells[1].Length > 0 && (!QuantityText.TryParse(cells[1], Dimension.Fraction, out tolerance, out problem) || tolerance is < 0 or >= 1)) return problem ?? $"'{cells[1]}' is no tolerance";
        if (cells.Length > 2 && cells[2].Length > 0 && (!int.TryParse(cells[2], NumberStyles.None, CultureInfo.InvariantCulture, out count) || count < 1)) return $"'{cells[2]}' is no count";
        resistor = new(ohms, tolerance, count);
        return null;
    }
}
