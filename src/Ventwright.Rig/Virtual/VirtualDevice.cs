using System.Collections.Concurrent;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Virtual;

/// <summary>A point of a device that is only virtual.</summary>
/// <param name="Number">Running number that tells points apart.</param>
internal sealed record VirtualPoint(int Number) : ChannelPoint
{
    /// <inheritdoc/>
    public override string ToString() => "virtual";
}

/// <summary>What joins the outputs and inputs of a virtual rig to its unit.</summary>
internal sealed class VirtualWires
{
    /// <summary>What a thermometer that is wired to nothing of the unit shows, K.</summary>
    private const double RoomK = 293.15;

    private readonly Lock _gate = new();
    private readonly RigDefinition _rig;
    private readonly IVirtualUnit _unit;
    private readonly Dictionary<(string Device, ChannelPoint Point), (OutputDefinition Output, int Step)> _outputs = [];
    private readonly Dictionary<OutputDefinition, double[]> _raw = [];

    public VirtualWires(RigDefinition rig, IVirtualUnit unit)
    {
        (_rig, _unit) = (rig, unit);
        foreach (OutputDefinition output in rig.Outputs)
        {
            _raw[output] = output.Law.ToRaw(output.Safe);
            for (int i = 0; i < output.Points.Count; i++) _outputs[(output.Device, output.Points[i])] = (output, i);
        }

        Drive();
    }

    public double Read(string device, ChannelPoint point)
    {
        lock (_gate)
        {
            if (_outputs.TryGetValue((device, point), out var at)) return _raw[at.Output][at.Step];
        }

        InputDefinition input = _rig.Inputs.First(i => i.Device == device && i.Point.Equals(point));
        double value = input.Wired.Check is { } check ? _unit.Measure(check) : input.Wired.Condition is { } condition ? _unit.Condition(condition) : input.Kind == ChannelKind.Temperature ? RoomK : 0;
        // A meter on a wire that nothing holds is pulled to ground by its own input.
        if (double.IsNaN(value)) value = 0;
        return input.Kind == ChannelKind.Switch ? (value > input.Above ? 1 : 0) : input.Calibration.ToRaw(value);
    }

    public void Write(string device, ChannelPoint point, double raw)
    {
        lock (_gate)
        {
            (OutputDefinition output, int step) = _outputs[(device, point)];
            _raw[output][step] = raw;
            Drive();
        }
    }

    private void Drive()
    {
        var words = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach ((OutputDefinition output, double[] raw) in _raw)
        {
            foreach ((string name, string value) in output.Wired.Words(_unit.Model, output.Kind, output.Law.ToValue(raw)))
            {
                // A supply that is switched and has its voltage set gives power only when both say so.
                bool isOffAlready = name == "supply" && words.TryGetValue(name, out string? before) && before == "off";
                if (!isOffAlready) words[name] = value;
            }
        }

        _unit.Drive([.. words.Select(w => (w.Key, w.Value))]);
    }
}

/// <summary>A device of a virtual rig. Trouble can be put in, for tests and for practice.</summary>
internal sealed class VirtualDevice(string name, VirtualWires? wires) : IRigDevice
{
    private readonly ConcurrentQueue<(ChannelPoint Point, double Raw)> _written = new();

    /// <inheritdoc/>
    public string Name => name;

    /// <summary>Asked before each exchange; may wait, or throw what is to go wrong.</summary>
    public Func<CancellationToken, Task>? Trouble { get; set; }

    /// <summary>All that was set, in order.</summary>
    public IReadOnlyCollection<(ChannelPoint Point, double Raw)> Written => _written;

    private VirtualWires Wires => wires ?? throw new RigException(RigTrouble.NotPossible, name, "a device of kind 'virtual' works only in a virtual rig; say --virtual");

    /// <inheritdoc/>
    public Task<string> OpenAsync(CancellationToken cancel)
    {
        _ = Wires;
        return Task.FromResult("virtual, wired to the simulated unit");
    }

    /// <inheritdoc/>
    public async Task<double> ReadAsync(ChannelPoint point, CancellationToken cancel)
    {
        if (Trouble is { } trouble) await trouble(cancel);
        return Wires.Read(name, point);
    }

    /// <inheritdoc/>
    public async Task WriteAsync(ChannelPoint point, double raw, CancellationToken cancel)
    {
        if (Trouble is { } trouble) await trouble(cancel);
        _written.Enqueue((point, raw));
        Wires.Write(name, point, raw);
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => ValueTask.CompletedTask;
}

/// <summary>The driver for devices that are only virtual.</summary>
internal sealed class VirtualDriver : IRigDriver
{
    private int _last;

    /// <inheritdoc/>
    public string Kind => "virtual";

    /// <inheritdoc/>
    public DeviceSettings ReadDevice(string name, MapReader keys) => new(name, null, TimeSpan.FromSeconds(1));

    /// <inheritdoc/>
    public ChannelPoint? ReadPoint(MapReader keys, ChannelKind kind, bool isOutput) => new VirtualPoint(Interlocked.Increment(ref _last));

    /// <inheritdoc/>
    public IRigDevice Make(DeviceSettings settings) => new VirtualDevice(settings.Name, null);
}
