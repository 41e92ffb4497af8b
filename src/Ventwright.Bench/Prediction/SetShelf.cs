using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// Keeps what sets of several faults show. A session comes to some ten thousand of them, a few kilobytes each, and other sessions hardly ask for the same: a shelf is its session's and goes
/// with it, while single faults are kept with the sheet (<see cref="SettingTable"/>). Thread-safe.
/// </summary>
internal sealed class SetShelf
{
    private readonly ConcurrentDictionary<(SettingTable Table, FaultSet Faults), SettingTable.Row> _rows = new();
    private readonly ConcurrentDictionary<(SettingTable Table, FaultSet Faults), Lazy<CheckSpread[]>> _spreads = new();
    private int _count;

    /// <summary>How many rows it keeps.</summary>
    public int Count => Volatile.Read(ref _count);

    /// <summary>What a set shows in a setting; whichever thread asks gets the same object.</summary>
    public SettingTable.Row Row(SettingTable table, FaultSet faults, Func<SettingTable.Row> make)
    {
        if (_rows.TryGetValue((table, faults), out SettingTable.Row? known)) return known;
        Interlocked.Increment(ref _count);
        return _rows.GetOrAdd((table, faults), make());
    }

    /// <summary>How far units with a set of faults lie from the nominal one with the same faults.</summary>
    public CheckSpread[] Spreads(SettingTable table, FaultSet faults, Func<CheckSpread[]> make) => _spreads.GetOrAdd((table, faults), _ => new(make)).Value;
}
