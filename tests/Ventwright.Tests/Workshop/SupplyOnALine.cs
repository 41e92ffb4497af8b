using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace Ventwright.Tests.Workshop;

/// <summary>
/// A supply that speaks SCPI over the network (SCPI-1999: *IDN?, SYST:ERR?), on a real socket: it knows what it was told, and its cable can be pulled.
/// </summary>
internal sealed class SupplyOnALine : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentBag<TcpClient> _clients = [];
    private readonly ConcurrentQueue<string> _told = new();
    private volatile bool _isOn, _isPulled;

    public SupplyOnALine()
    {
        _listener.Start();
        _ = ServeAsync();
    }

    /// <summary>Everything that it was told or asked, in order.</summary>
    public IReadOnlyCollection<string> Told => _told;

    /// <summary>Whether it gives power.</summary>
    public bool IsOn => _isOn;

    /// <summary>A rig file with nothing but this supply, and volts that it measures at a net.</summary>
    public string RigFile(string net) =>
        $$"""
        rig: 1
        name: Supply on a line
        devices:
          psu: { kind: scpi-tcp, address: 127.0.0.1, port: {{((IPEndPoint)_listener.LocalEndpoint).Port}}, timeout: 60 s }
        outputs:
          power: { device: psu, gives: relay, on: "OUTP ON", off: "OUTP OFF", ask: "OUTP?", wired-to: supply, safe: off }
        inputs:
          volts: { device: psu, reads: voltage, ask: "MEAS:VOLT?", wired-to: {{net}}, limits: -1 V .. 20 V }
        """;

    /// <summary>Pulls the cable for good.</summary>
    public void Pull()
    {
        _isPulled = true;
        _listener.Stop();
        foreach (TcpClient client in _clients) client.Dispose();
    }

    public ValueTask DisposeAsync()
    {
        Pull();
        return ValueTask.CompletedTask;
    }

    private async Task ServeAsync()
    {
        try
        {
            while (!_isPulled)
            {
                TcpClient client = await _listener.AcceptTcpClientAsync();
                _clients.Add(client);
                _ = TalkAsync(client);
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // Its cable was pulled.
        }
    }

    private async Task TalkAsync(TcpClient client)
    {
        try
        {
            using var reader = new StreamReader(client.GetStream());
            await using var writer = new StreamWriter(client.GetStream()) { NewLine = "\n", AutoFlush = true };
            while (await reader.ReadLineAsync() is { } line)
            {
                _told.Enqueue(line);
                if (line is "OUTP ON" or "OUTP OFF") _isOn = line == "OUTP ON";
                string? answer = line switch
                {
                    "*IDN?" => "INVENTED,SUPPLY,1,1.0",
                    "SYST:ERR?" => "0,\"No error\"",
                    "OUTP?" => _isOn ? "1" : "0",
                    "MEAS:VOLT?" => _isOn ? "13.1" : "0.01",
                    _ => null,
                };
                if (answer is not null) await writer.WriteLineAsync(answer);
            }
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            // Its cable was pulled.
        }
    }
}
