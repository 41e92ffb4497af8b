using System.Collections;

namespace Ventwright.Diagnosis;

/// <summary>A small set of indices (of faults), sorted, never changed, compared by content.</summary>
public sealed class FaultSet : IReadOnlyList<int>, IEquatable<FaultSet>, IComparable<FaultSet>
{
    private readonly int[] _items;
    private readonly int _hash;

    private FaultSet(int[] sorted)
    {
        _items = sorted;
        ulong hash = 0xCBF29CE484222325;
        foreach (int item in sorted) hash = (hash ^ (uint)item) * 0x9E3779B97F4A7C15;
        _hash = (int)(hash ^ (hash >> 32));
    }

    /// <summary>The set without members: the sound unit.</summary>
    public static FaultSet None { get; } = new([]);

    /// <inheritdoc/>
    public int Count => _items.Length;

    /// <summary>True for the sound unit.</summary>
    public bool IsEmpty => _items.Length == 0;

    /// <inheritdoc/>
    public int this[int index] => _items[index];

    /// <summary>Set of the given indices; repeated ones count once.</summary>
    public static FaultSet Of(params IEnumerable<int> items)
    {
        int[] sorted = [.. items.Distinct().Order()];
        return sorted.Length == 0 ? None : new FaultSet(sorted);
    }

    /// <summary>Set of one index.</summary>
    public static FaultSet One(int item) => new([item]);

    /// <summary>This set and one more member.</summary>
    public FaultSet With(int item)
    {
        int at = Array.BinarySearch(_items, item);
        if (at >= 0) return this;
        return new FaultSet([.. _items[..~at], item, .. _items[~at..]]);
    }

    /// <summary>This set without one member.</summary>
    public FaultSet Without(int item)
    {
        int at = Array.BinarySearch(_items, item);
        if (at < 0) return this;
        return _items.Length == 1 ? None : new FaultSet([.. _items[..at], .. _items[(at + 1)..]]);
    }

    /// <summary>True when the index is a member.</summary>
    public bool Contains(int item) => Array.BinarySearch(_items, item) >= 0;

    /// <summary>True when every member is a member of the other set.</summary>
    public bool IsSubsetOf(FaultSet other) => _items.All(other.Contains);

    /// <inheritdoc/>
    public bool Equals(FaultSet? other) => other is not null && _hash == other._hash && _items.AsSpan().SequenceEqual(other._items);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as FaultSet);

    /// <inheritdoc/>
    public override int GetHashCode() => _hash;

    /// <summary>Orders by number of members, then by the members.</summary>
    public int CompareTo(FaultSet? other)
    {
        if (other is null) return 1;
        return Count != other.Count ? Count.CompareTo(other.Count) : _items.AsSpan().SequenceCompareTo(other._items);
    }

    /// <summary>Equal content.</summary>
    public static bool operator ==(FaultSet? left, FaultSet? right) => Equals(left, right);

    /// <summary>Different content.</summary>
    public static bool operator !=(FaultSet? left, FaultSet? right) => !Equals(left, right);

    /// <summary>Order of <see cref="CompareTo"/>.</summary>
    public static bool operator <(FaultSet left, FaultSet right) => left.CompareTo(right) < 0;

    /// <summary>Order of <see cref="CompareTo"/>.</summary>
    public static bool operator >(FaultSet left, FaultSet right) => left.CompareTo(right) > 0;

    /// <summary>Order of <see cref="CompareTo"/>.</summary>
    public static bool operator <=(FaultSet left, FaultSet right) => left.CompareTo(right) <= 0;

    /// <summary>Order of <see cref="CompareTo"/>.</summary>
    public static bool operator >=(FaultSet left, FaultSet right) => left.CompareTo(right) >= 0;

    /// <inheritdoc/>
    public IEnumerator<int> GetEnumerator() => ((IEnumerable<int>)_items).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <inheritdoc/>
    public override string ToString() => "{" + string.Join(",", _items) + "}";
}
