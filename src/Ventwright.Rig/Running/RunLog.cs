using System.Globalization;
using System.Text;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Running;

/// <summary>
/// The log of a run: a CSV file with a row for each round, handed to the system before the next round begins. Heads are names that the import of logs knows:
/// <c>stand-in RT1 [ohm]</c>, <c>volts(mod.7) [V]</c>.
/// </summary>
internal sealed class RunLog : IDisposable
{
    private readonly StreamWriter? _to;
    private readonly List<(string Head, Func<RunSample, string> Cell)> _columns = [];
    private string[]? _shows;

    /// <summary>Opens the file, or keeps no log.</summary>
    /// <exception cref="RigException">It cannot be written.</exception>
    public RunLog(RigDefinition rig, UnitModel model, RunOptions options)
    {
        string? path = options.LogPath;
        try
        {
            _to = path is null ? null : new(new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read), new UTF8Encoding(false)) { NewLine = "\n", AutoFlush = true };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new RigException(RigTrouble.NotPossible, path!, $"the log cannot be written: {e.Message.TrimEnd('.')}; give another name", e);
        }

        _columns.Add(("time", s => s.Time.ToString("yyyy-MM-dd'T'HH:mm:ss.fffK", CultureInfo.InvariantCulture)));
        _columns.Add(("seconds", s => s.Seconds.ToString("0.000", CultureInfo.InvariantCulture)));
        _columns.Add(("state", s => s.State.ToString().ToLowerInvariant()));
        foreach ((string name, string value) in options.Panel) _columns.Add((name, _ => value));
        OutputDefinition[] supply = [.. rig.Outputs.Where(o => o.Wired.Role == OutputRole.Supply)];
        if (supply.Length > 0) _columns.Add(("supply", s => supply.All(o => s.Given.GetValueOrDefault(o.Name) >= 0.5) ? "on" : "off"));
        foreach (OutputDefinition output in rig.Outputs) AddOutput(output, model);
        foreach (InputDefinition input in rig.Inputs)
        {
            string head = input.Kind == ChannelKind.Switch || input.Wired.Check is null ? input.Name : input.Wired.ToString();
            _columns.Add((head + UnitOf(input.Kind), s => Cell(input.Kind, s.Measured.GetValueOrDefault(input.Name, double.NaN))));
        }
    }

    /// <summary>Writes a row.</summary>
    /// <exception cref="IOException">The disk is full or gone.</exception>
    public void Write(RunSample sample)
    {
        if (_to is null) return;
        if (_shows is null)
        {
            _shows = [.. sample.Shows.Select(s => s.Name)];
            IEnumerable<string> shown = sample.Shows.Select(s => s.Name + Bracketed(QuantityText.Unit(s.Dimension, UnitSystem.Metric)));
            WriteRow(_columns.Select(c => c.Head).Concat(shown));
        }

        IEnumerable<string> shows = _shows.Select(name => sample.Shows.FirstOrDefault(s => s.Name == name))
            .Select(s => s.Name is null ? "" : Number(QuantityText.ToUnit(s.Value, s.Dimension, UnitSystem.Metric)));
        WriteRow(_columns.Select(c => c.Cell(sample)).Concat(shows));
    }

    /// <inheritdoc/>
    public void Dispose() => _to?.Dispose();

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

    private void WriteRow(IEnumerable<string> cells) => _to!.WriteLine(string.Join(',', cells.Select(CsvCell)));
}
