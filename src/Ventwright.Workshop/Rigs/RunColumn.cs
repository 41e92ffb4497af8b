using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Rigs;

/// <summary>A column of a run's table that has numbers: SI = value of nought + cell * step.</summary>
/// <param name="Index">Its place in a row.</param>
/// <param name="Name">Its head without the unit.</param>
/// <param name="Dimension">What it measures.</param>
/// <param name="Nought">What a 0 in it means, SI.</param>
/// <param name="Step">What one more in it means, SI.</param>
internal sealed record RunColumn(int Index, string Name, Dimension Dimension, double Nought, double Step)
{
    /// <summary>The check that it tells, or null.</summary>
    public Observable? Check => Observable.TryParse(Name, out Observable check, out _) ? check : null;

    /// <summary>The column of a head such as <c>volts(mod.7) [V]</c>; null for one without a unit.</summary>
    public static RunColumn? Of(string head, int index)
    {
        int bracket = head.IndexOf('[', StringComparison.Ordinal);
        if (bracket < 0) return null;
        string unit = head[(bracket + 1)..].TrimEnd(']', ' ');
        return QuantityText.TryParseAny("1 " + unit, out Quantity one, out _) && QuantityText.TryParseAny("0 " + unit, out Quantity none, out _)
            ? new(index, head[..bracket].Trim(), one.Dimension, none.Si, one.Si - none.Si) : null;
    }

    /// <summary>A cell, SI; NaN where it is no number.</summary>
    public double Value(IReadOnlyList<string> cells) =>
        Index < cells.Count && double.TryParse(cells[Index], NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? Nought + (number * Step) : double.NaN;
}
