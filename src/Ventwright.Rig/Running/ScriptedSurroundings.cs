using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Logs;

namespace Ventwright.Rig.Running;

/// <summary>
/// Surroundings that follow a table: times down, outputs across. Between two rows numbers go along a straight line; contacts change at the row. A sensor may be
/// given as the temperature that the module shall believe; its curve on the sheet makes ohms of it.
/// </summary>
public sealed class ScriptedSurroundings : ISurroundings
{
    private readonly double[] _times;
    private readonly (string Name, bool IsContact, double[] Values, ThermistorCurve? Curve)[] _columns;
    private double _now;

    private ScriptedSurroundings(double[] times, (string, bool, double[], ThermistorCurve?)[] columns) => (_times, _columns) = (times, columns);

    /// <inheritdoc/>
    public IReadOnlyList<string> Sets => [.. _columns.Select(c => c.Name)];

    /// <inheritdoc/>
    public IReadOnlyList<string> Needs => [];

    /// <summary>Values that are held as long as the run lasts.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="values">Outputs by name or by what they are wired to, with a text such as <c>12.1 kohm</c>, <c>30 degC</c> or <c>on</c>.</param>
    /// <exception cref="RigException">An output is not there, or a value cannot be used.</exception>
    public static ScriptedSurroundings Holding(RigDefinition rig, UnitModel model, IEnumerable<(string Name, string Value)> values) =>
        new([0], [.. values.Select(v => Column(rig, model, v.Name, [v.Value]))]);

    /// <summary>A table from a CSV file with the columns <c>seconds</c> and outputs; the run ends with its last row.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="path">The file.</param>
    /// <exception cref="RigException">The file cannot be used.</exception>
    public static ScriptedSurroundings Table(RigDefinition rig, UnitModel model, string path)
    {
        CsvTable table = CsvTable.Read(path, null, 0);
        int time = table.Column("seconds");
        if (time < 0 || table.Rows.Count == 0) throw new RigException(RigTrouble.NotPossible, path, "a script has a column 'seconds' first and then one for each output, with one row or more");
        var times = new List<double>();
        foreach (string[] row in table.Rows)
        {
            if (!double.TryParse(row[time], NumberStyles.Float, CultureInfo.InvariantCulture, out double seconds) || (times.Count > 0 && seconds <= times[^1]))
                throw new RigException(RigTrouble.NotPossible, path, $"'{row[time]}' in row {times.Count + 2} is no time after the one before");
            times.Add(seconds);
        }

        var columns = table.Heads.Select((head, i) => (head, i)).Where(c => c.i != time)
            .Select(c => Column(rig, model, c.head, [.. table.Rows.Select(r => r[c.i])]));
        return new([.. times], [.. columns]);
    }

    /// <inheritdoc/>
    public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds)
    {
        _now += seconds;
        var wanted = new Dictionary<string, double>(StringComparer.Ordinal);
        var shows = new List<ShownValue>();
        foreach (var column in _columns)
        {
            double value = At(column.Values, column.IsContact);
            if (column.Curve is { } curve) shows.Add(new($"{column.Name} plays", value, Dimension.Temperature));
            wanted[column.Name] = column.Curve?.Ohms(value) ?? value;
        }

        return new(wanted, shows, _times.Length > 1 && _now > _times[^1]);
    }

    /// <summary>Reads a value of an output as people write it: <c>12.1 kohm</c>, <c>open</c>, <c>on</c>, or <c>30 degC</c> for a resistance in place of a sensor.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="name">The output, by name or by what it is wired to.</param>
    /// <param name="text">The value.</param>
    /// <exception cref="RigException">The output is not there, or the value cannot be used.</exception>
    public static (OutputDefinition Output, double Value) Read(RigDefinition rig, UnitModel model, string name, string text)
    {
        (_, _, double[] values, ThermistorCurve? curve) = Column(rig, model, name, [text]);
        return (rig.FindOutput(name)!, curve?.Ohms(values[0]) ?? values[0]);
    }

    /// <summary>The sensor's curve, or null when the part is no sensor.</summary>
    public static ThermistorCurve? CurveOf(UnitModel model, string part) =>
        Array.Find(model.Electric, b => b.Law == ElectricLaw.Thermistor && model.Parts[b.Part].Id == part) is { } sensor
            ? model.CurveOf(sensor) : null;

    private static (string, bool, double[], ThermistorCurve?) Column(RigDefinition rig, UnitModel model, string name, string[] texts)
    {
        OutputDefinition output = rig.FindOutput(name)
            ?? throw new RigException(RigTrouble.NotPossible, name, $"the rig has no output of this name; it has {string.Join(", ", rig.Outputs.Select(o => o.Name))}");
        ThermistorCurve? curve = output.Kind == ChannelKind.Resistance ? CurveOf(model, output.Wired.Name) : null;
        bool isWarm = curve is not null && QuantityText.TryParse(texts[0], Dimension.Temperature, out _, out _);
        return (rig.KeyOf(output), output.Kind.IsContact(), [.. texts.Select(t => Value(output, isWarm, t))], isWarm ? curve : null);
    }

    private static double Value(OutputDefinition output, bool isWarm, string text)
    {
        bool isRead = isWarm ? QuantityText.TryParse(text, Dimension.Temperature, out double value, out string? problem) : output.Kind.TryRead(text, out value, out problem);
        return isRead ? value : throw new RigException(RigTrouble.NotPossible, output.Name, problem!);
    }

    private double At(double[] values, bool isContact)
    {
        int i = 0;
        while (i < _times.Length - 1 && _times[i + 1] <= _now) i++;
        if (isContact || i == _times.Length - 1 || !double.IsFinite(values[i]) || !double.IsFinite(values[i + 1])) return values[i];
        double share = Math.Clamp((_now - _times[i]) / (_times[i + 1] - _times[i]), 0, 1);
        return values[i] + (share * (values[i + 1] - values[i]));
    }
}
