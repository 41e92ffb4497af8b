using System.Globalization;
using System.Text;

namespace Ventwright.Web.Sensors;

/// <summary>Geometry of a plot: where numbers stand, and round marks for the axes.</summary>
/// <param name="LowX">Left end in the unit of the axis.</param>
/// <param name="HighX">Right end.</param>
/// <param name="LowY">Lower end in the unit of the axis.</param>
/// <param name="HighY">Upper end.</param>
internal sealed record PlotFrame(double LowX, double HighX, double LowY, double HighY)
{
    public const double Width = 900, Height = 340, Left = 84, Right = 880, Top = 14, Bottom = 290;

    /// <summary>Marks of the level axis.</summary>
    public IEnumerable<double> MarksX => Round(LowX, HighX, 12);

    /// <summary>Marks of the upright axis.</summary>
    public IEnumerable<double> MarksY => Round(LowY, HighY, 8);

    /// <summary>Where a number of the level axis stands.</summary>
    public double X(double value) => Left + ((Right - Left) * (value - LowX) / (HighX - LowX));

    /// <summary>Where a number of the upright axis stands.</summary>
    public double Y(double value) => Bottom - ((Bottom - Top) * (value - LowY) / (HighY - LowY));

    /// <summary>A line through points; a gap where one is not a number.</summary>
    public string Line(IEnumerable<(double X, double Y)> points)
    {
        var path = new StringBuilder();
        bool isDown = false;
        foreach ((double x, double y) in points)
        {
            bool isNumber = double.IsFinite(x) && double.IsFinite(y);
            if (isNumber) path.Append(CultureInfo.InvariantCulture, $"{(isDown ? 'L' : 'M')}{X(x):0.#} {Y(y):0.#}");
            isDown = isNumber;
        }

        return path.ToString();
    }

    /// <summary>The area between two lines.</summary>
    public string Area(IReadOnlyList<(double X, double Low, double High)> points) =>
        Line([.. points.Select(p => (p.X, p.High)), .. points.Reverse().Select(p => (p.X, p.Low))]) + "Z";

    /// <summary>A coordinate for an attribute.</summary>
    public static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private static IEnumerable<double> Round(double low, double high, int most)
    {
        double rough = (high - low) / most, power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * ((rough / power) switch { <= 1 => 1, <= 2 => 2, <= 5 => 5, _ => 10 });
        for (double mark = Math.Ceiling((low / step) - 1e-9) * step; mark <= high + (step * 1e-9); mark += step) yield return Math.Abs(mark) < step * 1e-9 ? 0 : mark;
    }
}
