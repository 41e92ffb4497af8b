namespace Ventwright.Workshop;

/// <content>The closer look at what leads.</content>
public sealed partial class OpenSession
{
    private CloserLookWork? _closer;

    /// <summary>The closer look that was asked for, or null; one at other readings no longer counts.</summary>
    public CloserLookWork? Closer =>
        Volatile.Read(ref _closer) is { } work && work.Evidence.SequenceEqual(Evidence.Select(e => e.Number)) ? work : null;

    /// <summary>Asks for a closer look: how large the leading fault is, which known-good part to swap in, whether a line of the sheet, if changed, would fit all
    /// readings. It comes in the background; <see cref="Changed"/> tells when it is there.</summary>
    public void LookCloser()
    {
        if (Closer is not null) return;
        Volatile.Write(ref _closer, new(this, () => Changed?.Invoke()));
        Changed?.Invoke();
    }
}
