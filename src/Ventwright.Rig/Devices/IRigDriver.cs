using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Devices;

/// <summary>A kind of device: reads its part of a rig file, and makes the device.</summary>
internal interface IRigDriver
{
    /// <summary>Word in the rig file: <c>modbus-tcp</c>.</summary>
    string Kind { get; }

    /// <summary>Reads the keys of a device that are its own.</summary>
    DeviceSettings ReadDevice(string name, MapReader keys);

    /// <summary>Reads which point of the device a channel uses; null when that is wrong, with the problem reported.</summary>
    ChannelPoint? ReadPoint(MapReader keys, ChannelKind kind, bool isOutput);

    /// <summary>Makes the device, not yet open.</summary>
    IRigDevice Make(DeviceSettings settings);
}

/// <summary>How a device is reached and what is expected of it.</summary>
/// <param name="Name">Name in the rig file.</param>
/// <param name="Line">Address, or null for a device without a line.</param>
/// <param name="Timeout">Longest wait for an answer.</param>
/// <param name="Identity">Text that must be part of what the device says it is, or null.</param>
/// <param name="Unit">Modbus unit number.</param>
/// <param name="AsksErrors">SCPI: whether the error queue is asked after each setting.</param>
internal sealed record DeviceSettings(string Name, Lines.LineAddress? Line, TimeSpan Timeout, string? Identity = null, byte Unit = 1, bool AsksErrors = true);

/// <summary>All drivers. A new kind of device is a folder of its own and a line here.</summary>
internal static class RigDrivers
{
    public static IReadOnlyList<IRigDriver> All { get; } =
    [
        new Firmata.FirmataDriver(), new Modbus.ModbusDriver(isSerial: false), new Modbus.ModbusDriver(isSerial: true),
        new Scpi.ScpiDriver(isSerial: false), new Scpi.ScpiDriver(isSerial: true), new Virtual.VirtualDriver(),
    ];
}
