using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Lines;

/// <summary>What every device on a line shares: one request at a time, a limit on the wait, one more try after an answer that made no sense.</summary>
internal abstract class LineDevice(DeviceSettings settings) : IRigDevice
{
    private readonly SemaphoreSlim _turn = new(1, 1);
    private ByteLine? _line;
    private bool _isStale;

    /// <inheritdoc/>
    public string Name => Settings.Name;

    protected DeviceSettings Settings { get; } = settings;

    protected ByteLine Line => _line ?? throw new RigException(RigTrouble.LostContact, Name, "it is not open");

    /// <summary>How long it may take from opening the line until the device answers; boards that start anew when the port is opened need a while.</summary>
    protected virtual TimeSpan WakeUp => TimeSpan.Zero;

    /// <summary>Whether an answer that comes too late could be taken for that to the next question; the line is then opened anew before it.</summary>
    protected virtual bool MixesLateAnswers => true;

    /// <inheritdoc/>
    public async Task<string> OpenAsync(CancellationToken cancel)
    {
        await _turn.WaitAsync(cancel);
        try
        {
            return await OpenLineAsync(cancel);
        }
        finally
        {
            _turn.Release();
        }
    }

    private async Task<string> OpenLineAsync(CancellationToken cancel)
    {
        await CloseAsync();
        _isStale = false;
        _line = await ByteLine.OpenAsync(Name, Settings.Line!, Settings.Timeout, cancel);
        try
        {
            string found = await WithinAsync(GreetAsync, Settings.Timeout + WakeUp, cancel);
            if (Settings.Identity is { } wanted && !found.Contains(wanted, StringComparison.OrdinalIgnoreCase))
                throw new RigException(RigTrouble.WrongDevice, Name, $"'{wanted}' was expected at {Settings.Line}, but '{found}' answers; are two cables or addresses swapped?");
            return found;
        }
        catch
        {
            await CloseAsync();
            throw;
        }
    }

    /// <inheritdoc/>
    public Task<double> ReadAsync(ChannelPoint point, CancellationToken cancel) => InTurnAsync(c => ReadPointAsync(point, c), Settings.Timeout, tries: 2, cancel);

    /// <inheritdoc/>
    public Task WriteAsync(ChannelPoint point, double raw, CancellationToken cancel) => InTurnAsync(
        async c =>
        {
            await WritePointAsync(point, raw, c);
            return true;
        },
        Settings.Timeout, tries: 2, cancel);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await CloseAsync();
        _turn.Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>First words with the device.</summary>
    /// <returns>What it says it is.</returns>
    protected abstract Task<string> GreetAsync(CancellationToken cancel);

    protected abstract Task<double> ReadPointAsync(ChannelPoint point, CancellationToken cancel);

    protected abstract Task WritePointAsync(ChannelPoint point, double raw, CancellationToken cancel);

    /// <summary>Called when the line is closed.</summary>
    protected virtual void Closed()
    {
    }

    protected RigException Garbage(string what) => new(RigTrouble.Garbage, Name, $"{what}; are speed, parity and kind of device right, is the cable sound?");

    private async Task<T> InTurnAsync<T>(Func<CancellationToken, Task<T>> ask, TimeSpan timeout, int tries, CancellationToken cancel)
    {
        await _turn.WaitAsync(cancel);
        try
        {
            if (_isStale) await OpenLineAsync(cancel);
            while (true)
            {
                try
                {
                    return await WithinAsync(ask, timeout, cancel);
                }
                catch (RigException e) when (e.Trouble == RigTrouble.Garbage && --tries > 0)
                {
                    // A spark on the bench spoils a message now and then: once more, then it is told.
                }
            }
        }
        finally
        {
            _turn.Release();
        }
    }

    private async Task<T> WithinAsync<T>(Func<CancellationToken, Task<T>> ask, TimeSpan timeout, CancellationToken cancel)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(timeout);
        try
        {
            return await ask(limit.Token);
        }
        catch (OperationCanceledException e)
        {
            _isStale = MixesLateAnswers;
            if (cancel.IsCancellationRequested) throw;
            throw new RigException(
                RigTrouble.NoAnswer, Name, $"no answer within {timeout.TotalSeconds:0.###} s on {Settings.Line}; is it switched on, are speed, parity and unit number right? A slow device may need a longer 'timeout'", e);
        }
    }

    private async Task CloseAsync()
    {
        if (_line is not { } line) return;
        _line = null;
        Closed();
        await line.DisposeAsync();
    }
}
