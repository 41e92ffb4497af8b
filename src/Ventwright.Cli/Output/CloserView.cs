using System.Globalization;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Workshop;

namespace Ventwright.Cli.Output;

/// <summary>Shows the closer look at what leads, as text and as JSON.</summary>
internal static class CloserView
{
    /// <summary>Writes sentences for people.</summary>
    public static void Write(UnitModel model, CloserLook look, UnitSystem units)
    {
        foreach (SwapAdvice swap in look.Swaps)
            Screen.Line($"Or {swap.Why} (set: {FindingsView.Set(swap.Setting)}, {swap.Minutes.ToString("0.0", CultureInfo.InvariantCulture)} min). Note the swap before the reading.");
        if (look.Size is { } size) Screen.Line($"Size of {size.Family}: {CloserWords.Of(model, size, units)}.");
        foreach (SheetLine line in look.SheetLines) Screen.Line($"Is the sheet right? {line.At}: {CloserWords.Of(model, line, units)}.");
    }

    /// <summary>Swaps as they are written in JSON.</summary>
    public static object Swaps(CloserLook look) => look.Swaps.Select(s => new
    {
        s.Part,
        Set = s.Setting.Words,
        At = s.What.ToString(),
        Place = s.Place.Name,
        s.Place.Caution,
        Minutes = Json.Number(s.Minutes),
        Gain = Json.Number(s.Gain),
        s.Why,
    });

    /// <summary>The size as it is written in JSON, or null.</summary>
    public static object? Size(UnitModel model, CloserLook look, UnitSystem units) => look.Size is not { } s ? null : new
    {
        Fault = s.Family,
        s.Quantity,
        Unit = QuantityText.Unit(Dimension(model, s.Parameter), units),
        Sound = Number(model, s.Parameter, s.Nominal, units),
        Value = Number(model, s.Parameter, s.Value, units),
        Low = Number(model, s.Parameter, s.Low, units),
        High = Number(model, s.Parameter, s.High, units),
        Text = CloserWords.Of(model, s, units),
    };

    /// <summary>Lines of the sheet as they are written in JSON.</summary>
    public static object SheetLines(UnitModel model, CloserLook look, UnitSystem units) => look.SheetLines.Select(l => new
    {
        l.At.File,
        l.At.Line,
        l.Part,
        l.Quantity,
        Unit = QuantityText.Unit(Dimension(model, l.Parameter), units),
        Now = Number(model, l.Parameter, l.Now, units),
        WouldFit = Number(model, l.Parameter, l.WouldFit, units),
        LogGain = Json.Number(l.LogGain),
    });

    private static double? Number(UnitModel model, int parameter, double value, UnitSystem units) =>
        double.IsFinite(value) ? Json.Number(QuantityText.ToUnit(value, Dimension(model, parameter), units)) : null;

    private static Dimension Dimension(UnitModel model, int parameter) => ParameterUnits.Of(model)[parameter];
}
