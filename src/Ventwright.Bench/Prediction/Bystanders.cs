using System.Collections.Concurrent;
using System.Numerics;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// Faults that change nothing at a check of the nominal unit, but sit on or move what hardly anything moves without changing that check: a corroded pin in the lead of a solenoid that
/// still pulls. In some units within the tolerances they may change it after all. Which do is not told here, only which are worth trying. Thread-safe.
/// </summary>
/// <param name="table">The checks of a setting.</param>
/// <param name="footprints">What lies around each fault.</param>
/// <param name="faults">How many faults there are.</param>
internal sealed class Bystanders(SettingTable table, Footprints footprints, int faults)
{
    /// <summary>Of the faults that move a thing, at least this share change the check.</summary>
    private const double LeastShare = 0.5;

    /// <summary>Faults that must move a thing before it says anything.</summary>
    private const int LeastMovers = 2;

    private readonly ConcurrentDictionary<int, bool[]> _known = [];

    /// <summary>Whether a fault is worth trying at a check.</summary>
    /// <param name="fault">Index of the fault.</param>
    /// <param name="column">Column of the check.</param>
    public bool Include(int fault, int column) => _known.GetOrAdd(column, Of)[fault];

    private bool[] Of(int column)
    {
        SettingTable.Row[] rows = [.. Enumerable.Range(0, faults).Select(f => table.Of(f))];
        bool[] acts = [.. rows.Select(r => !r.IsSound(table.Sound, column))];
        ulong[] near = Near(rows, acts);
        return [.. rows.Select((r, f) => !acts[f] && (Footprints.Meet(r.Moved, near) || Footprints.Meet(footprints.Around(f), near)))];
    }

    /// <summary>The things that are mostly moved by faults which change the check.</summary>
    private ulong[] Near(SettingTable.Row[] rows, bool[] acts)
    {
        int[] all = new int[footprints.Width * 64], own = new int[all.Length];
        for (int f = 0; f < rows.Length; f++)
        {
            foreach (int element in Elements(rows[f].Moved))
            {
                all[element]++;
                if (acts[f]) own[element]++;
            }
        }

        ulong[] near = new ulong[footprints.Width];
        for (int e = 0; e < all.Length; e++)
        {
            if (own[e] >= LeastMovers && own[e] >= LeastShare * all[e]) Footprints.Set(near, e);
        }

        return near;
    }

    private static IEnumerable<int> Elements(ulong[] bits)
    {
        for (int i = 0; i < bits.Length; i++)
        {
            for (ulong left = bits[i]; left != 0; left &= left - 1) yield return (i * 64) + BitOperations.TrailingZeroCount(left);
        }
    }
}
