using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;
using Ventwright.Rig.Scpi;

namespace Ventwright.Rig.Tests;

/// <summary>Against a supply that is a program of its own (Peers/scpi_supply.py), over TCP and over a serial cable.</summary>
public class ScpiTests
{
    private static readonly ScpiPoint Volts = new("VOLT {value}", null, null, "VOLT?"), Switch = new(null, "OUTP ON", "OUTP OFF", "OUTP?"), Amps = new(null, null, null, "MEAS:CURR?");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task SetsAsksAndTellsErrors(bool isSerial)
    {
        int port = isSerial ? 0 : Peer.FreePort();
        string path = Peer.TemporaryPath("scpi");
        using Peer supply = isSerial ? Peer.OnCable(path, $"/usr/bin/python3 -u {Path.Combine(Peer.Scripts, "scpi_supply.py")} 0") : Peer.ScpiTcp(port);
        LineAddress line = isSerial ? new SerialAddress(path, 9600, System.IO.Ports.Parity.None, System.IO.Ports.StopBits.One) : new TcpAddress("127.0.0.1", port);
        await using IRigDevice device = new ScpiDriver(isSerial).Make(new("supply", line, TimeSpan.FromSeconds(20), "BS-30"));
        Assert.Contains("INVENTED", await device.OpenAsync(Cancel), StringComparison.Ordinal);
        await device.WriteAsync(Volts, 13.2, Cancel);
        await device.WriteAsync(Switch, 1, Cancel);
        Assert.Equal(13.2, await device.ReadAsync(Volts, Cancel));
        Assert.Equal(1, await device.ReadAsync(Switch, Cancel));
        Assert.Equal(1.75, await device.ReadAsync(Amps, Cancel));
        Assert.Equal(double.PositiveInfinity, await device.ReadAsync(new ScpiPoint(null, null, null, "MEAS:RES?"), Cancel));
        RigException range = await Assert.ThrowsAsync<RigException>(() => device.WriteAsync(Volts, 99, Cancel));
        Assert.Equal(RigTrouble.Refused, range.Trouble);
        Assert.Contains("Data out of range", range.Message, StringComparison.Ordinal);
        RigException head = await Assert.ThrowsAsync<RigException>(() => device.WriteAsync(new ScpiPoint("VOLTS {value}", null, null, null), 1, Cancel));
        Assert.Contains("Undefined header", head.Message, StringComparison.Ordinal);
        Assert.Equal(13.2, await device.ReadAsync(Volts, Cancel));
    }

    [Fact]
    public async Task ASlowAnswerIsGivenUpAndDoesNotSpoilTheNext()
    {
        int port = Peer.FreePort();
        using Peer supply = Peer.ScpiTcp(port);
        await using IRigDevice device = new ScpiDriver(isSerial: false).Make(new("supply", new TcpAddress("127.0.0.1", port), TimeSpan.FromSeconds(6)));
        await device.OpenAsync(Cancel);
        RigException slow = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(new ScpiPoint(null, null, null, "WAIT?"), Cancel));
        Assert.Equal(RigTrouble.NoAnswer, slow.Trouble);
        Assert.Equal(0, await device.ReadAsync(Volts, Cancel));
    }

    [Theory]
    [InlineData("+1.5E+00", 1.5)]
    [InlineData("1.5,V", 1.5)]
    [InlineData("ON", 1.0)]
    [InlineData("9.90000000E+37", double.PositiveInfinity)]
    [InlineData("9.91E37", null)]
    [InlineData("hello", null)]
    public void NumbersAreReadAsTheStandardHasThem(string answer, double? number) => Assert.Equal(number, ScpiDevice.Number(answer));
}
