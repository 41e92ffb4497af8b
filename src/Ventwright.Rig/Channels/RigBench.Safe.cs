using Ventwright.Rig.Definition;
using Ventwright.Rig.Wiring;

namespace Ventwright.Rig.Channels;

public sealed partial class RigBench
{
    private static readonly TimeSpan LongestStop = TimeSpan.FromSeconds(15);

    private readonly SemaphoreSlim _stopping = new(1, 1);

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
        Hold(why);
        await _stopping.WaitAsync();
        try
        {
            using var limit = new CancellationTokenSource(LongestStop);
            var parts = await Task.WhenAll(Definition.Outputs.OrderBy(o => o.Wired.Role == OutputRole.StandIn).GroupBy(o => o.Device, StringComparer.Ordinal)
                .Select(device => SafeDeviceAsync(device.Key, [.. device], limit.Token)));
            LastStop = new(why, [.. parts.SelectMany(p => p)]);
        }
        finally
        {
            _stopping.Release();
        }

        Stopped?.Invoke(LastStop);
        return LastStop;
    }

    /// <summary>The person has looked at the wiring check and says that it is right: outputs may be set from now on.</summary>
    /// <param name="report">The report that was looked at; it must be the last one of this rig.</param>
    /// <exception cref="RigException">The report is not the last one, or the safe state was not reached.</exception>
    public void Confirm(WiringReport report)
    {
        lock (_gate)
        {
            if (!ReferenceEquals(report, LastWiring)) throw new RigException(RigTrouble.NotConfirmed, Definition.Name, "the wiring was checked again, or the rig stopped, since this table; look at the new one");
            if (LastStop is { IsSafe: false } stop) throw new RigException(RigTrouble.NotConfirmed, stop.Unreached[0].Output.Name, "its safe state was not reached, so nothing may be switched on; put it right and check again");
            _heldBy = null;
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (HeldBy is null) await MakeSafeAsync("the rig was closed");
        foreach (Devices.IRigDevice device in _devices.Values) await device.DisposeAsync();
    }

    internal WiringReport? LastWiring { get; private set; }

    internal void Checked(WiringReport report)
    {
        lock (_gate) LastWiring = report;
    }

    private void Hold(string why)
    {
        lock (_gate)
        {
            _heldBy = why;
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
        catch (Exception e) when (e is RigException or OperationCanceledException)
        {
            lock (_gate) _given[output.Name] = double.NaN;
            return e is RigException ? e.Message : "no answer in time";
        }
    }

    private async Task<bool> OpenAgainAsync(string device, CancellationToken cancel)
    {
        try
        {
            await _devices[device].OpenAsync(cancel);
            return true;
        }
        catch (Exception e) when (e is RigException or OperationCanceledException)
        {
            return false;
        }
    }
}
