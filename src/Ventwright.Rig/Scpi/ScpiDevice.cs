using System.Globalization;
using System.IO.Ports;
using System.Text;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Devices;
using Ventwright.Rig.Lines;

namespace Ventwright.Rig.Scpi;

/// <summary>What an instrument is told and asked.</summary>
/// <param name="Set">Command that sets it, with <c>{value}</c>; null for an input.</param>
/// <param name="On">Command for on; null unless it is a relay.</param>
/// <param name="Off">Command for off.</param>
/// <param name="Ask">Question for its value; null when it cannot be asked.</param>
internal sealed record ScpiPoint(string? Set, string? On, string? Off, string? Ask) : ChannelPoint
{
    /// <inheritdoc/>
    public override bool CanReadBack => Ask is not null;

    /// <inheritdoc/>
    public override string ToString() => $"'{Set ?? On ?? Ask}'";
}

/// <summary>
/// An instrument that speaks SCPI: lines of text, <c>*IDN?</c> and the common commands of IEEE 488.2, errors from <c>SYST:ERR?</c> (SCPI-1999, volume 1
/// section 21.8). 9.9E37 stands for infinite and 9.91E37 for not a number (volume 1, section 7.2.1; from memory).
/// </summary>
internal sealed class ScpiDevice(DeviceSettings settings) : LineDevice(settings)
{
    private const double Infinite = 9.9e37;
    private const int MostOldErrors = 20;

    protected override async Task<string> GreetAsync(CancellationToken cancel)
    {
        Line.Discard();
        string found = await AskAsync("*IDN?", cancel);
        // Errors of the past are none of ours: they are read away.
        for (int i = 0; Settings.AsksErrors && i < MostOldErrors && !IsNoError(await AskAsync("SYST:ERR?", cancel)); i++) continue;
        return found;
    }

    protected override async Task<double> ReadPointAsync(ChannelPoint point, CancellationToken cancel)
    {
        var own = (ScpiPoint)point;
        if (own.Ask is null) throw new RigException(RigTrouble.NotPossible, Name, $"{own} cannot be asked; give it an 'ask' in the rig file");
        Line.Discard();
        string answer = await AskAsync(own.Ask, cancel);
        double? number = Number(answer);
        return number ?? throw Garbage($"'{Shown(answer)}' came back for '{own.Ask}', which is no number");
    }

    protected override async Task WritePointAsync(ChannelPoint point, double raw, CancellationToken cancel)
    {
        var own = (ScpiPoint)point;
        string command = own.Set is { } set
            ? set.Replace("{value}", raw.ToString("G9", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            : (raw >= 0.5 ? own.On : own.Off) ?? throw new RigException(RigTrouble.NotPossible, Name, $"{own} cannot be set");
        Line.Discard();
        await SendAsync(command, cancel);
        if (!Settings.AsksErrors) return;
        string error = await AskAsync("SYST:ERR?", cancel);
        if (!IsNoError(error)) throw new RigException(RigTrouble.Refused, Name, $"it does not take '{command}' and says {Shown(error)}; look the command up in its manual");
    }

    /// <summary>The first number of an answer; infinity for 9.9E37; null when there is none.</summary>
    internal static double? Number(string answer)
    {
        string first = answer.Split([',', ';'])[0].Trim().Trim('"');
        if (first is "ON") return 1;
        if (first is "OFF") return 0;
        if (!double.TryParse(first, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || Math.Abs(value) > Infinite * 1.0005) return null;
        return Math.Abs(value) >= Infinite * 0.9995 ? Math.CopySign(double.PositiveInfinity, value) : value;
    }

    private static bool IsNoError(string answer) => Number(answer) is 0;

    private static string Shown(string text) => new([.. text.Take(60).Select(c => char.IsControl(c) ? '?' : c)]);

    private async Task<string> AskAsync(string question, CancellationToken cancel)
    {
        await SendAsync(question, cancel);
        return await Line.ReadLineAsync(cancel);
    }

    private Task SendAsync(string text, CancellationToken cancel) => Line.WriteAsync(Encoding.ASCII.GetBytes(text + "\n"), cancel);
}

/// <summary>The driver for SCPI.</summary>
internal sealed class ScpiDriver(bool isSerial) : IRigDriver
{
    private const int UsualPort = 5025, UsualBaud = 9600;
    private const double UsualTimeoutS = 1;

    /// <inheritdoc/>
    public string Kind => isSerial ? "scpi-serial" : "scpi-tcp";

    /// <inheritdoc/>
    public DeviceSettings ReadDevice(string name, MapReader keys)
    {
        LineAddress line = isSerial ? SerialAddress.Read(keys, UsualBaud, Parity.None) : TcpAddress.Read(keys, UsualPort);
        return new(name, line, RigFile.Timeout(keys, UsualTimeoutS), keys.Text("identity"), AsksErrors: keys.Flag("asks-errors", true));
    }

    /// <inheritdoc/>
    public ChannelPoint? ReadPoint(MapReader keys, ChannelKind kind, bool isOutput)
    {
        bool isRelay = kind == ChannelKind.Relay;
        string? set = isOutput && !isRelay ? keys.Text("set", true) : null;
        string? on = isRelay ? keys.Text("on", true) : null, off = isRelay ? keys.Text("off", true) : null;
        string? ask = keys.Text("ask", !isOutput);
        if (set is null || set.Contains("{value}", StringComparison.Ordinal)) return new ScpiPoint(set, on, off, ask);
        keys.Problems.Error("wrong-value", keys.MarkOf("set"), "'set' must say where the value goes", "write it as 'VOLT {value}'");
        return null;
    }

    /// <inheritdoc/>
    public IRigDevice Make(DeviceSettings settings) => new ScpiDevice(settings);
}
