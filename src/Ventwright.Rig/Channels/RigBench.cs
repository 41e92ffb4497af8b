using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Virtual;

namespace Ventwright.Rig.Channels;

/// <summary>What became of a value that an output was asked for.</summary>
/// <param name="Output">The output.</param>
/// <param name="Asked">Value asked for, SI.</param>
/// <param name="Given">Value given: within the limits, and as near as the device can, SI.</param>
/// <param name="IsClamped">Whether the limits held it back.</param>
public sealed record OutputChange(OutputDefinition Output, double Asked, double Given, bool IsClamped);

/// <summary>What came of putting the rig into its safe state.</summary>
/// <param name="Why">Why it was done.</param>
/// <param name="Unreached">Outputs that could not be put there, each with the reason.</param>
public sealed record SafeReport(string Why, IReadOnlyList<(OutputDefinition Output, string Reason)> Unreached)
{
    /// <summary>Whether every output is in its safe state.</summary>
    public bool IsSafe => Unreached.Count == 0;

    /// <summary>What happened, and what to do by hand, for people.</summary>
    public override string ToString() => IsSafe
        ? $"All outputs are in their safe state: {Why}."
        : $"CUT THE 12 V SUPPLY BY HAND NOW. {string.Join("; ", Unreached.Select(u => $"{u.Output.Name} was not reached ({u.Reason})"))}. Stopped because: {Why}.";
}

/// <summary>
/// A rig with its devices: reads inputs, sets outputs within their limits, puts everything into its safe state. Outputs stay in their safe state until a wiring
/// check is confirmed, and again after every stop. Thread-safe.
/// </summary>
public sealed partial class RigBench : IAsyncDisposable
{
    private readonly Dictionary<string, IRigDevice> _devices;
    private readonly Lock _gate = new();
    private readonly Dictionary<string, double> _given = new(StringComparer.Ordinal);
    private readonly Dictionary<string, double[]> _sent = new(StringComparer.Ordinal);
    private string? _heldBy = "the wiring check was not confirmed yet";
    private int _stops;

    private RigBench(RigDefinition definition, UnitModel model, Dictionary<string, IRigDevice> devices, bool isVirtual)
    {
        (Definition, Model, _devices, IsVirtual) = (definition, model, devices, isVirtual);
    }

    /// <summary>The rig as its file describes it.</summary>
    public RigDefinition Definition { get; }

    /// <summary>The unit that it is wired to.</summary>
    public UnitModel Model { get; }

    /// <summary>Whether it is wired to a simulated unit.</summary>
    public bool IsVirtual { get; }

    /// <summary>Why outputs are held in their safe state, in words; null when they may be set.</summary>
    public string? HeldBy
    {
        get
        {
            lock (_gate) return _heldBy;
        }
    }

    /// <summary>Value that each output gives, by name, SI.</summary>
    public IReadOnlyDictionary<string, double> Given
    {
        get
        {
            lock (_gate) return new Dictionary<string, double>(_given, StringComparer.Ordinal);
        }
    }

    /// <summary>A rig with the devices of its file.</summary>
    public static RigBench Real(RigDefinition definition, UnitModel model) =>
        new(definition, model, definition.Devices.ToDictionary(d => d.Name, d => d.Driver.Make(d.Settings), StringComparer.Ordinal), isVirtual: false);

    /// <summary>The same rig with each device replaced by a virtual one, wired to a simulated unit.</summary>
    public static RigBench Virtual(RigDefinition definition, IVirtualUnit unit)
    {
        var wires = new VirtualWires(definition, unit);
        return new(definition, unit.Model, definition.Devices.ToDictionary(d => d.Name, d => (IRigDevice)new VirtualDevice(d.Name, wires), StringComparer.Ordinal), isVirtual: true);
    }

    /// <summary>Opens all devices and puts all outputs into their safe state.</summary>
    /// <returns>What each device says it is.</returns>
    /// <exception cref="RigException">A device cannot be opened, is another one, or an output cannot be put into its safe state.</exception>
    public async Task<IReadOnlyList<(string Device, string Found)>> OpenAsync(CancellationToken cancel)
    {
        var found = new List<(string, string)>();
        foreach ((string name, IRigDevice device) in _devices) found.Add((name, await device.OpenAsync(cancel)));
        SafeReport safe = await MakeSafeAsync("the rig was opened");
        if (!safe.IsSafe) throw new RigException(RigTrouble.NotPossible, safe.Unreached[0].Output.Name, $"its safe state cannot be set: {safe.Unreached[0].Reason}");
        lock (_gate) _heldBy = "the wiring check was not confirmed yet";
        return found;
    }

    /// <summary>Reads an input, SI.</summary>
    /// <exception cref="RigException">The device has trouble.</exception>
    public async Task<double> ReadAsync(InputDefinition input, CancellationToken cancel)
    {
        double raw = await _devices[input.Device].ReadAsync(input.Point, cancel);
        return input.Kind == ChannelKind.Switch ? raw : input.Calibration.ToValue(raw);
    }

