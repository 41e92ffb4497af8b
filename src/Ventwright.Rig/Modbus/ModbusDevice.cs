using System.IO.Ports;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;

namespace Ventwright.Rig.Modbus;

/// <summary>A Modbus device over the network or a serial line.</summary>
internal sealed class ModbusDevice(DeviceSettings settings, IModbusFrames frames) : LineDevice(settings)
{
    /// <summary>Without a wanted identity nothing is asked: many devices do not know the question, and any address may be missing.</summary>
    protected override async Task<string> GreetAsync(CancellationToken cancel)
    {
        if (Settings.Identity is null) return $"Modbus unit {Settings.Unit}, not asked who it is";
        byte[] answer = await AskAsync(0, ModbusPdu.Identify(), cancel);
        return ModbusPdu.Names(answer) ?? throw Garbage("its answer to who it is makes no sense");
    }

    protected override async Task<double> ReadPointAsync(ChannelPoint point, CancellationToken cancel)
    {
        var own = (ModbusPoint)point;
        byte[] answer = await AskAsync(own.Unit, ModbusPdu.Read(own), cancel);
        return ModbusPdu.ReadAnswer(own, answer) ?? throw Garbage($"its answer to reading {own} does not fit the question");
    }

    protected override async Task WritePointAsync(ChannelPoint point, double raw, CancellationToken cancel)
    {
        var own = (ModbusPoint)point;
        byte[] request = ModbusPdu.Write(own, raw);
        byte[] answer = await AskAsync(own.Unit, request, cancel);
        if (!ModbusPdu.IsWriteAnswer(request, answer)) throw Garbage($"its answer to setting {point} does not fit the question");
    }

    private async Task<byte[]> AskAsync(byte unit, byte[] request, CancellationToken cancel)
    {
        if (unit == 0) unit = Settings.Unit;
        byte[] answer = await frames.AskAsync(Line, unit, request, cancel) ?? throw Garbage("what comes back is not a sound Modbus message");
        if (ModbusPdu.Refusal(answer) is { } why)
            throw new RigException(RigTrouble.Refused, Name, $"unit {unit} refuses: {why}; are the addresses in the rig file right? They count from 0");
        return answer;
    }
}

/// <summary>The driver for Modbus.</summary>
internal sealed class ModbusDriver(bool isSerial) : IRigDriver
{
    private const int UsualPort = 502, UsualBaud = 19200;
    private const double UsualTimeoutS = 0.5;

    /// <inheritdoc/>
    public string Kind => isSerial ? "modbus-rtu" : "modbus-tcp";

    /// <inheritdoc/>
    public DeviceSettings ReadDevice(string name, MapReader keys)
    {
        // Even parity and 19200 baud are the standard's own defaults (Modbus over Serial Line V1.02, section 2.5.1 and 3.3).
        LineAddress line = isSerial ? SerialAddress.Read(keys, UsualBaud, Parity.Even) : TcpAddress.Read(keys, UsualPort);
        int unit = keys.Whole("unit") ?? 1;
        if (unit is < 1 or > 247) keys.Problems.Error("wrong-value", keys.MarkOf("unit"), "'unit' is a number from 1 to 247");
        return new(name, line, RigFile.Timeout(keys, UsualTimeoutS), keys.Text("identity"), (byte)unit);
    }

    /// <inheritdoc/>
    public ChannelPoint? ReadPoint(MapReader keys, ChannelKind kind, bool isOutput) => ModbusPoint.Read(keys, kind, isOutput);

    /// <inheritdoc/>
    public IRigDevice Make(DeviceSettings settings) =>
        new ModbusDevice(settings, settings.Line is SerialAddress serial ? new ModbusRtuFrames(serial.Baud) : new ModbusTcpFrames());
}
