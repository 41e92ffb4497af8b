using System.Collections.Concurrent;
using System.IO.Ports;
using System.Text;
using System.Threading.Channels;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;

namespace Ventwright.Rig.Firmata;

/// <summary>
/// A board with Firmata on a serial port (Firmata protocol 2.5 or later). Nothing that is set counts as set before the board has said so: it is asked for the
/// state of the pin, or the chip is read back.
/// </summary>
internal sealed class FirmataDevice(DeviceSettings settings) : LineDevice(settings), II2cBus
{
    private const byte AnalogMapping = 0x69, AnalogMappingReply = 0x6A, PinState = 0x6D, PinStateReply = 0x6E, Text = 0x71, I2cRequest = 0x76, I2cReply = 0x77,
        I2cConfig = 0x78, Firmware = 0x79, SetPinMode = 0xF4, SetPin = 0xF5, ReportAnalog = 0xC0, ReportPort = 0xD0, ExtendedAnalog = 0x6F;

    private const byte I2cWriteMode = 0x00, I2cReadOnce = 0x08;
    private const int PulseSteps = 255;

    private readonly ConcurrentDictionary<int, byte> _modes = new();
    private Channel<FirmataMessage> _incoming = Channel.CreateUnbounded<FirmataMessage>();
    private CancellationTokenSource _closing = new();
    private byte[] _channels = [];

    /// <summary>A board starts anew when its port is opened, and its boot loader waits for a new program first.</summary>
    protected override TimeSpan WakeUp => TimeSpan.FromSeconds(8);

    /// <summary>Answers say what they belong to, and opening the port anew would start the board anew.</summary>
    protected override bool MixesLateAnswers => false;

    protected override async Task<string> GreetAsync(CancellationToken cancel)
    {
        _modes.Clear();
        _incoming = Channel.CreateUnbounded<FirmataMessage>();
        _closing = new();
        _ = Task.Run(() => ListenAsync(Line, _incoming.Writer, _closing.Token), CancellationToken.None);
        FirmataMessage firmware = await GreetedAsync(cancel);
        await SendAsync([AnalogMapping], cancel);
        _channels = (await WaitForAsync(m => IsSysex(m, AnalogMappingReply), cancel)).Data[1..];
        await SendAsync([I2cConfig, 0, 0], cancel);
        string name = Encoding.Latin1.GetString(Joined(firmware.Data.AsSpan(3)));
        return $"Firmata {firmware.Data[1]}.{firmware.Data[2]} {name}";
    }

    protected override async Task<double> ReadPointAsync(ChannelPoint point, CancellationToken cancel)
    {
        if (point is ChipPoint chip) return await chip.Chip.ReadAsync(this, chip, cancel);
        var pin = (PinPoint)point;
        if (pin.Use == PinUse.Analog) return await ReadAnalogAsync(pin.Number, cancel);
        if (pin.Use is PinUse.Output or PinUse.Pulses)
        {
            int state = await StateAsync(pin.Number, cancel);
            return pin.Use == PinUse.Pulses ? state / (double)PulseSteps : (state != 0) != pin.IsInverted ? 1 : 0;
        }

        await ModeAsync(pin.Number, pin.Use == PinUse.PulledUp ? (byte)11 : (byte)0, cancel);
        int port = pin.Number / 8;
        Drain();
        await Line.WriteAsync(new byte[] { (byte)(ReportPort | port), 1 }, cancel);
        FirmataMessage got = await WaitForAsync(m => m.Command == FirmataParser.DigitalPort && m.Number == port, cancel);
        return ((got.Value >> (pin.Number % 8)) & 1) == 1 != pin.IsInverted ? 1 : 0;
    }

    protected override async Task WritePointAsync(ChannelPoint point, double raw, CancellationToken cancel)
    {
        if (point is ChipPoint chip)
        {
            await WriteChipAsync(chip, raw, cancel);
            return;
        }

        var pin = (PinPoint)point;
        bool isPulses = pin.Use == PinUse.Pulses;
        int state = isPulses ? (int)Math.Clamp(Math.Round(raw * PulseSteps), 0, PulseSteps) : (raw >= 0.5) != pin.IsInverted ? 1 : 0;
        await ModeAsync(pin.Number, isPulses ? (byte)3 : (byte)1, cancel);
        if (isPulses) await SendAsync([ExtendedAnalog, (byte)pin.Number, (byte)(state & 0x7F), (byte)(state >> 7)], cancel);
        else await Line.WriteAsync(new byte[] { SetPin, (byte)pin.Number, (byte)state }, cancel);
        if (await StateAsync(pin.Number, cancel) != state)
            throw new RigException(RigTrouble.Refused, Name, $"{pin} did not take its new state; can this pin do that, and is the board's Firmata 2.5 or later?");
    }

    /// <inheritdoc/>
    async Task II2cBus.WriteAsync(byte address, byte[] bytes, CancellationToken cancel) =>
        await SendAsync([I2cRequest, address, I2cWriteMode, .. Split(bytes)], cancel);

    /// <inheritdoc/>
    async Task<byte[]> II2cBus.ReadAsync(byte address, byte register, int count, CancellationToken cancel)
    {
        Drain();
        await SendAsync([I2cRequest, address, I2cReadOnce, .. Split([register, (byte)count])], cancel);
        // Where nothing answers the firmware says so in a text first, and then sends a reply with whatever it had before.
        bool isTooFew = false;
        FirmataMessage reply = await WaitForAsync(
            m =>
            {
                isTooFew |= IsSysex(m, Text);
                return IsSysex(m, I2cReply) && Joined(m.Data.AsSpan(1)) is { Length: >= 2 } head && head[0] == address && head[1] == register;
            },
            cancel);
        byte[] data = Joined(reply.Data.AsSpan(1));
        if (!isTooFew && data.Length == count + 2) return data[2..];
        throw new RigException(RigTrouble.Refused, Name, $"nothing answers at 0x{address:x2} on its I2C bus; are the two bus wires, the supply and the address of the chip right?");
    }

