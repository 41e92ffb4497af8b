using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop;

/// <content>The slow drive that is in hand, made from the record.</content>
public sealed partial class OpenSession
{
    private SlowDriveInHand? _slowDrive;

    /// <summary>The slow drive in hand, or null; one of another version of the sheet does not count. It may still be catching up with the record; <see cref="Changed"/> tells when it has.</summary>
    public SlowDriveInHand? SlowDrive
    {
        get
        {
            if (Entries.LastOrDefault(e => e is { Kind: SessionEventKind.SlowDrive, Undone: false }) is not { } begun) return null;
            SlowDriveBody body = WrittenEntries.Body<SlowDriveBody>(begun);
            Tie tie = Tied;
            if (body.Sheet != tie.Sheet?.Sheet || body.Version != tie.Sheet?.Version) return null;
            SlowDriveInHand drive;
            lock (_lock)
            {
                if (_slowDrive?.IsOf(tie.Unit, begun.Number) != true) _slowDrive = new(this, tie.Unit, begun.Number, body, () => Changed?.Invoke());
                drive = _slowDrive;
            }

            drive.Follow();
            return drive;
        }
    }

    /// <summary>Begins a slow drive in place of the one in hand and keeps that it was begun.</summary>
    /// <param name="world">What the world does, and to which car.</param>
    /// <param name="hands">Words of the setting that stand over the scenario's panel; what is off the bench or fed now goes with them.</param>
    /// <param name="by">Who begins it.</param>
    /// <exception cref="RefusedException">The unit has no module, or scenario, car or words cannot be used; nothing was kept.</exception>
    public SessionEvent BeginSlowDrive(WorldText world, IReadOnlyList<(string Name, string Value)>? hands = null, string? by = null)
    {
        ArgumentNullException.ThrowIfNull(world);
        if (Unit.Model.Module is null) throw new RefusedException("this unit has no module: there is nothing that regulates by itself");
        world.World();
        world.Body();
        var words = Words(SettingWords.Make(Unit.Model, [.. hands ?? [], .. OnBench]));
        return Keep(SessionEventKind.SlowDrive, new SlowDriveBody(world, words, Tied.Sheet?.Sheet, Tied.Sheet?.Version), by);
    }
}
