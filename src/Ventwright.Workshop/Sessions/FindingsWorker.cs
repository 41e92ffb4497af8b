using System.Globalization;
using Ventwright.Bench;
using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>Works out findings in the background, one list of evidence at a time, and keeps those of lists that were worked out before.</summary>
internal sealed class FindingsWorker(UnitOnSheet unit, Func<IReadOnlyList<SessionEvent>> evidence, Func<IReadOnlyList<(string Name, string Value)>> onBench, Action changed)
{
    private const int MostKept = 100;
    private readonly Lock _lock = new();
    private readonly Dictionary<string, SessionFindings> _kept = new(StringComparer.Ordinal);
    private BenchDiagnosis? _bench;
    private string _presence = "";
    private long[] _taken = [];
    private bool _running;
    private Action? _breakOff;

    /// <summary>The latest findings; they may be those of an earlier list while <see cref="IsWorking"/>.</summary>
    public SessionFindings? Latest { get; private set; }

    /// <summary>Whether findings of the present list are being worked out.</summary>
    public bool IsWorking { get; private set; }

    /// <summary>Why the present list cannot be worked out, or null.</summary>
    public string? Problem { get; private set; }

    /// <summary>Sees to it that the latest findings become those of the present list.</summary>
    public void Wake()
    {
        lock (_lock)
        {
            if (_kept.TryGetValue(Key(evidence()), out SessionFindings? known))
            {
                (Latest, IsWorking, Problem) = (known, false, null);
                return;
            }

            IsWorking = true;
            _breakOff?.Invoke();
            if (_running) return;
            _running = true;
        }

        _ = Task.Factory.StartNew(Run, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
    }

    /// <summary>The evidence with what is on the bench: advice depends on both.</summary>
    private string Key(IReadOnlyList<SessionEvent> list) => $"{string.Join(',', list.Select(e => e.Number.ToString(CultureInfo.InvariantCulture)))} {PresenceKey()}";

    private string PresenceKey() => string.Join(' ', onBench().Select(w => $"{w.Name}={w.Value}"));

    private void Run()
    {
        while (Next() is { } list)
        {
            string? problem = null;
            SessionFindings? found = null;
            try
            {
                _ = unit.Ready;
                found = SessionFindings.Of(unit, BenchWith(list), list);
            }
#pragma warning disable CA1031 // A failure here must reach the person in words; the entries themselves are safe.
            catch (Exception e)
#pragma warning restore CA1031
            {
                _bench = null;
                problem = e is RefusedException ? e.Message : $"the findings cannot be worked out: {e.Message} The entries are safe; take the last one back and write down what it was.";
            }

            Publish(Key(list), found, problem);
            changed();
            // The person now makes the check that is asked for; a reading that comes meanwhile breaks it off.
            if (found is not null && unit.Ready.IsCompletedSuccessfully) LookAhead(found.Findings);
        }
    }

    private void LookAhead(Findings found)
    {
        using var stop = new CancellationTokenSource();
        lock (_lock)
        {
            if (IsWorking) return;
            _breakOff = stop.Cancel;
        }

        try
        {
            if (found.Next is [Advice next, ..])
            {
                foreach (Observable look in next.Looks) _ = unit.Expect(next.Setting, look);
            }

            _bench?.LookAhead(found, stop.Token, SessionFindings.MostSuggestions);
            // What was thrown away meanwhile is cleared up now rather than while the person waits for the next findings.
            if (!stop.IsCancellationRequested) GC.Collect(1);
        }
#pragma warning disable CA1031 // Only time is lost: whatever is wrong is told when it is wanted.
        catch (Exception)
#pragma warning restore CA1031
        {
        }
        finally
        {
            lock (_lock) _breakOff = null;
        }
    }

    private IReadOnlyList<SessionEvent>? Next()
    {
        lock (_lock)
        {
            IReadOnlyList<SessionEvent> list = evidence();
            if (IsWorking && !_kept.ContainsKey(Key(list))) return list;
            return Stop();
        }
    }

    private IReadOnlyList<SessionEvent>? Stop()
    {
        _running = false;
        return null;
    }

    private void Publish(string key, SessionFindings? found, string? problem)
    {
        lock (_lock)
        {
            if (_kept.Count >= MostKept) _kept.Clear();
            if (found is not null) (_kept[key], Latest) = (found, found);
            bool isPresent = Key(evidence()) == key;
            if (!isPresent) return;
            (IsWorking, Problem) = (false, problem);
        }
    }

    /// <summary>The running diagnosis where the list only grew; a new one where something was taken back.</summary>
    private BenchDiagnosis BenchWith(IReadOnlyList<SessionEvent> list)
    {
        long[] numbers = [.. list.Select(e => e.Number)];
        string presence = PresenceKey();
        if (_bench is null || presence != _presence || !numbers.AsSpan().StartsWith(_taken)) (_bench, _taken, _presence) = (unit.NewDiagnosis(onBench()), [], presence);
        foreach (SessionEvent entry in list.Skip(_taken.Length)) WrittenEntries.Apply(_bench, unit.Model, entry);
        _taken = numbers;
        return _bench;
    }
}
