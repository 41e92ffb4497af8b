using System.Globalization;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Workshop;

/// <summary>The closer look at what leads, in words.</summary>
public static class CloserWords
{
    /// <summary>How large the leading fault is, by the readings.</summary>
    public static string Of(UnitModel model, FaultSize size, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(size);
        string T(double value) => Text(model, size.Parameter, value, units);
        string range = (double.IsFinite(size.Low), double.IsFinite(size.High)) switch
        {
            (true, true) => $"{T(size.Low)} .. {T(size.High)}",
            (true, false) => $"at least {T(size.Low)}",
            (false, true) => $"at most {T(size.High)}",
            _ => "the readings do not tell",
        };
        return $"{size.Quantity} about {T(size.Value)} ({range}); sound would be {T(size.Nominal)}";
    }

    /// <summary>What a line of the sheet would have to say to fit the readings.</summary>
    public static string Of(UnitModel model, SheetLine line, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(line);
        return $"{line.Quantity} is {Text(model, line.Parameter, line.Now, units)} there; {Text(model, line.Parameter, line.WouldFit, units)} would fit all readings, {Times(line.LogGain)} times as well as any fault";
    }

    private static string Times(double log) => log > 11.5 ? "over 100,000" : Math.Exp(log).ToString("0", CultureInfo.InvariantCulture);

    private static string Text(UnitModel model, int parameter, double value, UnitSystem units) =>
        ParameterUnits.Of(model)[parameter] is var dimension && dimension == Dimension.None
            ? value.ToString("G3", CultureInfo.InvariantCulture) : QuantityText.Format(value, dimension, units);
}
