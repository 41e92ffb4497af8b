namespace Ventwright.Drawing;

/// <summary>Gives the columns of a lane their distances from the left.</summary>
internal sealed class LanePlacer
{
    private const double Margin = 12, FarthestPull = 150;
    private readonly double _gap, _track, _narrowest;
    private readonly LaneTracks _tracks;

    public LanePlacer(LaneSketch lane, LayoutDetail detail)
    {
        bool full = detail == LayoutDetail.Full;
        (_gap, _track, _narrowest) = full ? (30.0, 9.0, 210) : lane.Lane == Lane.Air ? (8.0, 7.0, 62) : (12.0, 4.5, 84);
        Sketch = lane;
        foreach (Conductor conductor in lane.Conductors.Where(c => c.Ports.Count > 0)) conductor.PassY.Clear();
        Order = new(lane);
        Order.Arrange();
        _tracks = new(lane, Order.Columns.Length);
        Widths = [.. Order.Columns.Select(c => c.Where(x => x.Node is not null).Select(x => x.Node!.Width).DefaultIfEmpty(0).Max())];
    }

    public LaneSketch Sketch { get; }

    public LaneOrder Order { get; }

    /// <summary>Width of each column.</summary>
    public double[] Widths { get; }

    /// <summary>Room that the lane needs from edge to edge.</summary>
    public double Needed => (2 * Margin) + Widths.Sum() + Enumerable.Range(0, Math.Max(0, Widths.Length)).Sum(LeastGap);

    /// <summary>Makes columns narrower, the widest first, until the lane fits or nothing can give way.</summary>
    public void Squeeze(double width)
    {
        while (Needed > width)
        {
            int widest = -1;
            for (int c = 0; c < Widths.Length; c++)
            {
                if (CanGive(c) && (widest < 0 || Widths[c] > Widths[widest])) widest = c;
            }

            if (widest < 0) return;
            Widths[widest] -= Math.Min(2, Widths[widest] - _narrowest);
        }
    }

    /// <summary>Places columns and tracks over the width.</summary>
    /// <param name="width">Width of the drawing.</param>
    /// <param name="wanted">Where a column should start so that it stands under its like in another lane.</param>
    public void Place(double width, IReadOnlyDictionary<int, double> wanted)
    {
        double[] left = Lefts(width, wanted);
        for (int c = 0; c < left.Length; c++)
        {
            foreach (SketchNode node in Order.Columns[c].Select(x => x.Node).OfType<SketchNode>()) PlaceNode(node, left[c], Widths[c]);
            double next = c + 1 < left.Length ? left[c + 1] : Math.Min(width - Margin, left[c] + Widths[c] + LeastGap(c));
            _tracks.Place(c, left[c] + Widths[c], Math.Max(next, left[c] + Widths[c] + 8));
        }
    }

    private static void PlaceNode(SketchNode node, double left, double width)
    {
        if (node.Role == NodeRole.Part || node.Kind == "seal") node.Width = width;
        node.X = left + ((width - node.Width) / 2);
        foreach (SketchNode rider in node.Riders) (rider.X, rider.Width) = (node.X, node.Width);
    }

    private double LeastGap(int column) => column == Widths.Length - 1 && _tracks.Count(column) == 0 ? 0 : _gap + (_track * _tracks.Count(column));

    private bool CanGive(int column) =>
        Widths[column] > _narrowest + 1e-6 && !Order.Columns[column].Exists(c => c.Node is { Role: NodeRole.Module or NodeRole.Control or NodeRole.Space } || c.Node?.Kind == "vent");

    private double[] Lefts(double width, IReadOnlyDictionary<int, double> wanted)
    {
        double[] natural = Spread(0, Widths.Length, Margin, width - Margin);
        int from = 0;
        double at = Margin;
        double[] lefts = [.. natural];
        foreach ((int column, double like) in wanted.OrderBy(w => w.Key))
        {
            double least = at + Packed(from, column), most = width - Margin - Packed(column, Widths.Length);
            if (column == 0 || least > most) continue;
            double x = Math.Clamp(like, least, most);
            if (Math.Abs(x - lefts[column]) > FarthestPull) continue;
            Spread(from, column, at, x).CopyTo(lefts, from);
            (from, at) = (column, x);
            Spread(from, Widths.Length, at, width - Margin).CopyTo(lefts, from);
        }

        return lefts;
    }

    private double Packed(int from, int to) => Enumerable.Range(from, to - from).Sum(c => Widths[c] + LeastGap(c));

    /// <summary>Columns over a stretch, the room that is left shared out between them.</summary>
    private double[] Spread(int from, int to, double left, double right)
    {
        int gaps = to == Widths.Length ? to - from - 1 : to - from;
        double slack = Math.Max(0, right - left - Packed(from, to)) / Math.Max(1, gaps);
        var lefts = new double[to - from];
        double x = left;
        for (int c = from; c < to; c++)
        {
            lefts[c - from] = x;
            x += Widths[c] + LeastGap(c) + slack;
        }

        return lefts;
    }
}
