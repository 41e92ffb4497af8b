using System.Globalization;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Firmata;

/// <summary>What a pin of a board does.</summary>
internal enum PinUse
{
    /// <summary>Digital output.</summary>
    Output,

    /// <summary>Digital input.</summary>
    Input,

    /// <summary>Digital input with the board's own pull-up.</summary>
    PulledUp,

    /// <summary>Analogue input; raw numbers are shares of the board's reference.</summary>
    Analog,

    /// <summary>Pulses whose width makes a voltage behind a filter; raw numbers are the share that is on.</summary>
    Pulses,
}

/// <summary>A pin.</summary>
/// <param name="Use">What it does.</param>
/// <param name="Number">Number of the pin; for an analogue input that of its channel.</param>
/// <param name="IsInverted">Whether low means on.</param>
internal sealed record PinPoint(PinUse Use, int Number, bool IsInverted) : ChannelPoint
{
    /// <summary>5 V is the usual reference of these boards; a calibration replaces it.</summary>
    internal override IReadOnlyList<(double Raw, double Value)> OwnScale => Use is PinUse.Analog or PinUse.Pulses ? [(0, 0), (1, 5)] : [];

    /// <inheritdoc/>
    public override string ToString() => (Use == PinUse.Analog ? "pin A" : "pin ") + Number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>A chip on the board's I2C bus.</summary>
/// <param name="Chip">How it is spoken to.</param>
/// <param name="Address">Its address.</param>
/// <param name="Part">Which of its wipers or inputs.</param>
/// <param name="Scale">What its raw numbers mean.</param>
internal sealed record ChipPoint(II2cChip Chip, byte Address, int Part, IReadOnlyList<(double Raw, double Value)> Scale) : ChannelPoint
{
    internal override IReadOnlyList<(double Raw, double Value)> OwnScale => Scale;

    internal override bool IsStepped => Chip is DigitalPotentiometer;

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Chip.Word} at 0x{Address:x2}, {Chip.PartWord} {Part}");
}

/// <summary>Reads which pin or chip a channel uses.</summary>
internal static class FirmataPoints
{
    private const int LastPin = 127, FirstI2c = 0x08, LastI2c = 0x77;

    /// <summary>Reads <c>pin: 7</c>, <c>pin: A0</c>, <c>pwm: 9</c> or <c>chip: ads1115</c> with its keys.</summary>
    public static ChannelPoint? Read(MapReader keys, ChannelKind kind, bool isOutput)
    {
        bool isSwitch = kind is ChannelKind.Relay or ChannelKind.Switch;
        if (keys.Has("chip")) return ReadChip(keys, kind, isOutput);
        if (isOutput && !isSwitch) return kind == ChannelKind.Voltage ? ReadPulses(keys) : Wrong(keys, "a resistance needs a 'chip' or 'switched' resistors");
        bool isInverted = isSwitch && keys.Flag("active-low", false);
        bool isPulledUp = !isOutput && isSwitch && keys.Flag("pull-up", false);
        if (keys.Scalar("pin", true) is not { } pin) return null;
        bool isAnalog = !isSwitch;
        string text = isAnalog && pin.Text.StartsWith('A') ? pin.Text[1..] : pin.Text;
        if (isAnalog != pin.Text.StartsWith('A') || !int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number > LastPin)
        {
            keys.Problems.Error("wrong-value", pin.Mark, $"'pin' does not know '{pin.Text}'", isAnalog ? "write an analogue pin such as 'A0'" : "write a number such as '7'");
            return null;
        }

        return new PinPoint(isAnalog ? PinUse.Analog : isOutput ? PinUse.Output : isPulledUp ? PinUse.PulledUp : PinUse.Input, number, isInverted);
    }

    private static PinPoint? ReadPulses(MapReader keys) =>
        keys.Whole("pwm", true) is { } pin && InRange(keys, "pwm", pin, 0, LastPin) ? new(PinUse.Pulses, pin, false) : null;

    private static ChipPoint? ReadChip(MapReader keys, ChannelKind kind, bool isOutput)
    {
        II2cChip[] fit = [.. I2cChips.All.Where(c => c.Fits(kind, isOutput))];
        string? word = keys.Word("chip", [.. fit.Select(c => c.Word)], true);
        II2cChip? chip = Array.Find(fit, c => c.Word == word);
        int? address = Address(keys);
        if (chip is null)
        {
            keys.Has(isOutput ? "wiper" : "input");
            return null;
        }

        int part = keys.Whole(chip.PartWord) ?? 0;
        bool isSound = InRange(keys, chip.PartWord, part, 0, chip.LastPart);
        return chip.Scale(keys) is { } scale && address is { } at && isSound ? new(chip, (byte)at, part, scale) : null;
    }

    private static int? Address(MapReader keys)
    {
        if (keys.Scalar("i2c", true) is not { } scalar) return null;
        bool isHex = scalar.Text.StartsWith("0x", StringComparison.OrdinalIgnoreCase);
        bool isRead = int.TryParse(isHex ? scalar.Text[2..] : scalar.Text, isHex ? NumberStyles.AllowHexSpecifier : NumberStyles.None, CultureInfo.InvariantCulture, out int address);
        if (isRead && address is >= FirstI2c and <= LastI2c) return address;
        keys.Problems.Error("wrong-value", scalar.Mark, $"'i2c' does not know the address '{scalar.Text}'", "write it as on the data sheet: 0x2c, from 0x08 to 0x77");
        return null;
    }

    private static bool InRange(MapReader keys, string key, int value, int low, int high)
    {
        if (value >= low && value <= high) return true;
        keys.Problems.Error("wrong-value", keys.MarkOf(key), $"'{key}' is a number from {low} to {high}");
        return false;
    }

    private static ChannelPoint? Wrong(MapReader keys, string message)
    {
        keys.Problems.Error("point", keys.Mark, message);
        return null;
    }
}
