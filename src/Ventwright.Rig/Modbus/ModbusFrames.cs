using System.Buffers.Binary;
using Ventwright.Rig.Lines;

namespace Ventwright.Rig.Modbus;

/// <summary>How requests and answers are packed on a line.</summary>
internal interface IModbusFrames
{
    /// <summary>Sends a request and waits for its answer; null for an answer that makes no sense.</summary>
    Task<byte[]?> AskAsync(ByteLine line, byte unit, byte[] request, CancellationToken cancel);
}

/// <summary>
/// Modbus TCP: a head of transaction number, protocol 0, length and unit before each message (Modbus Messaging on TCP/IP Implementation Guide V1.0b, section 3.1.3).
/// </summary>
internal sealed class ModbusTcpFrames : IModbusFrames
{
    private const int Head = 7, LongestPdu = 253;

    private ushort _transaction;

    /// <inheritdoc/>
    public async Task<byte[]?> AskAsync(ByteLine line, byte unit, byte[] request, CancellationToken cancel)
    {
        var message = new byte[Head + request.Length];
        BinaryPrimitives.WriteUInt16BigEndian(message, ++_transaction);
        BinaryPrimitives.WriteUInt16BigEndian(message.AsSpan(4), (ushort)(request.Length + 1));
        message[6] = unit;
        request.CopyTo(message, Head);
        await line.WriteAsync(message, cancel);
        while (true)
        {
            byte[] head = await line.ReadAsync(Head, cancel);
            int length = BinaryPrimitives.ReadUInt16BigEndian(head.AsSpan(4)) - 1;
            if (BinaryPrimitives.ReadUInt16BigEndian(head.AsSpan(2)) != 0 || length is < 1 or > LongestPdu) return null;
            byte[] answer = await line.ReadAsync(length, cancel);
            // An answer to an earlier question that was given up comes late: it is passed over.
            if (BinaryPrimitives.ReadUInt16BigEndian(head) == _transaction) return head[6] == unit ? answer : null;
        }
    }
}

/// <summary>
/// Modbus RTU: unit, message, check (Modbus over Serial Line V1.02, section 2.5.1). Where an answer ends is worked out from its function, since a computer
/// does not see the silence of 3.5 characters that the standard ends it with; the silence before a request is kept.
/// </summary>
internal sealed class ModbusRtuFrames(int baud) : IModbusFrames
{
    private const int BitsOfCharacter = 11, FastBaud = 19200;

    /// <summary>Silence between messages, s: 3.5 characters, and 1.75 ms from above 19200 baud (V1.02, section 2.5.1.1).</summary>
    internal double SilenceS { get; } = baud > FastBaud ? 1.75e-3 : 3.5 * BitsOfCharacter / baud;

    /// <inheritdoc/>
    public async Task<byte[]?> AskAsync(ByteLine line, byte unit, byte[] request, CancellationToken cancel)
    {
        await Task.Delay(TimeSpan.FromSeconds(SilenceS), cancel);
        line.Discard();
        await line.WriteAsync(Framed(unit, request), cancel);
        byte[] head = await line.ReadAsync(3, cancel);
        byte[]? rest = await RestAsync(line, head, cancel);
        if (rest is null) return null;
        byte[] all = [.. head, .. rest];
        bool isSound = Crc16.Of(all.AsSpan(0, all.Length - 2)) == BinaryPrimitives.ReadUInt16LittleEndian(all.AsSpan(all.Length - 2));
        return isSound && all[0] == unit ? all[1..^2] : null;
    }

    /// <summary>A message with unit and check.</summary>
    internal static byte[] Framed(byte unit, byte[] request)
    {
        byte[] message = [unit, .. request, 0, 0];
        BinaryPrimitives.WriteUInt16LittleEndian(message.AsSpan(message.Length - 2), Crc16.Of(message.AsSpan(0, message.Length - 2)));
        return message;
    }

    private static async Task<byte[]?> RestAsync(ByteLine line, byte[] head, CancellationToken cancel)
    {
        byte function = head[1];
        if ((function & 0x80) != 0) return await line.ReadAsync(2, cancel);
        return function switch
        {
            1 or 2 or 3 or 4 => await line.ReadAsync(head[2] + 2, cancel),
            5 or 6 or 16 => await line.ReadAsync(5, cancel),
            0x2B => await IdentificationAsync(line, cancel),
            _ => null,
        };
    }

    /// <summary>Code, conformity, more, next, count, then number, length and text of each name.</summary>
    private static async Task<byte[]> IdentificationAsync(ByteLine line, CancellationToken cancel)
    {
        List<byte> bytes = [.. await line.ReadAsync(5, cancel)];
        int count = bytes[4];
        for (int i = 0; i < count; i++)
        {
            byte[] name = await line.ReadAsync(2, cancel);
            bytes.AddRange(name);
            bytes.AddRange(await line.ReadAsync(name[1], cancel));
        }

        bytes.AddRange(await line.ReadAsync(2, cancel));
        return [.. bytes];
    }
}
