using System.Buffers.Binary;
using System.Text;

namespace Ventwright.Rig.Modbus;

/// <summary>
/// Requests and answers of the Modbus Application Protocol V1.1b3, whatever the line: section 6.1 to 6.6 (bits and registers), 6.12 (several registers),
/// 6.21 (identification), 7 (exceptions).
/// </summary>
internal static class ModbusPdu
{
    private const byte ExceptionBit = 0x80, WriteCoil = 5, WriteRegister = 6, WriteRegisters = 16, Encapsulated = 0x2B, Identification = 0x0E;

    private static readonly string[] Exceptions =
    [
        "it does not know this function", "it has nothing at this address", "it does not take this value", "it failed inside", "it needs longer for this",
        "it is busy", "", "its memory has a parity error", "", "its gateway has no path", "its gateway gets no answer from the device behind it",
    ];

    /// <summary>Asks for a point.</summary>
    public static byte[] Read(ModbusPoint point) => Words((byte)(1 + (int)point.Table), point.Address, (ushort)point.Count);

    /// <summary>Sets a point.</summary>
    public static byte[] Write(ModbusPoint point, double raw)
    {
        if (point.IsBit) return Words(WriteCoil, point.Address, raw >= 0.5 ? (ushort)0xFF00 : (ushort)0);
        byte[] registers = point.Encode(raw);
        if (point.Count == 1) return Words(WriteRegister, point.Address, BinaryPrimitives.ReadUInt16BigEndian(registers));
        return [.. Words(WriteRegisters, point.Address, 2), (byte)registers.Length, .. registers];
    }

    /// <summary>Asks for the maker's and the product's name.</summary>
    public static byte[] Identify() => [Encapsulated, Identification, 1, 0];

    /// <summary>Why the device refuses, in words; null when it does not.</summary>
    public static string? Refusal(ReadOnlySpan<byte> answer)
    {
        if (answer.Length < 2 || (answer[0] & ExceptionBit) == 0) return null;
        string? why = answer[1] >= 1 && answer[1] <= Exceptions.Length ? Exceptions[answer[1] - 1] : null;
        return string.IsNullOrEmpty(why) ? $"it refuses with code {answer[1]}" : why;
    }

    /// <summary>The number in an answer to <see cref="Read"/>; null when the answer does not fit the question.</summary>
    public static double? ReadAnswer(ModbusPoint point, ReadOnlySpan<byte> answer)
    {
        int bytes = point.IsBit ? 1 : 2 * point.Count;
        if (answer.Length != 2 + bytes || answer[0] != 1 + (int)point.Table || answer[1] != bytes) return null;
        return point.IsBit ? answer[2] & 1 : point.Decode(answer[2..]);
    }

    /// <summary>Whether an answer says that <paramref name="request"/> was carried out: it repeats function, address, and value or count.</summary>
    public static bool IsWriteAnswer(ReadOnlySpan<byte> request, ReadOnlySpan<byte> answer) => answer.Length == 5 && answer.SequenceEqual(request[..5]);

    /// <summary>The names in an answer to <see cref="Identify"/>; null when the answer does not fit.</summary>
    public static string? Names(ReadOnlySpan<byte> answer)
    {
        if (answer.Length < 7 || answer[0] != Encapsulated || answer[1] != Identification) return null;
        var names = new List<string>();
        int at = 7;
        for (int i = 0; i < answer[6] && at + 2 <= answer.Length; i++)
        {
            int length = answer[at + 1];
            if (at + 2 + length > answer.Length) return null;
            names.Add(Encoding.Latin1.GetString(answer.Slice(at + 2, length)));
            at += 2 + length;
        }

        return string.Join(' ', names.Where(n => n.Length > 0));
    }

    private static byte[] Words(byte function, ushort first, ushort second)
    {
        var pdu = new byte[5];
        pdu[0] = function;
        BinaryPrimitives.WriteUInt16BigEndian(pdu.AsSpan(1), first);
        BinaryPrimitives.WriteUInt16BigEndian(pdu.AsSpan(3), second);
        return pdu;
    }
}
