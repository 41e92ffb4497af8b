using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Definition;

/// <summary>Reads single channels of a rig file.</summary>
internal sealed class ChannelReader(UnitModel model, IReadOnlyDictionary<string, DeviceDefinition> devices, ProblemList problems)
{
    private static readonly string[] OutputKinds = ["resistance", "voltage", "relay"], InputKinds = ["voltage", "current", "temperature", "pressure", "switch"];

    private readonly WiringReader _wiring = new(model, problems);

    /// <summary>Reads an output; null when something is wrong with it.</summary>
    public OutputDefinition? Output((SheetEntry Entry, MapReader Keys) channel)
    {
        (SheetEntry entry, MapReader keys) = channel;
        ChannelKind? kind = Kind(keys, "gives", OutputKinds);
        DeviceDefinition? device = Device(keys);
        if (kind is not { } gives || device is null) return null;
        WiredOutput? wired = _wiring.Output(keys, gives);
        (IReadOnlyList<ChannelPoint> Points, OutputLaw Law)? made = keys.Has("switched") ? Switched(keys, device, gives) : Single(keys, device, gives);
        (double Low, double High) limits = Limits(keys, gives, made?.Law);
        double? safe = Value(keys, "safe", gives, true);
        keys.Done();
        if (safe is { } s && !gives.IsContact() && !IsSafeAllowed(s, limits, made?.Law))
        {
            problems.Error("safe", keys.MarkOf("safe"), $"the safe state {gives.Text(s, UnitSystem.Metric)} is not within the limits", double.IsInfinity(s) ? "a digital potentiometer cannot open: name a resistance" : null);
            return null;
        }

        if (wired is { Role: OutputRole.Supply or OutputRole.Pump } && safe is { } power && power != 0)
        {
            problems.Error("safe", keys.MarkOf("safe"), $"the safe state of the {wired.Name} is off", gives == ChannelKind.Voltage ? "write 'safe: 0 V'" : "write 'safe: off'");
            return null;
        }

        return made is { } m && wired is not null && safe is { } at ? new(entry.Key, device.Name, gives, entry.KeyMark, m.Points, m.Law, wired, limits.Low, limits.High, at) : null;
    }

    /// <summary>Reads an input; null when something is wrong with it.</summary>
    public InputDefinition? Input((SheetEntry Entry, MapReader Keys) channel)
    {
        (SheetEntry entry, MapReader keys) = channel;
        ChannelKind? kind = Kind(keys, "reads", InputKinds);
        DeviceDefinition? device = Device(keys);
        if (kind is not { } reads || device is null) return null;
        WiredInput? wired = _wiring.Input(keys, reads);
        ChannelPoint? point = device.Driver.ReadPoint(keys, reads, isOutput: false);
        Calibration? calibration = point is null ? Scale(keys, reads, []) : Scale(keys, reads, point.OwnScale);
        (double Low, double High) limits = reads.IsContact() ? (0, 1) : keys.Band("limits", reads.Dimension()) ?? (double.NegativeInfinity, double.PositiveInfinity);
        double accuracy = reads.IsContact() ? 0 : Accuracy(keys, reads);
        double above = reads == ChannelKind.Switch ? keys.Quantity("above", Dimension.Volt, 6, Allowed.Positive) : 0;
        keys.Done();
        return wired is null || point is null || calibration is null ? null
            : new(entry.Key, device.Name, reads, entry.KeyMark, point, calibration, wired, limits.Low, limits.High, accuracy, above);
    }

    private static bool IsSafeAllowed(double safe, (double Low, double High) limits, OutputLaw? law) =>
        double.IsInfinity(safe) ? law is not ScaledLaw : safe == 0 || (safe >= limits.Low && safe <= limits.High);

    private static ChannelKind? Kind(MapReader keys, string key, string[] words) =>
        keys.Word(key, words, true) is { } word ? Enum.Parse<ChannelKind>(word, ignoreCase: true) : null;

    private DeviceDefinition? Device(MapReader keys)
    {
        if (keys.Scalar("device", true) is not { } scalar) return null;
        if (devices.TryGetValue(scalar.Text, out DeviceDefinition? device)) return device;
        string? near = NearMiss.Suggest(scalar.Text, devices.Keys);
        problems.Error("unknown-device", scalar.Mark, $"there is no device '{scalar.Text}'", near is null ? $"known here: {string.Join(", ", devices.Keys)}" : $"did you mean '{near}'?");
        return null;
    }

    private (IReadOnlyList<ChannelPoint>, OutputLaw)? Single(MapReader keys, DeviceDefinition device, ChannelKind kind)
    {
        ChannelPoint? point = device.Driver.ReadPoint(keys, kind, isOutput: true);
        Calibration? calibration = Scale(keys, kind, point?.OwnScale ?? []);
        return point is null || calibration is null ? null : ([point], new ScaledLaw(calibration, point.IsStepped));
    }

