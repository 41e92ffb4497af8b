using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop;

/// <content>The slow drive that is in hand.</content>
public sealed partial class OpenSession
{
    private SlowDriveInHand? _slowDrive;

    /// <summary>The slow drive in hand, or null; one of another version of the sheet no longer counts.</summary>
    public SlowDriveInHand? SlowDrive => Volatile.Read(ref _slowDrive) is { } drive && drive.IsOf(Unit) ? drive : null;

    /// <summary>Begins a slow drive in place of the one in hand. Takes a moment.</summary>
    /// <param name="scenario">Key of a shipped scenario.</param>
    /// <exception cref="RefusedException">The unit has no module, or there is no such scenario.</exception>
    public void BeginSlowDrive(string scenario)
    {
        if (Unit.Model.Module is null) throw new RefusedException("this unit has no module: there is nothing that regulates by itself");
        Volatile.Write(ref _slowDrive, new(Unit, scenario));
        Changed?.Invoke();
    }
}
