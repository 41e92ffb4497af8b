namespace Ventwright.Numerics;

/// <summary>
/// The fixed non-zero pattern of a square matrix with structural symmetry, with a minimum-degree elimination order and all fill-in
/// worked out once, so that numbers can be factored again and again without any search or allocation.
/// </summary>
/// <remarks>
/// Pivots are taken from the diagonal in the fixed order. That is safe for the matrices this program makes: conductance matrices and
/// Jacobians of node balances are diagonally dominant, or nearly so where a transistor stage adds a one-sided entry.
/// </remarks>
public sealed class SparsePattern
{
    private readonly Dictionary<long, int> _slots = [];

    private SparsePattern(int size) => Size = size;

    /// <summary>Number of rows and columns.</summary>
    public int Size { get; }

    /// <summary>Number of stored entries, fill-in included.</summary>
    public int SlotCount { get; private set; }

    /// <summary>Elimination order: <c>Order[k]</c> is the row that is eliminated in step k.</summary>
    internal int[] Order { get; private set; } = [];

    /// <summary>Slot of the pivot of each step.</summary>
    internal int[] PivotSlots { get; private set; } = [];

    /// <summary>Start of each step's run in <see cref="Rows"/>; one entry more than there are steps.</summary>
    internal int[] Starts { get; private set; } = [];

    /// <summary>Rows (and, by symmetry of the pattern, columns) still alive that are coupled with the pivot of the step.</summary>
    internal int[] Rows { get; private set; } = [];

    /// <summary>Slot of (row, pivot) beside each entry of <see cref="Rows"/>.</summary>
    internal int[] LowerSlots { get; private set; } = [];

    /// <summary>Slot of (pivot, row) beside each entry of <see cref="Rows"/>.</summary>
    internal int[] UpperSlots { get; private set; } = [];

    /// <summary>Target slots of the outer-product update, step by step, row by row.</summary>
    internal int[] UpdateSlots { get; private set; } = [];

    /// <summary>Builds the pattern of a matrix that has a full diagonal and entries (i, j) and (j, i) for each coupled pair.</summary>
    /// <param name="size">Number of unknowns.</param>
    /// <param name="pairs">Coupled unknowns; pairs with a negative index or with i = j are passed over.</param>
    public static SparsePattern Build(int size, IEnumerable<(int I, int J)> pairs)
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
        pattern.Eliminate(neighbours);
        return pattern;
    }

    /// <summary>The slot that holds entry (row, column).</summary>
    /// <exception cref="KeyNotFoundException">The entry is not in the pattern.</exception>
    public int Slot(int row, int column) => _slots[Key(row, column)];

    private static long Key(int row, int column) => ((long)row << 32) | (uint)column;

    private int AddSlot(int row, int column)
    {
        long key = Key(row, column);
        if (!_slots.TryGetValue(key, out int slot))
        {
            slot = SlotCount++;
            _slots.Add(key, slot);
        }

        return slot;
    }

    private void Eliminate(SortedSet<int>[] neighbours)
    {
        for (int i = 0; i < Size; i++)
        {
            AddSlot(i, i);
            foreach (int j in neighbours[i]) AddSlot(i, j);
        }

        var order = new int[Size];
        var pivots = new int[Size];
        var starts = new int[Size + 1];
        List<int> rows = [], lower = [], upper = [], updates = [];
        var alive = new SortedSet<int>(Enumerable.Range(0, Size));
        for (int k = 0; k < Size; k++)
        {
            int pivot = alive.MinBy(i => neighbours[i].Count);
            alive.Remove(pivot);
            order[k] = pivot;
            pivots[k] = AddSlot(pivot, pivot);
            int[] coupled = [.. neighbours[pivot]];
            foreach (int i in coupled)
            {
                rows.Add(i);
                lower.Add(AddSlot(i, pivot));
                upper.Add(AddSlot(pivot, i));
                neighbours[i].Remove(pivot);
                foreach (int j in coupled)
                {
                    updates.Add(AddSlot(i, j));
                    if (i != j) neighbours[i].Add(j);
                }
            }

            starts[k + 1] = rows.Count;
        }

        (Order, PivotSlots, Starts) = (order, pivots, starts);
        (Rows, LowerSlots, UpperSlots, UpdateSlots) = ([.. rows], [.. lower], [.. upper], [.. updates]);
    }
}
