using System.Globalization;
using System.IO.Ports;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Rig.Lines;

/// <summary>Where a device is reached.</summary>
internal abstract record LineAddress;

/// <summary>Over the network.</summary>
internal sealed record TcpAddress(string Host, int Port) : LineAddress
{
    /// <summary>Reads <c>address</c> and <c>port</c>.</summary>
    public static TcpAddress Read(MapReader keys, int usualPort)
    {
        string host = keys.Text("address", true) ?? "";
        int port = keys.Whole("port") ?? usualPort;
        if (port is < 1 or > 65535) keys.Problems.Error("wrong-value", keys.MarkOf("port"), "'port' is a number from 1 to 65535");
        return new(host, port);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Host}:{Port}");
}

/// <summary>Over a serial port.</summary>
internal sealed record SerialAddress(string Port, int Baud, Parity Parity, StopBits StopBits) : LineAddress
{
    private static readonly string[] Parities = ["none", "even", "odd"];

    /// <summary>Reads <c>port</c>, <c>baud</c>, <c>parity</c> and <c>stop-bits</c>.</summary>
    public static SerialAddress Read(MapReader keys, int usualBaud, Parity usualParity)
    {
        string port = keys.Text("port", true) ?? "";
        int baud = keys.Whole("baud") ?? usualBaud;
        if (baud is < 300 or > 4_000_000) keys.Problems.Error("wrong-value", keys.MarkOf("baud"), "'baud' is a speed from 300 to 4000000, such as 9600");
        Parity parity = keys.Word("parity", Parities) switch { "none" => Parity.None, "even" => Parity.Even, "odd" => Parity.Odd, _ => usualParity };
        int stop = keys.Whole("stop-bits") ?? 1;
        if (stop is not (1 or 2)) keys.Problems.Error("wrong-value", keys.MarkOf("stop-bits"), "'stop-bits' is 1 or 2");
        return new(port, baud, parity, stop == 2 ? StopBits.Two : StopBits.One);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Port} at {Baud} baud");
}
