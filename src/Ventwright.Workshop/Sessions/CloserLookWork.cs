using Ventwright.Bench;

namespace Ventwright.Workshop;

/// <summary>A closer look at what leads, worked out in the background for the readings as they were when it was asked for. Thread-safe.</summary>
public sealed class CloserLookWork
{
    private double _share;

    internal CloserLookWork(OpenSession session, Action changed)
    {
        IReadOnlyList<SessionEvent> evidence = session.Evidence;
        Evidence = [.. evidence.Select(e => e.Number)];
        Look = Task.Factory.StartNew(() => Of(session.Replay(evidence)), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        _ = Look.ContinueWith(_ => changed(), TaskScheduler.Default);
    }

    /// <summary>Numbers of the entries that it looks at.</summary>
    public IReadOnlyList<long> Evidence { get; }

    /// <summary>What was found.</summary>
    public Task<CloserLook> Look { get; }

    /// <summary>Share of the sheet's lines that were tried, 0..1.</summary>
    public double Share => Volatile.Read(ref _share);

    private CloserLook Of(BenchDiagnosis bench) => bench.LookCloser(bench.Find(1), share => Volatile.Write(ref _share, share));
}
