using System.Net;
using System.Net.Sockets;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;
using Ventwright.Rig.Modbus;
using Ventwright.Rig.Scpi;

namespace Ventwright.Rig.Tests;

/// <summary>What a bad line does: silence, nonsense, an end in the middle, late answers.</summary>
public class BadLineTests
{
    private static readonly ModbusPoint Register = new(ModbusTable.Holding, 0, ModbusNumber.U16, IsLowFirst: false);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task SilenceIsNoAnswer()
    {
        using var line = new BadServer((_, _) => []);
        await using IRigDevice device = Modbus(line.Port, 0.3);
        await device.OpenAsync(Cancel);
        RigException silent = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(Register, Cancel));
        Assert.Equal(RigTrouble.NoAnswer, silent.Trouble);
        Assert.Contains("no answer within 0.3 s", silent.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NonsenseIsToldAsSuch()
    {
        using var line = new BadServer((_, _) => [0xDE, 0xAD, 0xBE, 0xEF, 0xFF, 0xFF, 0x42, 0x11]);
        await using IRigDevice device = Modbus(line.Port, 20);
        await device.OpenAsync(Cancel);
        RigException garbage = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(Register, Cancel));
        Assert.Equal(RigTrouble.Garbage, garbage.Trouble);
    }

    [Fact]
    public async Task OneSpoiltAnswerIsAskedForAgain()
    {
        int asked = 0;
        using var line = new BadServer((request, _) => asked++ == 0 ? [.. request[..2], 0, 9, 0, 0, 0] : [.. request[..4], 0, 5, request[6], 3, 2, 0x12, 0x34]);
        await using IRigDevice device = Modbus(line.Port, 20);
        await device.OpenAsync(Cancel);
        Assert.Equal(0x1234, await device.ReadAsync(Register, Cancel));
        Assert.Equal(2, asked);
    }

    [Fact]
    public async Task ASerialMessageWithAWrongCheckIsNotTaken()
    {
        // The serial framing, carried by this line: first with one bit turned over, then sound.
        byte[] sound = ModbusRtuFrames.Framed(3, [0x03, 0x02, 0x12, 0x34]), spoilt = [.. sound];
        spoilt[4] ^= 0x04;
        int asked = 0;
        using var line = new BadServer((_, _) => asked++ == 0 ? spoilt : sound);
        await using ModbusDevice device = new ModbusDevice(new("box", new TcpAddress("127.0.0.1", line.Port), TimeSpan.FromSeconds(20), null, 3), new ModbusRtuFrames(19200));
        await device.OpenAsync(Cancel);
        Assert.Equal(0x1234, await device.ReadAsync(Register, Cancel));
        Assert.Equal(2, asked);
    }

    [Fact]
    public async Task AnEndInTheMiddleIsLostContact()
    {
        using var line = new BadServer((_, client) =>
        {
            client.Close();
            return [];
        });
        await using IRigDevice device = Modbus(line.Port, 20);
        await device.OpenAsync(Cancel);
        RigException lost = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(Register, Cancel));
        Assert.Equal(RigTrouble.LostContact, lost.Trouble);
    }

    [Fact]
    public async Task NothingAtTheAddressCannotBeOpened()
    {
        await using IRigDevice device = Modbus(Peer.FreePort(), 1);
        RigException closed = await Assert.ThrowsAsync<RigException>(() => device.OpenAsync(Cancel));
        Assert.Equal(RigTrouble.CannotOpen, closed.Trouble);
        await using IRigDevice serial = new ModbusDriver(isSerial: true).Make(
            new("box", new SerialAddress("/dev/no-such-port", 9600, System.IO.Ports.Parity.None, System.IO.Ports.StopBits.One), TimeSpan.FromSeconds(1)));
        Assert.Equal(RigTrouble.CannotOpen, (await Assert.ThrowsAsync<RigException>(() => serial.OpenAsync(Cancel))).Trouble);
    }

    [Fact]
    public async Task AnInstrumentThatSendsWithoutEndIsGarbage()
    {
        using var line = new BadServer((_, _) => [.. Enumerable.Repeat((byte)'x', 10_000)]);
        await using IRigDevice device = new ScpiDriver(isSerial: false).Make(new("supply", new TcpAddress("127.0.0.1", line.Port), TimeSpan.FromSeconds(20)));
        Assert.Equal(RigTrouble.Garbage, (await Assert.ThrowsAsync<RigException>(() => device.OpenAsync(Cancel))).Trouble);
    }

    /// <summary>As a serial port may be once its cable is out: what is written is never taken, and closing it never comes back.</summary>
    [Fact]
    public async Task APortThatBreaksWhileItIsWrittenToHoldsNobody()
    {
        using var never = new ManualResetEventSlim();
        var stream = new DeadStream();
        var line = new ByteLine("box", stream, never.Wait);
        Task writing = line.WriteAsync(new byte[] { 1 }, Cancel);
        await stream.Written.Task.WaitAsync(Waiting.Patience, Cancel);
        Assert.False(writing.IsCompleted);
        stream.End.SetResult();
        RigException lost = await Assert.ThrowsAsync<RigException>(() => writing.WaitAsync(Waiting.Patience, Cancel));
        Assert.Equal(RigTrouble.LostContact, lost.Trouble);
        await Task.Run(() => line.DisposeAsync().AsTask(), Cancel).WaitAsync(Waiting.Patience, Cancel);
        never.Set();
    }

    private static IRigDevice Modbus(int port, double timeoutS) =>
        new ModbusDriver(isSerial: false).Make(new("box", new TcpAddress("127.0.0.1", port), TimeSpan.FromSeconds(timeoutS), null, 3));

    /// <summary>Nothing comes from it until its end, and nothing is ever taken.</summary>
    private sealed class DeadStream : MemoryStream
    {
        public TaskCompletionSource Written { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public TaskCompletionSource End { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            await End.Task.WaitAsync(cancellationToken);
            return 0;
        }

        public override async ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
        {
            Written.SetResult();
            await Task.Delay(Timeout.Infinite, cancellationToken);
        }
    }

    private sealed class BadServer : IDisposable
    {
        private readonly TcpListener _listener = new(IPAddress.Loopback, 0);

        public BadServer(Func<byte[], TcpClient, byte[]> answer)
        {
            _listener.Start();
            _ = Task.Run(async () =>
            {
                using TcpClient client = await _listener.AcceptTcpClientAsync();
                NetworkStream stream = client.GetStream();
                var buffer = new byte[512];
                int count;
                while ((count = await stream.ReadAsync(buffer)) > 0)
                {
                    byte[] reply = answer(buffer[..count], client);
                    if (reply.Length > 0) await stream.WriteAsync(reply);
                    if (!client.Connected) return;
                }
            });
        }

        public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

        public void Dispose() => _listener.Stop();
    }
}