    protected override void Closed() => _closing.Cancel();

    private static bool IsSysex(FirmataMessage message, byte which) => message.Command == FirmataParser.Sysex && message.Data[0] == which;

    /// <summary>Pairs of seven bits to bytes.</summary>
    private static byte[] Joined(ReadOnlySpan<byte> pairs)
    {
        var bytes = new byte[pairs.Length / 2];
        for (int i = 0; i < bytes.Length; i++) bytes[i] = (byte)(pairs[2 * i] | (pairs[(2 * i) + 1] << 7));
        return bytes;
    }

    private static IEnumerable<byte> Split(IEnumerable<byte> bytes) => bytes.SelectMany(b => (byte[])[(byte)(b & 0x7F), (byte)(b >> 7)]);

    private static async Task ListenAsync(ByteLine line, ChannelWriter<FirmataMessage> to, CancellationToken cancel)
    {
        var parser = new FirmataParser();
        try
        {
            while (true)
            {
                byte[] next = await line.ReadAsync(1, cancel);
                if (parser.Take(next[0]) is { } message) to.TryWrite(message);
            }
        }
        catch (Exception e) when (e is RigException or OperationCanceledException or InvalidOperationException)
        {
            to.TryComplete(e is RigException ? e : null);
        }
    }

    /// <summary>Asks who it is, again and again until the board is awake.</summary>
    private async Task<FirmataMessage> GreetedAsync(CancellationToken cancel)
    {
        while (true)
        {
            await SendAsync([Firmware], cancel);
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            patience.CancelAfter(TimeSpan.FromSeconds(0.5));
            try
            {
                return await WaitForAsync(m => IsSysex(m, Firmware) && m.Data.Length >= 3, patience.Token);
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                // Still asleep.
            }
        }
    }

    private async Task<double> ReadAnalogAsync(int channel, CancellationToken cancel)
    {
        Drain();
        await Line.WriteAsync(new byte[] { (byte)(ReportAnalog | channel), 1 }, cancel);
        FirmataMessage got = await WaitForAsync(m => m.Command == FirmataParser.Analog && m.Number == channel, cancel);
        return got.Value / 1023.0;
    }

    private async Task WriteChipAsync(ChipPoint chip, double raw, CancellationToken cancel)
    {
        await chip.Chip.WriteAsync(this, chip, raw, cancel);
        double got = await chip.Chip.ReadAsync(this, chip, cancel);
        double step = chip.Chip is DigitalPotentiometer ? 0.75 : 0.001;
        if (Math.Abs(got - raw) > step) throw new RigException(RigTrouble.Refused, Name, $"{chip} did not take its new value; is the chip the one that the rig file names?");
    }

    private async Task ModeAsync(int pin, byte mode, CancellationToken cancel)
    {
        if (_modes.TryGetValue(pin, out byte now) && now == mode) return;
        if (pin >= _channels.Length && _channels.Length > 0) throw new RigException(RigTrouble.NotPossible, Name, $"the board has {_channels.Length} pins, {pin} is not one of them");
        await Line.WriteAsync(new byte[] { SetPinMode, (byte)pin, mode }, cancel);
        _modes[pin] = mode;
    }

    private async Task<int> StateAsync(int pin, CancellationToken cancel)
    {
        Drain();
        await SendAsync([PinState, (byte)pin], cancel);
        FirmataMessage got = await WaitForAsync(m => IsSysex(m, PinStateReply) && m.Data.Length >= 4 && m.Data[1] == pin, cancel);
        int state = 0;
        for (int i = got.Data.Length - 1; i >= 3; i--) state = (state << 7) | got.Data[i];
        return state;
    }

    private void Drain()
    {
        while (_incoming.Reader.TryRead(out _)) continue;
    }

    private async Task<FirmataMessage> WaitForAsync(Func<FirmataMessage, bool> wanted, CancellationToken cancel)
    {
        try
        {
            while (true)
            {
                FirmataMessage message = await _incoming.Reader.ReadAsync(cancel);
                if (wanted(message)) return message;
            }
        }
        catch (ChannelClosedException e)
        {
            throw e.InnerException as RigException ?? new RigException(RigTrouble.LostContact, Name, "it was closed", e);
        }
    }

    private Task SendAsync(byte[] sysex, CancellationToken cancel) => Line.WriteAsync((byte[])[FirmataParser.Sysex, .. sysex, FirmataParser.EndSysex], cancel);
}

/// <summary>The driver for Firmata.</summary>
internal sealed class FirmataDriver : IRigDriver
{
    private const int UsualBaud = 57600;
    private const double UsualTimeoutS = 1;

    /// <inheritdoc/>
    public string Kind => "firmata";

    /// <inheritdoc/>
    public DeviceSettings ReadDevice(string name, MapReader keys) =>
        new(name, SerialAddress.Read(keys, UsualBaud, Parity.None), RigFile.Timeout(keys, UsualTimeoutS), keys.Text("identity"));

    /// <inheritdoc/>
    public ChannelPoint? ReadPoint(MapReader keys, ChannelKind kind, bool isOutput) => FirmataPoints.Read(keys, kind, isOutput);

    /// <inheritdoc/>
    public IRigDevice Make(DeviceSettings settings) => new FirmataDevice(settings);
}
