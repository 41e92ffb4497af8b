using System.Buffers;
using System.IO.Pipelines;
using System.IO.Ports;
using System.Net.Sockets;
using System.Text;

namespace Ventwright.Rig.Lines;

/// <summary>
/// A line of bytes to a device. What comes in is taken off the line at once by a reader of its own, since a serial port cannot be told to stop waiting; who
/// waits for an answer waits on the buffer and can give up at any time.
/// </summary>
internal sealed class ByteLine : IAsyncDisposable
{
    private const int LongestText = 4096;

    /// <summary>How long closing is waited for: a port whose cable is out may never come back from it.</summary>
    private static readonly TimeSpan LongestClose = TimeSpan.FromSeconds(1);

    private readonly string _device;
    private readonly Stream _stream;
    private readonly Action _close;
    private readonly Pipe _incoming = new(new PipeOptions(pauseWriterThreshold: 0));
    private readonly CancellationTokenSource _closing = new(), _lost = new();
    private readonly Task _pump;
    private volatile Exception? _broken;

    /// <summary>A line that is open already.</summary>
    /// <param name="device">Name of the device, for messages.</param>
    /// <param name="stream">What is written to and read from.</param>
    /// <param name="close">Closes it; may take for ever.</param>
    internal ByteLine(string device, Stream stream, Action close)
    {
        (_device, _stream, _close) = (device, stream, close);
        _pump = Task.Run(PumpAsync);
    }

    /// <summary>Opens a line.</summary>
    /// <exception cref="RigException">It cannot be opened.</exception>
    public static async Task<ByteLine> OpenAsync(string device, LineAddress address, TimeSpan timeout, CancellationToken cancel)
    {
        try
        {
            return address is TcpAddress tcp ? await ConnectAsync(device, tcp, timeout, cancel) : OpenPort(device, (SerialAddress)address);
        }
        catch (Exception e) when (e is SocketException or IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException)
        {
            string advice = address is TcpAddress
                ? "is it switched on, is the address right, is the network cable in?"
                : "is the cable in, is the port's name right, does another program use it, may you use it (on Linux: group dialout)?";
            throw new RigException(RigTrouble.CannotOpen, device, $"cannot open {address}: {e.Message.TrimEnd('.')}; {advice}", e);
        }
    }

