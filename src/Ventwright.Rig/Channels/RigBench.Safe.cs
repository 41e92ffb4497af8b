using Ventwright.Rig.Definition;
using Ventwright.Rig.Wiring;

namespace Ventwright.Rig.Channels;

public sealed partial class RigBench
{
    private static readonly TimeSpan LongestStop = TimeSpan.FromSeconds(15);

    private readonly SemaphoreSlim _stopping = new(1, 1);

    /// <summary>The stop that holds the outputs, under way or done; until something is opened there is nothing to stop.</summary>
    private Task<SafeReport> _stop = Task.FromResult(new SafeReport("nothing was opened yet", []));

    /// <summary>The last stop, or null.</summary>
    public SafeReport? LastStop { get; private set; }

    /// <summary>Called after every stop, on whatever thread stopped.</summary>
    public event Action<SafeReport>? Stopped;

    /// <summary>
    /// Puts every output into its safe state, power first, and holds it there until the wiring check is confirmed anew. Never throws: what could not be reached
    /// is in the answer. A device whose line broke is opened once more for it.
    /// </summary>
    /// <param name="why">Why, in words.</param>
    public async Task<SafeReport> MakeSafeAsync(string why)
    {
        var stop = new TaskCompletionSource<SafeReport>(TaskCreationOptions.RunContinuationsAsynchronously);
        Hold(why, stop.Task);
        await _stopping.WaitAsync();
        try
        {
            using var limit = new CancellationTokenSource(LongestStop);
            var parts = await Task.WhenAll(Definition.Outputs.OrderBy(o => o.Wired.Role == OutputRole.StandIn).GroupBy(o => o.Device, StringComparer.Ordinal)
                .Select(device => SafeDeviceAsync(device.Key, [.. device], limit.Token)));
            LastStop = new(why, [.. parts.SelectMany(p => p)]);
            stop.SetResult(LastStop);
        }
        finally
        {
            _stopping.Release();
        }

        SafeReport report = await stop.Task;
        Stopped?.Invoke(report);
        return report;
    }

    /// <summary>
    /// Waits until the outputs are safe: for the stop that holds them, when somebody stopped already, else for one of its own. Whoever ends, a run or the program,
    /// ends after it: a stop on its way to a device must not lose the device.
    /// </summary>
    internal Task<SafeReport> HeldSafeAsync(string why)
    {
        lock (_gate)
        {
            if (_heldBy is not null) return _stop;
        }

        return MakeSafeAsync(why);
    }

    /// <summary>The person has looked at the wiring check and says that it is right: outputs may be set from now on.</summary>
    /// <param name="report">The report that was looked at; it must be the last one of this rig.</param>
    /// <exception cref="RigException">The report is not the last one, or the safe state was not reached.</exception>
    public void Confirm(WiringReport report)
    {
        lock (_gate)
        {
            if (!ReferenceEquals(report, LastWiring)) throw new RigException(RigTrouble.NotConfirmed, Definition.Name, "the wiring was checked again, or the rig stopped, since this table; look at the new one");
            if (!_stop.IsCompleted) throw new RigException(RigTrouble.NotConfirmed, Definition.Name, $"it is being stopped: {_heldBy}; check the wiring again when it is");
            if (LastStop is { IsSafe: false } stop) throw new RigException(RigTrouble.NotConfirmed, stop.Unreached[0].Output.Name, "its safe state was not reached, so nothing may be switched on; put it right and check again");
            _heldBy = null;
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await HeldSafeAsync("the rig was closed");
        foreach (Devices.IRigDevice device in _devices.Values) await device.DisposeAsync();
    }

    internal WiringReport? LastWiring { get; private set; }

    internal void Checked(WiringReport report)
    {
        lock (_gate) LastWiring = report;
    }

    private void Hold(string why, Task<SafeReport> stop)
    {
        lock (_gate)
        {
            (_heldBy, _stop) = (why, stop);
            LastWiring = null;
            _stops++;
        }
    }

    private async Task<List<(OutputDefinition, string)>> SafeDeviceAsync(string device, OutputDefinition[] outputs, CancellationToken cancel)
    {
        var unreached = new List<(OutputDefinition, string)>();
        bool mayOpenAgain = true;
        for (int i = 0; i < outputs.Length; i++)
        {
            string? reason = await SafeOutputAsync(outputs[i], cancel);
            if (reason is not null && mayOpenAgain)
            {
                mayOpenAgain = false;
                if (await OpenAgainAsync(device, cancel)) reason = await SafeOutputAsync(outputs[i], cancel);
            }

            if (reason is not null) unreached.Add((outputs[i], reason));
        }

        return unreached;
    }

    private async Task<string?> SafeOutputAsync(OutputDefinition output, CancellationToken cancel)
    {
        try
        {
            double[] raw = output.Law.ToRaw(output.Safe);
            await WriteAsync(output, raw, cancel, always: true);
            lock (_gate) _given[output.Name] = output.Law.ToValue(raw);
            return null;
        }
#pragma warning disable CA1031 // Whatever one output does, the others must come to their safe state, and the person must hear of it.
        catch (Exception e)
#pragma warning restore CA1031
        {
            lock (_gate) _given[output.Name] = double.NaN;
            return e is OperationCanceledException ? "no answer in time" : e.Message;
        }
    }

    private async Task<bool> OpenAgainAsync(string device, CancellationToken cancel)
    {
        try
        {
            await _devices[device].OpenAsync(cancel);
            return true;
        }
#pragma warning disable CA1031 // As above.
        catch (Exception)
#pragma warning restore CA1031
        {
            return false;
        }
    }
}
