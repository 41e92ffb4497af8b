using System.Text;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;
using Ventwright.Rig.Modbus;

namespace Ventwright.Rig.Tests;

/// <summary>Against the examples of the standards, and against a server made of the pymodbus library, over TCP and over a serial cable.</summary>
public class ModbusTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public void CheckIsThatOfTheStandard()
    {
        // Modbus over Serial Line V1.02, appendix B: unit 2, function 7 gives 0x1241, sent low byte first.
        Assert.Equal(0x1241, Crc16.Of([0x02, 0x07]));
        Assert.Equal([0x02, 0x07, 0x41, 0x12], ModbusRtuFrames.Framed(2, [0x07]));
        // The check value of CRC-16/MODBUS in G. Cook's catalogue of parametrised CRC algorithms.
        Assert.Equal(0x4B37, Crc16.Of(Encoding.ASCII.GetBytes("123456789")));
    }

    [Fact]
    public void SilenceIsThatOfTheStandard()
    {
        // V1.02, section 2.5.1.1: 3.5 characters of 11 bits, 1.750 ms above 19200 baud.
        Assert.Equal(3.5 * 11 / 9600, new ModbusRtuFrames(9600).SilenceS, 9);
        Assert.Equal(1.75e-3, new ModbusRtuFrames(115200).SilenceS);
    }

    [Fact]
    public void MessagesAreThoseOfTheStandardsExamples()
    {
        // Modbus Application Protocol V1.1b3, the examples of sections 6.4, 6.5, 6.6 and 6.12.
        Assert.Equal([0x04, 0x00, 0x08, 0x00, 0x01], ModbusPdu.Read(Point(ModbusTable.Input, 8)));
        Assert.Equal(10, ModbusPdu.ReadAnswer(Point(ModbusTable.Input, 8), [0x04, 0x02, 0x00, 0x0A]));
        Assert.Equal([0x05, 0x00, 0xAC, 0xFF, 0x00], ModbusPdu.Write(Point(ModbusTable.Coil, 0xAC), 1));
        Assert.Equal([0x06, 0x00, 0x01, 0x00, 0x03], ModbusPdu.Write(Point(ModbusTable.Holding, 1), 3));
        byte[] several = ModbusPdu.Write(Point(ModbusTable.Holding, 1, ModbusNumber.U32), 0x000A0102);
        Assert.Equal([0x10, 0x00, 0x01, 0x00, 0x02, 0x04, 0x00, 0x0A, 0x01, 0x02], several);
        Assert.True(ModbusPdu.IsWriteAnswer(several, [0x10, 0x00, 0x01, 0x00, 0x02]));
        Assert.Contains("nothing at this address", ModbusPdu.Refusal([0x81, 0x02]), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ReadsAndWritesWithAnotherImplementation(bool isSerial)
    {
        (IRigDevice device, Peer server, IDisposable? cable) = await OpenAsync(isSerial, "Invented");
        using (cable)
        using (server)
        await using (device)
        {
            Assert.Equal(1234, await device.ReadAsync(Point(ModbusTable.Holding, 0), Cancel));
            Assert.Equal(-10, await device.ReadAsync(Point(ModbusTable.Holding, 1, ModbusNumber.S16), Cancel));
            Assert.Equal(21.5, await device.ReadAsync(Point(ModbusTable.Holding, 2, ModbusNumber.Float), Cancel));
            Assert.Equal(100000, await device.ReadAsync(new ModbusPoint(ModbusTable.Holding, 4, ModbusNumber.U32, IsLowFirst: true), Cancel));
            Assert.Equal(1790, await device.ReadAsync(Point(ModbusTable.Input, 0), Cancel));
            Assert.Equal(1, await device.ReadAsync(Point(ModbusTable.Coil, 2), Cancel));
            Assert.Equal(0, await device.ReadAsync(Point(ModbusTable.Discrete, 3), Cancel));
            await device.WriteAsync(Point(ModbusTable.Coil, 5), 1, Cancel);
            Assert.Equal("1", server.Ask("coil 5"));
            await device.WriteAsync(Point(ModbusTable.Holding, 7, ModbusNumber.S16), -3, Cancel);
            Assert.Equal("65533", server.Ask("holding 7"));
            await device.WriteAsync(Point(ModbusTable.Holding, 8, ModbusNumber.Float), -2.25, Cancel);
            Assert.Equal(-2.25, await device.ReadAsync(Point(ModbusTable.Holding, 8, ModbusNumber.Float), Cancel));
            RigException refused = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(Point(ModbusTable.Holding, 900), Cancel));
            Assert.Equal(RigTrouble.Refused, refused.Trouble);
            Assert.Contains("nothing at this address", refused.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task AnotherDeviceThanNamedIsTold()
    {
        int port = Peer.FreePort();
        using Peer server = Peer.ModbusTcp(port);
        await using IRigDevice device = Tcp(port, "Elsewhere");
        RigException wrong = await Assert.ThrowsAsync<RigException>(() => device.OpenAsync(Cancel));
        Assert.Equal(RigTrouble.WrongDevice, wrong.Trouble);
        Assert.Contains("'Elsewhere' was expected", wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task APulledSerialCableIsToldAndDoesNotHang()
    {
        (IRigDevice device, Peer server, IDisposable? cable) = await OpenAsync(isSerial: true, null);
        using (server)
        await using (device)
        {
            Assert.Equal(1234, await device.ReadAsync(Point(ModbusTable.Holding, 0), Cancel));
            cable!.Dispose();
            RigException pulled = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(Point(ModbusTable.Holding, 0), Cancel));
            Assert.Contains(pulled.Trouble, (RigTrouble[])[RigTrouble.LostContact, RigTrouble.NoAnswer]);
        }
    }

    private static async Task<(IRigDevice Device, Peer Server, IDisposable? Cable)> OpenAsync(bool isSerial, string? identity)
    {
        int port = isSerial ? 0 : Peer.FreePort();
        string one = Peer.TemporaryPath("a"), other = Peer.TemporaryPath("b");
        Peer? cable = isSerial ? Peer.Cable(one, other) : null;
        Peer server = isSerial ? Peer.ModbusRtu(other) : Peer.ModbusTcp(port);
        IRigDevice device = isSerial ? Rtu(one, identity) : Tcp(port, identity);
        await device.OpenAsync(Cancel);
        return (device, server, cable);
    }

    private static IRigDevice Tcp(int port, string? identity) =>
        new ModbusDriver(isSerial: false).Make(new("box", new TcpAddress("127.0.0.1", port), TimeSpan.FromSeconds(20), identity, 3));

    private static IRigDevice Rtu(string path, string? identity) =>
        new ModbusDriver(isSerial: true).Make(new("box", new SerialAddress(path, 19200, System.IO.Ports.Parity.Even, System.IO.Ports.StopBits.One), TimeSpan.FromSeconds(30), identity, 3));

    private static ModbusPoint Point(ModbusTable table, ushort address, ModbusNumber number = ModbusNumber.U16) => new(table, address, number, IsLowFirst: false);
}
