using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Cli.Commands;
using Ventwright.Quantities;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Cli.Output;

/// <summary>A characterised sensor for people and for programs.</summary>
internal static class SensorView
{
    /// <summary>Writes it for people.</summary>
    public static void WriteText(SensorCheck check, UnitSystem units)
    {
        SensorPart sensor = check.Sensor;
        Screen.Line($"{sensor.Id} {sensor.Name}, feels {sensor.Condition}; the sheet allows {SensorWords.Difference(sensor.ToleranceK, units)}");
        Screen.Table(
            ["bath", "temperature", "resistance", "by the sheet it reads", "off the fitted curve"],
            check.Readings.Select(r => (string[])
            [
                r.Reading.Bath.Title, SensorWords.Degrees(r.Reading.Bath.Kelvin, units), SensorWords.Ohms(r.Reading.Ohms), SensorWords.Degrees(r.Reading.Bath.Kelvin + r.ReadsWarmK, units), check.Fit.Freedom > 0 ? SensorWords.Signed(r.LeftOverK, units) : "-",
            ]));
        Screen.Line(SensorWords.Curve(check.Fit));
        if (check.Fit.Freedom > 0)
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"left over: sum of squares {check.Fit.Sum:0.##} with {check.Fit.Freedom} to spare, chance {check.Fit.Probability * 100:0.#} %: {(check.FitHolds ? "as the accuracies allow" : "more than the accuracies allow")}"));
        Screen.Table(
            ["temperature", "measured", "sheet", "reads", "uncertain by", "verdict"],
            check.Over.Where((_, i) => i % 2 == 0).Select(a => (string[])[SensorWords.Degrees(a.Kelvin, units), SensorWords.Ohms(a.Ohms), SensorWords.Ohms(a.SheetOhms), SensorWords.Side(a.ReadsWarmK, units), SensorWords.Difference(a.UncertaintyK, units), SensorWords.Verdict(a.Verdict)]));
        Screen.Line(check.Say(units));
        foreach (SensorConsequence consequence in check.Consequences) Screen.Line($"  {consequence.Say(units)}");
        if (check.Consequences.Count == 0) Screen.Line("  nothing that the module does changes by a twentieth of a kelvin or more");
        foreach (string note in check.Notes(units)) Screen.Line($"note: {note}");
    }

    /// <summary>Writes how the baths are made, and their cautions.</summary>
    public static void WriteBaths(IEnumerable<Bath> baths, bool steps, UnitSystem units)
    {
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (Bath bath in baths)
        {
            string[] fresh = [.. bath.Steps.Where(told.Add)], cautions = [.. bath.Cautions.Where(told.Add)];
            if (!steps && cautions.Length == 0) continue;
            Screen.Line();
            Screen.Line($"{bath.Title}, {SensorWords.Degrees(bath.Kelvin, units)} +- {SensorWords.Difference(SensorWords.BathHalfWidthK(bath), units)} ({bath.Source})");
            foreach (string step in steps ? fresh : []) Screen.Line($"  - {step}");
            foreach (string caution in cautions) Screen.Line($"  caution: {caution}");
        }
    }

    /// <summary>Tells what was written to the sheet.</summary>
    public static void WriteEdit(SensorCheck check, SheetCurve edit, string target, UnitSystem units)
    {
        Screen.Line();
        Screen.Line($"{target}, line {edit.Line}: {edit.Before} -> {edit.Written} (within {SensorWords.Difference(edit.LargestErrorK, units)} of the fitted curve)");
        Screen.Line($"caution: {SensorWords.WriteCaution(check.Sensor.Id)}");
        foreach (StatedResult row in StatedRows.Compare(edit.Model).Where(r => r.Answer == StatedAnswer.Disagrees)) Screen.Line($"  {row.Sentence(units)}");
    }

    /// <summary>Writes it for other programs.</summary>
    public static void WriteJson(SensorCheck check, SheetCurve? edit, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Sensor = check.Sensor.Id,
        check.Sensor.Name,
        check.Sensor.Condition,
        Units = new { Temperature = QuantityText.Unit(Dimension.Temperature, units), Difference = QuantityText.Unit(Dimension.TemperatureDifference, units), Resistance = "ohm" },
        Tolerance = K(check.Sensor.ToleranceK, units),
        Readings = check.Readings.Select(r => new { Bath = r.Reading.Bath.Title, At = T(r.Reading.Bath.Kelvin, units), Ohms = Json.Number(r.Reading.Ohms), LeftOver = K(r.LeftOverK, units), ReadsWarm = K(r.ReadsWarmK, units) }),
        Curve = new
        {
            check.Fit.Constants,
            check.Fit.Curve.A,
            check.Fit.Curve.B,
            check.Fit.Curve.C,
            R25 = Json.Number(check.Fit.Curve.Ohms(298.15)),
            Beta = Json.Number(check.Fit.Beta().BetaK),
            BetaUncertainty = Json.Number(2 * check.Fit.Beta().UncertaintyK),
            LeftOverSum = check.Fit.Freedom > 0 ? Json.Number(check.Fit.Sum) : null,
            check.Fit.Freedom,
            Chance = Json.Number(check.Fit.Probability),
            Holds = check.FitHolds,
        },
        Over = check.Over.Select(a => new { At = T(a.Kelvin, units), Ohms = Json.Number(a.Ohms), SheetOhms = Json.Number(a.SheetOhms), ReadsWarm = K(a.ReadsWarmK, units), Uncertainty = K(a.UncertaintyK, units), Verdict = SensorWords.Verdict(a.Verdict) }),
        Verdict = SensorWords.Verdict(check.Verdict),
        Text = check.Say(units),
        Consequences = check.Consequences.Select(c => ConsequenceJson(c, units)),
        Notes = check.Notes(units),
        Baths = check.Readings.Select(r => r.Reading.Bath).DistinctBy(b => b.Title).Select(b => BathJson(b, units)),
        Written = edit is null ? null : new { edit.Line, edit.Before, edit.Written, LargestError = K(edit.LargestErrorK, units) },
    });

    /// <summary>A consequence for other programs.</summary>
    public static object ConsequenceJson(SensorConsequence c, UnitSystem units) => new
    {
        Kind = c.Kind == ConsequenceKind.Regulation ? "regulation" : "switching",
        Set = c.Set.ToDictionary(s => s.Name, s => s.Value),
        c.Part,
        c.Name,
        c.Also,
        c.Condition,
        Turns = c.Kind == ConsequenceKind.Regulation ? null : c.SwitchesOn ? "on" : "off",
        Rising = c.Kind == ConsequenceKind.Regulation ? (bool?)null : c.Rising,
        Sound = T(c.SoundKelvin, units),
        Actual = T(c.ActualKelvin, units),
        Shift = K(c.ShiftK, units),
        Text = c.Say(units),
    };

    /// <summary>A bath for other programs.</summary>
    public static object BathJson(Bath bath, UnitSystem units) =>
        new { bath.Title, At = T(bath.Kelvin, units), HalfWidth = K(bath.HalfWidthK, units), Thermometer = K(bath.ThermometerK, units), bath.Steps, bath.Cautions, bath.Source };

    /// <summary>A temperature as a number in the person's unit.</summary>
    public static double? T(double kelvin, UnitSystem units) => Json.Number(QuantityText.ToUnit(kelvin, Dimension.Temperature, units));

    /// <summary>A difference as a number in the person's unit.</summary>
    public static double? K(double kelvins, UnitSystem units) => Json.Number(QuantityText.ToUnit(kelvins, Dimension.TemperatureDifference, units));
}
