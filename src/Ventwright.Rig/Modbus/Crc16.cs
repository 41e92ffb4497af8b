namespace Ventwright.Rig.Modbus;

/// <summary>
/// The check of serial Modbus: 16 bits, polynomial 0xA001 (0x8005 reversed), start 0xFFFF; the low byte is sent first (Modbus over Serial Line,
/// Specification and Implementation Guide V1.02, section 6.2.2 and appendix B).
/// </summary>
internal static class Crc16
{
    /// <summary>The check of some bytes.</summary>
    public static ushort Of(ReadOnlySpan<byte> bytes)
    {
        int crc = 0xFFFF;
        foreach (byte value in bytes)
        {
            crc ^= value;
            for (int bit = 0; bit < 8; bit++) crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xA001 : crc >> 1;
        }

        return (ushort)crc;
    }
}
