namespace Ventwright.Rig.Firmata;

/// <summary>A message from a board.</summary>
/// <param name="Command">First byte; for messages to a port or a channel without its number.</param>
/// <param name="Number">Port or channel, 0 for others.</param>
/// <param name="Data">For sysex the bytes between start and end, the first says which one; else the two data bytes.</param>
internal readonly record struct FirmataMessage(byte Command, int Number, byte[] Data)
{
    /// <summary>The 14 bits of two data bytes.</summary>
    public int Value => Data.Length >= 2 ? Data[0] | (Data[1] << 7) : 0;
}

/// <summary>
/// Takes the bytes of a board apart (Firmata protocol 2.x, protocol.md of the firmata/protocol repository). Bytes that belong to nothing are passed over: a
/// board that has just started may be in the middle of a message.
/// </summary>
internal sealed class FirmataParser
{
    /// <summary>Start and end of a sysex message.</summary>
    public const byte Sysex = 0xF0, EndSysex = 0xF7;

    /// <summary>State of a digital port, value of an analogue channel.</summary>
    public const byte DigitalPort = 0x90, Analog = 0xE0, Version = 0xF9;

    private const int LongestSysex = 1024;

    private readonly List<byte> _data = [];
    private byte _status;

    /// <summary>Takes a byte; gives a message when it was the last of one.</summary>
    public FirmataMessage? Take(byte value)
    {
        if (_status == Sysex) return TakeSysex(value);
        if (value >= 0x80)
        {
            _data.Clear();
            _status = value;
            return null;
        }

        if (_status == 0) return null;
        _data.Add(value);
        if (_data.Count < 2) return null;
        byte status = _status, command = status < Sysex ? (byte)(status & 0xF0) : status;
        byte[] data = [.. _data];
        _data.Clear();
        _status = 0;
        return command is DigitalPort or Analog or Version ? new(command, status < Sysex ? status & 0x0F : 0, data) : null;
    }

    private FirmataMessage? TakeSysex(byte value)
    {
        if (value < 0x80)
        {
            if (_data.Count < LongestSysex) _data.Add(value);
            return null;
        }

        byte[] data = [.. _data];
        _data.Clear();
        _status = value == EndSysex ? (byte)0 : value;
        return value == EndSysex && data.Length > 0 ? new(Sysex, 0, data) : null;
    }
}
