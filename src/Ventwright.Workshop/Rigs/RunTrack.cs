using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig.Running;

namespace Ventwright.Workshop.Rigs;

/// <summary>What a line of a run is about; a plot for each.</summary>
public enum TrackGroup
{
    /// <summary>The computed car: cabin air and what is asked for.</summary>
    Cabin,

    /// <summary>What the resistances make the sensors show.</summary>
    Given,

    /// <summary>Voltages that were measured.</summary>
    Volts,

    /// <summary>Currents that were measured.</summary>
    Amps,

    /// <summary>Depressions that were measured.</summary>
    Vacuum,

    /// <summary>Temperatures that were measured.</summary>
    Warmth,

    /// <summary>Further temperatures of the computed car.</summary>
    Car,
}

/// <summary>A quantity over a run.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Short">The same, short, for under a heading that says the rest.</param>
/// <param name="Group">What it is about.</param>
/// <param name="Dimension">What it measures.</param>
/// <param name="Values">A value for each time, SI; NaN where there is none.</param>
public sealed record TrackLine(string Name, string Short, TrackGroup Group, Dimension Dimension, double[] Values)
{
    /// <summary>The last value, for people.</summary>
    public string Last(UnitSystem units) => Values.Length == 0 || !double.IsFinite(Values[^1]) ? "-" : QuantityText.Format(Values[^1], Dimension, units);
}

/// <summary>A run as lines to be plotted.</summary>
/// <param name="Seconds">Times from the first round, s.</param>
/// <param name="Lines">The lines.</param>
public sealed record TrackShot(double[] Seconds, IReadOnlyList<TrackLine> Lines)
{
    /// <summary>The lines of a group.</summary>
    public IReadOnlyList<TrackLine> Of(TrackGroup group) => [.. Lines.Where(l => l.Group == group)];
}

/// <summary>Collects the rounds of a run, thinned out so that a long run stays as quick to draw as a short one; the last round is always there. Thread-safe.</summary>
public sealed class RunTrack
{
    /// <summary>Rounds kept; when there are more, every second one goes.</summary>
    public const int Most = 600;

    /// <summary>A stand-in of more ohms than this is open: it stands for no temperature.</summary>
    private const double OpenOhm = 1e8;

    private readonly Lock _gate = new();
    private readonly int _seconds;
    private readonly List<Column> _columns = [];
    private readonly List<double[]> _rows = [];
    private double[]? _last;
    private int _stride = 1, _count;

    /// <summary>Lines of a run.</summary>
    /// <param name="heads">Heads of its columns.</param>
    /// <param name="model">The unit.</param>
    public RunTrack(IReadOnlyList<string> heads, UnitModel model)
    {
        _seconds = heads.ToList().IndexOf("seconds");
        for (int i = 0; i < heads.Count; i++)
        {
            if (Column.Of(heads[i], i, model) is { } column) _columns.Add(column);
        }
    }

    /// <summary>The lines of a kept run.</summary>
    public static TrackShot Of(RigRunRecord run, IReadOnlyList<IReadOnlyList<string>> rows, UnitModel model)
    {
        ArgumentNullException.ThrowIfNull(run);
        var track = new RunTrack(run.Start.Heads, model);
        foreach (IReadOnlyList<string> row in rows) track.Add(row);
        return track.Shot();
    }

    /// <summary>Takes a round.</summary>
    /// <param name="cells">Its cells, one for each head.</param>
    public void Add(IReadOnlyList<string> cells)
    {
        var row = new double[_columns.Count + 1];
        row[0] = _seconds >= 0 && _seconds < cells.Count ? Number(cells[_seconds]) : double.NaN;
        for (int i = 0; i < _columns.Count; i++) row[i + 1] = _columns[i].Value(cells);
        lock (_gate)
        {
            _last = row;
            if (_count++ % _stride != 0) return;
            _rows.Add(row);
            if (_rows.Count <= Most) return;
            for (int i = 0; 2 * i < _rows.Count; i++) _rows[i] = _rows[2 * i];
            _rows.RemoveRange((_rows.Count + 1) / 2, _rows.Count / 2);
            _stride *= 2;
        }
    }

    /// <summary>The lines as they are now.</summary>
    public TrackShot Shot()
    {
        lock (_gate)
        {
            double[][] rows = _last is null || _rows is [.., { } end] && ReferenceEquals(end, _last) ? [.. _rows] : [.. _rows, _last];
            return new([.. rows.Select(r => r[0])], [.. _columns.Select((c, i) => new TrackLine(c.Name, c.Short, c.Group, c.Dimension, [.. rows.Select(r => r[i + 1])]))]);
        }
    }

    private static double Number(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value : double.NaN;

    /// <summary>A column that is worth a line; through the sensor's curve where it is a stand-in.</summary>
    private sealed record Column(RunColumn Cells, string Name, string Short, TrackGroup Group, Dimension Dimension, ThermistorCurve? Curve)
    {
        public static Column? Of(string head, int index, UnitModel model)
        {
            if (RunColumn.Of(head, index) is not { } cells) return null;
            string name = cells.Name;
            const string standIn = "stand-in ";
            if (name.StartsWith(standIn, StringComparison.Ordinal))
            {
                string part = name[standIn.Length..];
                return ScriptedSurroundings.CurveOf(model, part) is { } curve
                    ? new(cells, SettingWords.PartName(model, part), SettingWords.PartName(model, part), TrackGroup.Given, Dimension.Temperature, curve) : null;
            }

            TrackGroup? group = cells.Dimension switch
            {
                Dimension.Volt => TrackGroup.Volts,
                Dimension.Ampere => TrackGroup.Amps,
                Dimension.Pressure => TrackGroup.Vacuum,
                Dimension.Temperature when name is "cabin air" or "asked for" => TrackGroup.Cabin,
                Dimension.Temperature when name is "seats and trim" or "trim" or "evaporator surface" or "coolant in the car" => TrackGroup.Car,
                // What a held value plays is the stand-in's own line.
                Dimension.Temperature when !name.EndsWith(" plays", StringComparison.Ordinal) => TrackGroup.Warmth,
                _ => null,
            };
            string title = cells.Check is { } check ? CheckTitles.Of(model, check) : char.ToUpperInvariant(name[0]) + name[1..];
            string brief = cells.Check is not { } at ? title : CheckTitles.Over(model, at) ?? (at.Second is null ? at.Target : $"{at.Target} to {at.Second}");
            return group is { } of ? new(cells, title, brief, of, cells.Dimension, null) : null;
        }

        public double Value(IReadOnlyList<string> cells)
        {
            double si = Cells.Value(cells);
            return Curve is null ? si : si > 0 && si < OpenOhm ? Curve.Kelvin(si) : double.NaN;
        }
    }
}
