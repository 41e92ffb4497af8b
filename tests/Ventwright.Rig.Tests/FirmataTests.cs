using Ventwright.Rig.Devices;
using Ventwright.Rig.Firmata;
using Ventwright.Rig.Lines;

namespace Ventwright.Rig.Tests;

/// <summary>Against a board's own firmware, built by others and run on a simulated chip (Peers/firmata_board.mjs), with chips on its I2C bus.</summary>
public class FirmataTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task PinsAndChipsOfARealFirmware()
    {
        string port = Peer.TemporaryPath("board");
        using Peer board = Peer.Board(port);
        await using IRigDevice device = Board(port, "firmata");
        Assert.Contains("Firmata 2.5", await device.OpenAsync(Cancel), StringComparison.Ordinal);

        var output = new PinPoint(PinUse.Output, 8, false);
        var input = new PinPoint(PinUse.Input, 4, false);
        foreach (double state in (double[])[1, 0, 1])
        {
            await device.WriteAsync(output, state, Cancel);
            Assert.Equal(state, await device.ReadAsync(output, Cancel));
            Assert.Equal(state, await device.ReadAsync(input, Cancel));
        }

        Assert.Equal(0.5, await device.ReadAsync(new PinPoint(PinUse.Analog, 0, false), Cancel), 2); // 2.5 V of 5 V

        var wiper = new ChipPoint(new DigitalPotentiometer(), 0x2c, 0, []);
        var converter = new ChipPoint(new Ads1115(), 0x48, 0, []);
        foreach (double step in (double[])[0, 64, 200, 256])
        {
            await device.WriteAsync(wiper, step, Cancel);
            Assert.Equal(step, await device.ReadAsync(wiper, Cancel));
            Assert.Equal(4 * step / 256, await device.ReadAsync(converter, Cancel), 3);
        }

        Assert.Equal(1.5, await device.ReadAsync(converter with { Part = 1 }, Cancel), 3);
        RigException nobody = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(converter with { Address = 0x4b }, Cancel));
        Assert.Contains("nothing answers at 0x4b", nobody.Message, StringComparison.Ordinal);
        Assert.Equal(1.5, await device.ReadAsync(converter with { Part = 1 }, Cancel), 3);

        board.Dispose();
        RigException pulled = await Assert.ThrowsAsync<RigException>(() => device.ReadAsync(converter, Cancel));
        Assert.Contains(pulled.Trouble, (RigTrouble[])[RigTrouble.LostContact, RigTrouble.NoAnswer]);
    }

    [Fact]
    public void BytesThatBelongToNothingArePassedOver()
    {
        // A tail of an earlier message, an unfinished sysex, then an analogue message: channel 2, 0x3FF.
        var parser = new FirmataParser();
        var messages = ((byte[])[0x12, 0x7F, 0xF0, 0x79, 0x02, 0xE2, 0x7F, 0x07, 0xF0, 0x71, 0x41, 0x00, 0xF7]).Select(parser.Take).OfType<FirmataMessage>().ToList();
        Assert.Equal((FirmataParser.Analog, 2, 0x3FF), (messages[0].Command, messages[0].Number, messages[0].Value));
        Assert.Equal([0x71, 0x41, 0x00], messages[1].Data);
        Assert.Equal(2, messages.Count);
    }

    private static IRigDevice Board(string port, string identity) =>
        new FirmataDriver().Make(new("board", new SerialAddress(port, 57600, System.IO.Ports.Parity.None, System.IO.Ports.StopBits.One), TimeSpan.FromSeconds(120), identity));
}
