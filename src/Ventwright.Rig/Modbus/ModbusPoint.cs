using System.Buffers.Binary;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Modbus;

/// <summary>The four tables of the Modbus data model (Modbus Application Protocol V1.1b3, section 4.3).</summary>
internal enum ModbusTable
{
    /// <summary>A bit that can be set: function 1 reads, 5 writes.</summary>
    Coil,

    /// <summary>A bit that can only be read: function 2.</summary>
    Discrete,

    /// <summary>A register that can be set: function 3 reads, 6 and 16 write.</summary>
    Holding,

    /// <summary>A register that can only be read: function 4.</summary>
    Input,
}

/// <summary>How registers make a number.</summary>
internal enum ModbusNumber
{
    /// <summary>One register, 0 to 65535.</summary>
    U16,

    /// <summary>One register, two's complement.</summary>
    S16,

    /// <summary>Two registers, unsigned.</summary>
    U32,

    /// <summary>Two registers, two's complement.</summary>
    S32,

    /// <summary>Two registers, IEEE 754 single.</summary>
    Float,
}

/// <summary>A bit or a number in a Modbus device.</summary>
/// <param name="Table">Table.</param>
/// <param name="Address">Address from 0, as it goes over the line; printed numbers such as 40001 start at 1.</param>
/// <param name="Number">How registers make a number.</param>
/// <param name="IsLowFirst">Two registers: whether the first holds the low half.</param>
/// <param name="Unit">Unit number where several units share a line; 0 for that of the device.</param>
internal sealed record ModbusPoint(ModbusTable Table, ushort Address, ModbusNumber Number, bool IsLowFirst, byte Unit = 0) : ChannelPoint
{
    /// <summary>Whether it is a bit.</summary>
    public bool IsBit => Table is ModbusTable.Coil or ModbusTable.Discrete;

    /// <summary>Number of bits or registers.</summary>
    public int Count => IsBit || Number is ModbusNumber.U16 or ModbusNumber.S16 ? 1 : 2;

    internal override bool IsStepped => Number != ModbusNumber.Float;

    /// <summary>Reads <c>coil: 3</c>, <c>discrete: 0</c>, <c>holding: 16</c> or <c>input: 2</c>, with <c>type</c> and <c>words</c>.</summary>
    public static ModbusPoint? Read(MapReader keys, ChannelKind kind, bool isOutput)
    {
        bool isBit = kind is ChannelKind.Relay or ChannelKind.Switch;
        ModbusTable[] fit = isBit ? [ModbusTable.Coil, ModbusTable.Discrete] : [ModbusTable.Holding, ModbusTable.Input];
        if (isOutput) fit = [fit[0]];
        ModbusTable[] given = [.. Enum.GetValues<ModbusTable>().Where(t => keys.Has(Word(t)))];
        ModbusNumber number = keys.Choice<ModbusNumber>("type") ?? ModbusNumber.U16;
        bool isLowFirst = keys.Word("words", ["high-first", "low-first"]) == "low-first";
        int unit = keys.Whole("unit") ?? 0;
        if (unit is < 0 or > 247) keys.Problems.Error("wrong-value", keys.MarkOf("unit"), "'unit' is a number from 1 to 247");
        if (given.Length != 1 || !fit.Contains(given[0]))
        {
            keys.Problems.Error("point", keys.Mark, $"say where in the device it is, once: {string.Join(" or ", fit.Select(t => $"'{Word(t)}: 0'"))}", "addresses count from 0");
            return null;
        }

        if (keys.Whole(Word(given[0])) is not { } address) return null;
        if (address is >= 0 and <= 65535) return new(given[0], (ushort)address, number, isLowFirst, (byte)Math.Clamp(unit, 0, 247));
        keys.Problems.Error("wrong-value", keys.MarkOf(Word(given[0])), $"'{Word(given[0])}' is an address from 0 to 65535");
        return null;
    }

    /// <summary>The number that registers hold.</summary>
    public double Decode(ReadOnlySpan<byte> registers)
    {
        if (Count == 1) return Number == ModbusNumber.S16 ? BinaryPrimitives.ReadInt16BigEndian(registers) : BinaryPrimitives.ReadUInt16BigEndian(registers);
        uint first = BinaryPrimitives.ReadUInt16BigEndian(registers), second = BinaryPrimitives.ReadUInt16BigEndian(registers[2..]);
        uint bits = IsLowFirst ? (second << 16) | first : (first << 16) | second;
        return Number switch { ModbusNumber.S32 => (int)bits, ModbusNumber.Float => BitConverter.UInt32BitsToSingle(bits), _ => bits };
    }

    /// <summary>The registers for a number; it is rounded and kept within what they hold.</summary>
    public byte[] Encode(double value)
    {
        uint bits = Number switch
        {
            ModbusNumber.Float => BitConverter.SingleToUInt32Bits((float)value),
            ModbusNumber.S16 => (ushort)(short)Math.Clamp(Math.Round(value), short.MinValue, short.MaxValue),
            ModbusNumber.S32 => (uint)(int)Math.Clamp(Math.Round(value), int.MinValue, int.MaxValue),
            ModbusNumber.U32 => (uint)Math.Clamp(Math.Round(value), 0, uint.MaxValue),
            _ => (uint)Math.Clamp(Math.Round(value), 0, ushort.MaxValue),
        };
        var bytes = new byte[2 * Count];
        if (Count == 1) BinaryPrimitives.WriteUInt16BigEndian(bytes, (ushort)bits);
        else BinaryPrimitives.WriteUInt32BigEndian(bytes, IsLowFirst ? (bits << 16) | (bits >> 16) : bits);
        return bytes;
    }

    /// <inheritdoc/>
    public override string ToString() => $"{Word(Table)} {Address}{(Unit == 0 ? "" : $" of unit {Unit}")}";

    private static string Word(ModbusTable table) => table.ToString().ToLowerInvariant();
}