    /// <summary>Sends bytes.</summary>
    public async Task WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        ThrowIfBroken();
        using var either = CancellationTokenSource.CreateLinkedTokenSource(cancel, _lost.Token);
        try
        {
            await _stream.WriteAsync(bytes, either.Token);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            // Nobody takes what is written to a port that broke; the reader noticed.
            throw Lost(_broken);
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException or InvalidOperationException or UnauthorizedAccessException)
        {
            throw Lost(e);
        }
    }

    /// <summary>Waits for a number of bytes.</summary>
    public async Task<byte[]> ReadAsync(int count, CancellationToken cancel)
    {
        while (true)
        {
            ReadResult got = await _incoming.Reader.ReadAsync(cancel);
            if (got.Buffer.Length >= count)
            {
                byte[] bytes = got.Buffer.Slice(0, count).ToArray();
                _incoming.Reader.AdvanceTo(got.Buffer.GetPosition(count));
                return bytes;
            }

            _incoming.Reader.AdvanceTo(got.Buffer.Start, got.Buffer.End);
            if (got.IsCompleted) throw Lost(_broken);
        }
    }

    /// <summary>Waits for a line of text that ends in a line feed; what ends it is cut off.</summary>
    public async Task<string> ReadLineAsync(CancellationToken cancel)
    {
        while (true)
        {
            ReadResult got = await _incoming.Reader.ReadAsync(cancel);
            if (got.Buffer.PositionOf((byte)'\n') is { } end)
            {
                string text = Encoding.Latin1.GetString(got.Buffer.Slice(0, end).ToArray()).TrimEnd('\r');
                _incoming.Reader.AdvanceTo(got.Buffer.GetPosition(1, end));
                return text;
            }

            bool isTooLong = got.Buffer.Length > LongestText;
            _incoming.Reader.AdvanceTo(isTooLong ? got.Buffer.End : got.Buffer.Start, got.Buffer.End);
            if (got.IsCompleted) throw Lost(_broken);
            if (isTooLong) throw new RigException(RigTrouble.Garbage, _device, "it sends on and on without ending a line; are the speed and the kind of device right?");
        }
    }

    /// <summary>Drops what came in and was not asked for.</summary>
    public void Discard()
    {
        ThrowIfBroken();
        while (_incoming.Reader.TryRead(out ReadResult got))
        {
            _incoming.Reader.AdvanceTo(got.Buffer.End);
            if (got.IsCompleted) throw Lost(_broken);
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _closing.CancelAsync();
        await Task.WhenAny(Task.WhenAll(_pump, Task.Run(Close)), Task.Delay(LongestClose));
        _closing.Dispose();
    }

    private void Close()
    {
        try
        {
            _close();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidOperationException)
        {
            // The cable is out already: there is nothing left to close.
        }
    }

    private static async Task<ByteLine> ConnectAsync(string device, TcpAddress address, TimeSpan timeout, CancellationToken cancel)
    {
        var client = new TcpClient { NoDelay = true };
        try
        {
            using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            limit.CancelAfter(timeout > TimeSpan.FromSeconds(3) ? timeout : TimeSpan.FromSeconds(3));
            await client.ConnectAsync(address.Host, address.Port, limit.Token);
            return new(device, client.GetStream(), client.Dispose);
        }
        catch (Exception e)
        {
            client.Dispose();
            if (e is OperationCanceledException && !cancel.IsCancellationRequested) throw new IOException("nothing answers there", e);
            throw;
        }
    }

    private static ByteLine OpenPort(string device, SerialAddress address)
    {
        // Asked for a port that is not there, the system may say that access is denied.
        if (address.Port.StartsWith('/') && !File.Exists(address.Port))
            throw new IOException($"there is no such port{(SerialPort.GetPortNames() is { Length: > 0 } known ? "; there are " + string.Join(", ", known.Order()) : "")}");
        var port = new SerialPort(address.Port, address.Baud, address.Parity, 8, address.StopBits);
        try
        {
            port.Open();
            Raise(port);
            // Closing the port would first wait until all that was written is taken, for ever once the cable is out; closing its stream does not.
            return new(device, port.BaseStream, port.BaseStream.Dispose);
        }
        catch
        {
            port.Dispose();
            throw;
        }
    }

    /// <summary>Many boards talk only when they see that somebody listens; a line without these wires is none the worse.</summary>
    private static void Raise(SerialPort port)
    {
        try
        {
            (port.DtrEnable, port.RtsEnable) = (true, true);
        }
        catch (IOException)
        {
            // A pseudo-terminal has no such wires.
        }
    }

    private async Task PumpAsync()
    {
        Exception? why = null;
        try
        {
            while (!_closing.IsCancellationRequested)
            {
                int count = await _stream.ReadAsync(_incoming.Writer.GetMemory(512), _closing.Token);
                if (count == 0) break;
                _incoming.Writer.Advance(count);
                await _incoming.Writer.FlushAsync();
            }
        }
#pragma warning disable CA1031 // Whatever breaks the line, the one who waits for an answer must hear of it.
        catch (Exception e)
#pragma warning restore CA1031
        {
            why = e;
        }

        _broken = why ?? new EndOfStreamException("the other end closed the line");
        await _lost.CancelAsync();
        await _incoming.Writer.CompleteAsync();
    }

    private void ThrowIfBroken()
    {
        if (_broken is { } why) throw Lost(why);
    }

    private RigException Lost(Exception? why) =>
        new(RigTrouble.LostContact, _device, "the line broke; is the cable out, or the device switched off? Put it right, then open the rig again", why);
}
