using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Definition;

/// <summary>A device of the rig.</summary>
public sealed class DeviceDefinition
{
    internal DeviceDefinition(IRigDriver driver, DeviceSettings settings) => (Driver, Settings) = (driver, settings);

    /// <summary>Name in the rig file.</summary>
    public string Name => Settings.Name;

    /// <summary>Kind, such as <c>modbus-tcp</c>.</summary>
    public string Kind => Driver.Kind;

    /// <summary>Where it is reached, for people; empty for a device without a line.</summary>
    public string Line => Settings.Line?.ToString() ?? "";

    internal IRigDriver Driver { get; }

    internal DeviceSettings Settings { get; }
}

/// <summary>What inputs and outputs share.</summary>
/// <param name="Name">Name in the rig file.</param>
/// <param name="Device">Name of its device.</param>
/// <param name="Kind">What it gives or reads.</param>
/// <param name="At">Where the rig file describes it.</param>
public abstract record ChannelDefinition(string Name, string Device, ChannelKind Kind, Mark At);

/// <summary>An output.</summary>
/// <param name="Name">Name in the rig file.</param>
/// <param name="Device">Name of its device.</param>
/// <param name="Kind">What it gives.</param>
/// <param name="At">Where the rig file describes it.</param>
/// <param name="Points">Points of the device; several for switched resistors.</param>
/// <param name="Law">How the points make the value.</param>
/// <param name="Wired">Where it is wired to.</param>
/// <param name="Low">Lowest value allowed, SI.</param>
/// <param name="High">Highest value allowed, SI.</param>
/// <param name="Safe">Value in the safe state, SI.</param>
public sealed record OutputDefinition(
    string Name, string Device, ChannelKind Kind, Mark At, IReadOnlyList<ChannelPoint> Points, OutputLaw Law, WiredOutput Wired, double Low, double High, double Safe)
    : ChannelDefinition(Name, Device, Kind, At);

/// <summary>An input.</summary>
/// <param name="Name">Name in the rig file.</param>
/// <param name="Device">Name of its device.</param>
/// <param name="Kind">What it reads.</param>
/// <param name="At">Where the rig file describes it.</param>
/// <param name="Point">Point of the device.</param>
/// <param name="Calibration">What raw numbers mean.</param>
/// <param name="Wired">Where it is wired to.</param>
/// <param name="Low">Below this a run stops, SI.</param>
/// <param name="High">Above this a run stops, SI.</param>
/// <param name="Accuracy">Half-width of its error, SI.</param>
/// <param name="Above">For a switch at a net: volts from which it reads on.</param>
public sealed record InputDefinition(
    string Name, string Device, ChannelKind Kind, Mark At, ChannelPoint Point, Calibration Calibration, WiredInput Wired, double Low, double High, double Accuracy, double Above)
    : ChannelDefinition(Name, Device, Kind, At);

/// <summary>A rig as its file describes it.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Devices">Devices.</param>
/// <param name="Outputs">Outputs, in the order of the file; in this order they are put to their safe state.</param>
/// <param name="Inputs">Inputs.</param>
public sealed record RigDefinition(
    string Name, IReadOnlyList<DeviceDefinition> Devices, IReadOnlyList<OutputDefinition> Outputs, IReadOnlyList<InputDefinition> Inputs)
{
    /// <summary>The name by which runs know an output: what it is wired to, or its own name where several are wired there.</summary>
    public string KeyOf(OutputDefinition output) => Outputs.Count(o => o.Wired.Name == output.Wired.Name) == 1 ? output.Wired.Name : output.Name;

    /// <summary>The output of a name or key, or null.</summary>
    public OutputDefinition? FindOutput(string name) => Outputs.FirstOrDefault(o => o.Name == name) ?? Outputs.FirstOrDefault(o => KeyOf(o) == name);

    /// <summary>What to beware of with these outputs, for the person at the bench.</summary>
    public IReadOnlyList<string> Cautions
    {
        get
        {
            var cautions = new List<string> { "Keep a switch within reach that cuts the 12 V supply by hand: a program, a computer and a cable can fail." };
            if (Outputs.Any(o => o.Wired.Role == OutputRole.Supply))
                cautions.Add("The supply gives 12 V at high current: fuse it close to its plus as the maker's wiring diagram has it, set its current limit, and keep rings and tools off the terminals.");
            if (Outputs.Any(o => o.Wired.Role is OutputRole.Supply or OutputRole.Feed or OutputRole.Join))
                cautions.Add("Fans, flaps and servos may start at any moment: guards on, fingers, sleeves, hair and tools out.");
            if (Outputs.Any(o => o.Wired.Role == OutputRole.Pump)) cautions.Add("The pump pulls flaps shut with force: keep fingers out of the box.");
            return cautions;
        }
    }
}
