using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Firmata;

/// <summary>The I2C bus of a board.</summary>
internal interface II2cBus
{
    /// <summary>Writes bytes to an address.</summary>
    Task WriteAsync(byte address, byte[] bytes, CancellationToken cancel);

    /// <summary>Writes a register number and reads bytes.</summary>
    Task<byte[]> ReadAsync(byte address, byte register, int count, CancellationToken cancel);
}

/// <summary>A kind of chip.</summary>
internal interface II2cChip
{
    /// <summary>Word in the rig file.</summary>
    string Word { get; }

    /// <summary>Key for which of its wipers or inputs.</summary>
    string PartWord { get; }

    /// <summary>Last of its wipers or inputs, from 0.</summary>
    int LastPart { get; }

    /// <summary>Whether it can serve such a channel.</summary>
    bool Fits(ChannelKind kind, bool isOutput);

    /// <summary>What raw numbers mean, from its keys; null when they are wrong.</summary>
    IReadOnlyList<(double Raw, double Value)>? Scale(MapReader keys);

    /// <summary>Its raw number.</summary>
    Task<double> ReadAsync(II2cBus bus, ChipPoint point, CancellationToken cancel);

    /// <summary>Sets its raw number.</summary>
    Task WriteAsync(II2cBus bus, ChipPoint point, double raw, CancellationToken cancel);
}

/// <summary>All chips.</summary>
internal static class I2cChips
{
    public static IReadOnlyList<II2cChip> All { get; } = [new DigitalPotentiometer(), new Ads1115(), new Mcp4725()];
}

/// <summary>
/// Digital potentiometer of the MCP45xx and MCP46xx family, 8 bits, wiper and one end joined: raw 0 to 256. A command byte has the register in its upper four
/// bits (wipers 0 and 1), then 00 for write or 11 for read, then the upper two data bits (Microchip data sheet DS22107, section 7; from memory).
/// </summary>
internal sealed class DigitalPotentiometer : II2cChip
{
    private const int Steps = 256;
    private const byte ReadCommand = 0x0C;

    public string Word => "mcp45xx";

    public string PartWord => "wiper";

    public int LastPart => 1;

    public bool Fits(ChannelKind kind, bool isOutput) => isOutput && kind == ChannelKind.Resistance;

    public IReadOnlyList<(double Raw, double Value)>? Scale(MapReader keys)
    {
        // 75 ohm is the usual resistance of the wiper of this family.
        double wiper = keys.Quantity("wiper-ohms", Dimension.Ohm, 75, Allowed.NotNegative);
        return keys.Quantity("full", Dimension.Ohm, true, Allowed.Positive) is { } full ? [(0, wiper), (Steps, full + wiper)] : null;
    }

    public async Task<double> ReadAsync(II2cBus bus, ChipPoint point, CancellationToken cancel)
    {
        byte[] bytes = await bus.ReadAsync(point.Address, (byte)((point.Part << 4) | ReadCommand), 2, cancel);
        return ((bytes[0] & 1) << 8) | bytes[1];
    }

    public Task WriteAsync(II2cBus bus, ChipPoint point, double raw, CancellationToken cancel)
    {
        int step = (int)Math.Clamp(Math.Round(raw), 0, Steps);
        return bus.WriteAsync(point.Address, [(byte)((point.Part << 4) | (step >> 8)), (byte)step], cancel);
    }
}

/// <summary>
/// Converter with four inputs to ground, single conversions at +-6.144 V and 860 a second; raw numbers are volts at its input. Register 0 holds the result,
/// 1 the configuration (Texas Instruments data sheet SBAS444, section on registers).
/// </summary>
internal sealed class Ads1115 : II2cChip
{
    private const byte ResultRegister = 0, ConfigRegister = 1, Ready = 0x80;
    private const double VoltsPerCount = 6.144 / 32768;
    private const int MostWaits = 20;

    public string Word => "ads1115";

    public string PartWord => "input";

    public int LastPart => 3;

    public bool Fits(ChannelKind kind, bool isOutput) => !isOutput;

    public IReadOnlyList<(double Raw, double Value)>? Scale(MapReader keys) => [];

    public async Task<double> ReadAsync(II2cBus bus, ChipPoint point, CancellationToken cancel)
    {
        // Start, input against ground, +-6.144 V, single; 860 a second, comparator off.
        await bus.WriteAsync(point.Address, [ConfigRegister, (byte)(0xC1 | (point.Part << 4)), 0xE3], cancel);
        for (int i = 0; i < MostWaits && ((await bus.ReadAsync(point.Address, ConfigRegister, 2, cancel))[0] & Ready) == 0; i++) await Task.Delay(1, cancel);
        byte[] bytes = await bus.ReadAsync(point.Address, ResultRegister, 2, cancel);
        return (short)((bytes[0] << 8) | bytes[1]) * VoltsPerCount;
    }

    public Task WriteAsync(II2cBus bus, ChipPoint point, double raw, CancellationToken cancel) => throw new InvalidOperationException("an input cannot be set");
}

/// <summary>Digital-to-analogue converter, 12 bits, fast write; raw numbers are shares of its supply (Microchip data sheet DS22039, section 6; from memory).</summary>
internal sealed class Mcp4725 : II2cChip
{
    private const int Full = 4095;

    public string Word => "mcp4725";

    public string PartWord => "output";

    public int LastPart => 0;

    public bool Fits(ChannelKind kind, bool isOutput) => isOutput && kind == ChannelKind.Voltage;

    public IReadOnlyList<(double Raw, double Value)>? Scale(MapReader keys) => [(0, 0), (1, keys.Quantity("supply", Dimension.Volt, 5, Allowed.Positive))];

    public async Task<double> ReadAsync(II2cBus bus, ChipPoint point, CancellationToken cancel)
    {
        // A read gives status, then the upper eight and the lower four bits; the register number sent before it is taken as a fast write of nothing.
        byte[] bytes = await bus.ReadAsync(point.Address, 0, 3, cancel);
        return ((bytes[1] << 4) | (bytes[2] >> 4)) / (double)Full;
    }

    public Task WriteAsync(II2cBus bus, ChipPoint point, double raw, CancellationToken cancel)
    {
        int count = (int)Math.Clamp(Math.Round(raw * Full), 0, Full);
        return bus.WriteAsync(point.Address, [(byte)(count >> 8), (byte)count], cancel);
    }
}
