namespace Ventwright.Numerics;

/// <summary>
/// The fixed non-zero pattern of a square matrix with structural symmetry, with a minimum-degree elimination order and all fill-in
/// worked out once, so that numbers can be factored again and again without any search or allocation.
/// </summary>
/// <remarks>
/// Pivots are taken from the diagonal in the fixed order. That is safe for the matrices this program makes: conductance matrices and
/// Jacobians of node balances are diagonally dominant, or nearly so where a transistor stage adds a one-sided entry.
/// Entries lie in the order of elimination: of each step the pivot, the column below it, the row beside it. What is eliminated last is the end of the memory.
/// </remarks>
public sealed class SparsePattern
{
    private readonly Dictionary<long, int> _slots = [];

    private SparsePattern(int size) => Size = size;

    /// <summary>Number of rows and columns.</summary>
    public int Size { get; }

    /// <summary>Number of stored entries, fill-in included.</summary>
    public int SlotCount => Size + (2 * Rows.Length);

    /// <summary>Steps of elimination before those of the unknowns that were asked to be last.</summary>
    public int Head { get; private set; }

    /// <summary>First slot of the entries that are left after the first <see cref="Head"/> steps.</summary>
    public int TailSlot => PivotSlot(Head);

    /// <summary>Step in which each unknown is eliminated.</summary>
    public IReadOnlyList<int> Step => Steps;

    internal int[] Steps { get; private set; } = [];

    /// <summary>Unknown that each step eliminates.</summary>
    internal int[] Order { get; private set; } = [];

    /// <summary>Start of each step's run in <see cref="Rows"/>; one entry more than there are steps.</summary>
    internal int[] Starts { get; private set; } = [];

    /// <summary>Steps of the rows (and, by symmetry of the pattern, columns) still alive that are coupled with the pivot of the step.</summary>
    internal int[] Rows { get; private set; } = [];

    /// <summary>Target slots of the outer-product update, step by step, row by row.</summary>
    internal int[] UpdateSlots { get; private set; } = [];

    /// <summary>First of <see cref="UpdateSlots"/> that belongs to a step after the head.</summary>
    internal int TailUpdate { get; private set; }

    /// <summary>Builds the pattern of a matrix that has a full diagonal and entries (i, j) and (j, i) for each coupled pair.</summary>
    /// <param name="size">Number of unknowns.</param>
    /// <param name="pairs">Coupled unknowns; pairs with a negative index or with i = j are passed over.</param>
    /// <param name="last">Unknowns that are eliminated after all others, so that only they are worked out again when nothing else changes; none if left out.</param>
    public static SparsePattern Build(int size, IEnumerable<(int I, int J)> pairs, IEnumerable<int>? last = null)
    {
        ArgumentNullException.ThrowIfNull(pairs);
        var neighbours = new SortedSet<int>[size];
        for (int i = 0; i < size; i++) neighbours[i] = [];
        foreach ((int i, int j) in pairs)
        {
            if (i < 0 || j < 0 || i == j) continue;
            neighbours[i].Add(j);
            neighbours[j].Add(i);
        }

        var pattern = new SparsePattern(size);
        pattern.Number(Eliminate(neighbours, [.. last ?? []], out int head), head);
        return pattern;
    }

    /// <summary>The slot that holds entry (row, column).</summary>
    /// <exception cref="KeyNotFoundException">The entry is not in the pattern.</exception>
    public int Slot(int row, int column) => _slots[Key(Steps[row], Steps[column])];

    /// <summary>Slot of the pivot of a step; its column and then its row follow.</summary>
    internal int PivotSlot(int step) => step + (2 * Starts[step]);

    private static long Key(int row, int column) => ((long)row << 32) | (uint)column;

    /// <summary>The order of elimination, each unknown with those still alive that are coupled with it.</summary>
    private static List<(int Pivot, int[] Coupled)> Eliminate(SortedSet<int>[] neighbours, HashSet<int> last, out int head)
    {
        var order = new List<(int, int[])>(neighbours.Length);
        var alive = new SortedSet<int>(Enumerable.Range(0, neighbours.Length).Where(i => !last.Contains(i)));
        head = alive.Count;
        while (order.Count < neighbours.Length)
        {
            if (alive.Count == 0) alive.UnionWith(last);
            int pivot = alive.MinBy(i => neighbours[i].Count);
            alive.Remove(pivot);
            int[] coupled = [.. neighbours[pivot]];
            foreach (int i in coupled)
            {
                neighbours[i].Remove(pivot);
                foreach (int j in coupled) if (i != j) neighbours[i].Add(j);
            }

            order.Add((pivot, coupled));
        }

        return order;
    }

    private void Number(List<(int Pivot, int[] Coupled)> order, int head)
    {
        int[] steps = new int[Size];
        for (int k = 0; k < Size; k++) steps[order[k].Pivot] = k;
        (Steps, Order, Head) = (steps, [.. order.Select(o => o.Pivot)], head);
        int[][] runs = [.. order.Select(o => o.Coupled.Select(i => steps[i]).Order().ToArray())];
        Rows = [.. runs.SelectMany(r => r)];
        Starts = new int[Size + 1];
        for (int k = 0; k < Size; k++)
        {
            Starts[k + 1] = Starts[k] + runs[k].Length;
            int slot = PivotSlot(k);
            _slots.Add(Key(k, k), slot++);
            foreach (int i in runs[k]) _slots.Add(Key(i, k), slot++);
            foreach (int i in runs[k]) _slots.Add(Key(k, i), slot++);
        }

        UpdateSlots = [.. runs.SelectMany(run => run.SelectMany(i => run.Select(j => _slots[Key(i, j)])))];
        TailUpdate = runs.Take(head).Sum(r => r.Length * r.Length);
    }
}