    /// <summary>Reads all inputs, devices side by side, SI by name.</summary>
    /// <exception cref="RigException">A device has trouble.</exception>
    public async Task<IReadOnlyDictionary<string, double>> ReadAllAsync(CancellationToken cancel)
    {
        var parts = await Task.WhenAll(Definition.Inputs.GroupBy(i => i.Device, StringComparer.Ordinal).Select(async device =>
        {
            var values = new List<(string, double)>();
            foreach (InputDefinition input in device) values.Add((input.Name, await ReadAsync(input, cancel)));
            return values;
        }));
        return parts.SelectMany(p => p).ToDictionary(p => p.Item1, p => p.Item2, StringComparer.Ordinal);
    }

    /// <summary>Reads back what an output gives, SI; NaN when its device cannot say.</summary>
    /// <exception cref="RigException">The device has trouble.</exception>
    public async Task<double> ReadBackAsync(OutputDefinition output, CancellationToken cancel)
    {
        var raw = new double[output.Points.Count];
        for (int i = 0; i < raw.Length; i++)
        {
            if (!output.Points[i].CanReadBack) return double.NaN;
            raw[i] = await _devices[output.Device].ReadAsync(output.Points[i], cancel);
        }

        return output.Law.ToValue(raw);
    }

    /// <summary>Sets an output; a value outside its limits is held at the limit, which the answer says.</summary>
    /// <exception cref="RigException">Outputs are held in their safe state, or the device has trouble.</exception>
    public async Task<OutputChange> SetAsync(OutputDefinition output, double value, CancellationToken cancel)
    {
        if (double.IsNaN(value)) throw new RigException(RigTrouble.OutOfLimits, output.Name, "it was asked for a value that is no number");
        double wanted = Allowed(output, value);
        double[] raw = output.Law.ToRaw(wanted);
        int stops;
        lock (_gate)
        {
            if (_heldBy is { } why) throw new RigException(RigTrouble.NotConfirmed, output.Name, $"it stays in its safe state: {why}. Run the wiring check and confirm it first");
            stops = _stops;
        }

        await WriteAsync(output, raw, cancel);
        bool isStopped;
        lock (_gate)
        {
            isStopped = stops != _stops;
            if (!isStopped) _given[output.Name] = output.Law.ToValue(raw);
        }

        // A stop came while this was on its way to the device: the safe state has the last word.
        if (isStopped) await WriteAsync(output, output.Law.ToRaw(output.Safe), CancellationToken.None, always: true);
        return new(output, value, output.Law.ToValue(raw), wanted != value);
    }

    /// <summary>An output by its name, or by what it is wired to.</summary>
    /// <exception cref="RigException">There is none.</exception>
    public OutputDefinition Output(string name) =>
        Definition.FindOutput(name) ?? throw new RigException(RigTrouble.NotPossible, name, NoChannel("output", name, Definition.Outputs));

    /// <summary>An input by its name, or by the check that it makes.</summary>
    /// <exception cref="RigException">There is none.</exception>
    public InputDefinition Input(string name) =>
        Definition.Inputs.FirstOrDefault(i => i.Name == name) ?? Definition.Inputs.FirstOrDefault(i => i.Wired.ToString() == name)
        ?? throw new RigException(RigTrouble.NotPossible, name, NoChannel("input", name, Definition.Inputs));

    internal IRigDevice Device(string name) => _devices[name];

    private static string NoChannel(string what, string name, IEnumerable<ChannelDefinition> known)
    {
        string? near = NearMiss.Suggest(name, known.Select(k => k.Name));
        return $"the rig has no {what} of this name; {(near is null ? $"it has {string.Join(", ", known.Select(k => k.Name))}" : $"did you mean '{near}'?")}";
    }

    private static double Allowed(OutputDefinition output, double value)
    {
        if (output.Kind.IsContact()) return value >= 0.5 ? 1 : 0;
        // The safe state is always allowed, be it "open" or 0 V.
        return value == output.Safe ? value : Math.Clamp(value, output.Low, output.High);
    }

    /// <summary>Sends only what changed: a wiper that stands right is left alone.</summary>
    private async Task WriteAsync(OutputDefinition output, double[] raw, CancellationToken cancel, bool always = false)
    {
        double[]? sent;
        lock (_gate) sent = always ? null : _sent.GetValueOrDefault(output.Name);
        for (int i = 0; i < raw.Length; i++)
        {
            if (sent is not null && sent[i] == raw[i]) continue;
            lock (_gate) _sent.Remove(output.Name);
            await _devices[output.Device].WriteAsync(output.Points[i], raw[i], cancel);
        }

        lock (_gate) _sent[output.Name] = raw;
    }
}
