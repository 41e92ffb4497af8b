using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Running;

/// <summary>
/// A run as a table: a row of cells for each round, as text. Heads are names that the import of logs knows: <c>stand-in RT1 [ohm]</c>, <c>volts(mod.7) [V]</c>.
/// </summary>
public sealed class RunTable
{
    private readonly List<(string Head, Func<RunSample, string> Cell)> _columns = [];
    private string[]? _shows;

    /// <summary>The table of a run.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="panel">How the panel stands at the start; what is named here has a column.</param>
    public RunTable(RigDefinition rig, UnitModel model, IReadOnlyList<(string Name, string Value)> panel)
    {
        _columns.Add(("time", s => s.Time.ToString("yyyy-MM-dd'T'HH:mm:ss.fffK", CultureInfo.InvariantCulture)));
        _columns.Add(("seconds", s => s.Seconds.ToString("0.000", CultureInfo.InvariantCulture)));
        _columns.Add(("state", s => s.State.ToString().ToLowerInvariant()));
        foreach ((string name, string value) in panel) _columns.Add((name, s => s.Panel.Where(p => p.Name == name).Select(p => p.Value).FirstOrDefault(value)));
        OutputDefinition[] supply = [.. rig.Outputs.Where(o => o.Wired.Role == OutputRole.Supply)];
        if (supply.Length > 0) _columns.Add(("supply", s => supply.All(o => s.Given.GetValueOrDefault(o.Name) >= 0.5) ? "on" : "off"));
        foreach (OutputDefinition output in rig.Outputs) AddOutput(output, model);
        foreach (InputDefinition input in rig.Inputs)
        {
            string head = input.Kind == ChannelKind.Switch || input.Wired.Check is null ? input.Name : input.Wired.ToString();
            _columns.Add((head + UnitOf(input.Kind), s => Cell(input.Kind, s.Measured.GetValueOrDefault(input.Name, double.NaN))));
        }
    }

    /// <summary>Heads of the columns; those of the surroundings are there from the first row on.</summary>
    public IReadOnlyList<string> Heads { get; private set; } = [];

    /// <summary>Cells of a round, one for each head.</summary>
    public IReadOnlyList<string> Row(RunSample sample)
    {
        if (_shows is null)
        {
            _shows = [.. sample.Shows.Select(s => s.Name)];
            Heads = [.. _columns.Select(c => c.Head), .. sample.Shows.Select(s => s.Name + Bracketed(QuantityText.Unit(s.Dimension, UnitSystem.Metric)))];
        }

        IEnumerable<string> shows = _shows.Select(name => sample.Shows.FirstOrDefault(s => s.Name == name))
            .Select(s => s.Name is null ? "" : Number(QuantityText.ToUnit(s.Value, s.Dimension, UnitSystem.Metric)));
        return [.. _columns.Select(c => c.Cell(sample)), .. shows];
    }

    /// <summary>Cells as a line of a CSV file, without its end.</summary>
    public static string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(CsvCell));

    private void AddOutput(OutputDefinition output, UnitModel model)
    {
        double Given(RunSample sample) => sample.Given.GetValueOrDefault(output.Name, double.NaN);
        if (output.Wired.Role == OutputRole.Join)
        {
            // As the setting that it makes: the net fed while it is joined, nothing while it is not.
            _columns.Add(($"feed {output.Wired.Name} [V]", s => output.Wired.Words(model, output.Kind, Given(s)).Select(w => w.Value[..^2]).FirstOrDefault("")));
            return;
        }

        string head = output.Wired.Role switch
        {
            OutputRole.StandIn => $"stand-in {output.Wired.Name}",
            OutputRole.Feed => $"feed {output.Wired.Name}",
            OutputRole.Pump => output.Wired.Name,
            _ => $"output {output.Name}",
        };
        _columns.Add((head + UnitOf(output.Kind), s => Cell(output.Kind, Given(s), output.Wired.Role == OutputRole.StandIn)));
    }

    private static string UnitOf(ChannelKind kind) => kind.IsContact() ? "" : Bracketed(QuantityText.Unit(kind.Dimension(), UnitSystem.Metric));

    private static string Bracketed(string unit) => unit.Length == 0 ? "" : $" [{unit}]";

    private static string Cell(ChannelKind kind, double value, bool isStandIn = false) =>
        double.IsNaN(value) ? ""
        : kind.IsContact() ? (value >= 0.5 ? (isStandIn ? "closed" : "on") : isStandIn ? "open" : "off")
        : double.IsInfinity(value) ? (isStandIn ? "1E9" : "OL")
        : Number(QuantityText.ToUnit(value, kind.Dimension(), UnitSystem.Metric));

    private static string Number(double value) => double.IsFinite(value) ? value.ToString("G7", CultureInfo.InvariantCulture) : "";

    private static string CsvCell(string text) => text.AsSpan().IndexOfAny(",\"\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
