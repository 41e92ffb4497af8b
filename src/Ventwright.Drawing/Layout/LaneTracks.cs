namespace Ventwright.Drawing;

/// <summary>Gives the upright stretches of a lane's lines tracks between the columns, no two on one track where they would cover each other.</summary>
internal sealed class LaneTracks
{
    private readonly List<(Conductor Conductor, int Track)>[] _tracks;
    private readonly int[] _counts;

    public LaneTracks(LaneSketch lane, int columns)
    {
        _tracks = [.. Enumerable.Range(0, columns).Select(_ => new List<(Conductor, int)>())];
        _counts = new int[columns];
        for (int gap = 0; gap < columns; gap++) Assign(lane, gap);
    }

    /// <summary>Tracks after a column.</summary>
    public int Count(int gap) => _counts[gap];

    /// <summary>Tells the conductors where their tracks are.</summary>
    public void Place(int gap, double left, double right)
    {
        foreach ((Conductor conductor, int track) in _tracks[gap])
            conductor.TrunkX[gap] = left + ((right - left) * (track + 1) / (_counts[gap] + 1));
    }

    private void Assign(LaneSketch lane, int gap)
    {
        double clear = lane.Lane == Lane.Air ? 14 : 3;
        List<List<(double Low, double High)>> used = [];
        foreach ((Conductor conductor, double low, double high, double lean) in lane.Conductors.Select(c => Stretch(c, gap)).OfType<(Conductor, double, double, double)>().OrderBy(s => s.Item4))
        {
            int track = used.FindIndex(t => t.TrueForAll(u => high + clear < u.Low || low - clear > u.High));
            if (track < 0)
            {
                track = used.Count;
                used.Add([]);
            }

            used[track].Add((low, high));
            _tracks[gap].Add((conductor, track));
        }

        _counts[gap] = used.Count;
    }

    /// <summary>
    /// The stretch of a conductor in a gap, and an order in which two neighbours cross least: what goes up leaves its track later the higher it starts.
    /// </summary>
    private static (Conductor Conductor, double Low, double High, double Lean)? Stretch(Conductor conductor, int gap)
    {
        int last = Math.Max(conductor.Last, conductor.First + 1);
        if (gap < conductor.First || gap >= last) return null;
        double[] left = [.. Heights(conductor, gap, false)], right = [.. Heights(conductor, gap + 1, true)];
        double[] all = [.. left, .. right];
        double from = left.DefaultIfEmpty(0).Average(), to = right.DefaultIfEmpty(from).Average();
        return (conductor, all.Min(), all.Max(), to < from ? from : 10000 - from);
    }

    private static IEnumerable<double> Heights(Conductor conductor, int column, bool leftSide)
    {
        foreach (SketchPort port in conductor.Ports.Where(p => p.Owner.Column == column && p.Left == leftSide)) yield return port.Y;
        if (conductor.PassY.TryGetValue(column, out double y)) yield return y;
    }
}