    /// <summary>Resistors that contacts of the device switch: <c>switched: { parallel: [ { coil: 0, ohms: 10 kohm }, ... ] }</c>.</summary>
    private (IReadOnlyList<ChannelPoint>, OutputLaw)? Switched(MapReader keys, DeviceDefinition device, ChannelKind kind)
    {
        if (kind != ChannelKind.Resistance)
        {
            problems.Error("wrong-value", keys.MarkOf("switched"), "only a resistance can be made of switched resistors");
            return null;
        }

        if (keys.Reader("switched") is not { } bank) return null;
        bool isParallel = bank.Has("parallel");
        SheetList? list = bank.List(isParallel ? "parallel" : "series", true);
        bank.Done();
        var points = new List<ChannelPoint>();
        var ohms = new List<double>();
        foreach (SheetNode item in list?.Items ?? [])
        {
            if (ValueReader.Map(item, "resistor", problems) is not { } map) continue;
            var step = new MapReader(map, problems);
            if (step.Quantity("ohms", Dimension.Ohm, true, Allowed.Positive) is { } r && device.Driver.ReadPoint(step, ChannelKind.Relay, isOutput: true) is { } point)
            {
                points.Add(point);
                ohms.Add(r);
            }

            step.Done();
        }

        if (list is null || points.Count != list.Items.Count) return null;
        if (points.Count is >= 1 and <= SwitchedResistors.Most) return (points, new SwitchedResistors([.. ohms], isParallel));
        problems.Error("wrong-value", list.Mark, $"1 to {SwitchedResistors.Most} resistors can be switched; these are {points.Count}");
        return null;
    }

    private (double Low, double High) Limits(MapReader keys, ChannelKind kind, OutputLaw? law)
    {
        if (kind.IsContact()) return (0, 1);
        if (law is SwitchedResistors bank && !keys.Has("limits")) return bank.Range;
        (double Low, double High)? limits = keys.Band("limits", kind.Dimension(), true);
        if (limits is { Low: < 0 }) problems.Error("wrong-value", keys.MarkOf("limits"), "'limits' must not go below 0");
        return limits ?? (0, double.PositiveInfinity);
    }

    private double? Value(MapReader keys, string key, ChannelKind kind, bool required)
    {
        if (keys.Scalar(key, required) is not { } scalar) return null;
        if (kind.TryRead(scalar.Text, out double value, out string? problem)) return value;
        problems.Error("wrong-value", scalar.Mark, $"'{key}': {problem}");
        return null;
    }

    /// <summary><c>calibration: { gain: 0.01, offset: 0 V }</c> with the gain in SI for each raw count, or points: <c>[[0, 75 ohm], [256, 50 kohm]]</c>.</summary>
    private Calibration? Scale(MapReader keys, ChannelKind kind, IReadOnlyList<(double Raw, double Value)> own)
    {
        SheetNode? node = keys.Node("calibration");
        if (node is null) return own.Count == 0 ? Calibration.None : Calibration.Through(own, out _);
        if (node is SheetMap map)
        {
            var line = new MapReader(map, problems);
            double gain = line.Number("gain", 1);
            double offset = kind.IsContact() ? 0 : line.Quantity("offset", kind.Dimension(), 0);
            line.Done();
            if (gain != 0) return Calibration.Line(gain, offset);
            problems.Error("wrong-value", line.MarkOf("gain"), "'gain' must not be 0");
            return null;
        }

        if (ValueReader.List(node, "calibration", problems) is not { } list) return null;
        var points = new List<(double, double)>();
        foreach (SheetNode item in list.Items)
        {
            if (item is SheetList { Items.Count: 2 } pair && ValueReader.Quantity(pair.Items[0], "raw number", Dimension.None, problems) is { } raw
                && ValueReader.Quantity(pair.Items[1], "value", kind.Dimension(), problems) is { } value)
                points.Add((raw, value));
            else if (item is not SheetList { Items.Count: 2 })
                problems.Error("wrong-value", item.Mark, "a point of a calibration is a raw number and a value", "write it as '[0, 75 ohm]'");
        }

        if (points.Count != list.Items.Count) return null;
        Calibration? calibration = Calibration.Through(points, out string? problem);
        if (calibration is null) problems.Error("wrong-value", list.Mark, $"'calibration': {problem}");
        return calibration;
    }

    /// <summary>What an input is taken to be wrong by when nothing is said (common practice, no source).</summary>
    private static double Accuracy(MapReader keys, ChannelKind kind) => kind switch
    {
        ChannelKind.Voltage => keys.Quantity("accuracy", Dimension.Volt, 0.1, Allowed.Positive),
        ChannelKind.Current => keys.Quantity("accuracy", Dimension.Ampere, 0.3, Allowed.Positive),
        ChannelKind.Pressure => keys.Quantity("accuracy", Dimension.Pressure, 2e3, Allowed.Positive),
        _ => keys.Quantity("accuracy", Dimension.TemperatureDifference, 3, Allowed.Positive),
    };
}
