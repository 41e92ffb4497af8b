namespace Ventwright.Rig.Devices;

/// <summary>
/// A device of a rig: it knows its own protocol and raw numbers, nothing of channels, calibration or limits. One request at a time; a second one waits for
/// the first. After <see cref="RigTrouble.LostContact"/> it stays lost until it is opened again.
/// </summary>
public interface IRigDevice : IAsyncDisposable
{
    /// <summary>Name in the rig file.</summary>
    string Name { get; }

    /// <summary>Opens the line and makes sure that the right device answers. Nothing is set.</summary>
    /// <returns>What the device says it is, or what is known of it.</returns>
    /// <exception cref="RigException">It cannot be opened, does not answer, or is another device.</exception>
    Task<string> OpenAsync(CancellationToken cancel);

    /// <summary>Reads a point; for an output it reads back what was set.</summary>
    /// <returns>The device's own number: register value, volts at a converter, wiper step, 0 or 1.</returns>
    /// <exception cref="RigException">No answer, an answer that makes no sense, or no contact.</exception>
    Task<double> ReadAsync(ChannelPoint point, CancellationToken cancel);

    /// <summary>Sets a point.</summary>
    /// <exception cref="RigException">No answer, an answer that makes no sense, or no contact.</exception>
    Task WriteAsync(ChannelPoint point, double raw, CancellationToken cancel);
}

/// <summary>A point of a device: pin, register, command. Each driver has its own.</summary>
public abstract record ChannelPoint
{
    /// <summary>Whether what was set can be read back.</summary>
    public virtual bool CanReadBack => true;

    /// <summary>What a raw number means when the rig file gives no calibration: raw numbers and the SI values they stand for, or none for one to one.</summary>
    internal virtual IReadOnlyList<(double Raw, double Value)> OwnScale => [];

    /// <summary>Whether raw numbers are whole steps.</summary>
    internal virtual bool IsStepped => false;
}
