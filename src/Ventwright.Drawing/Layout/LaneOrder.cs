namespace Ventwright.Drawing;

/// <summary>
/// Orders and heights of a lane's columns, after Sugiyama, Tagawa and Toda (1981), "Methods for Visual Understanding of Hierarchical System
/// Structures": lines that pass a column get a cell there, columns are sorted again and again by the mean height of their neighbours, and the order with
/// the least up and down is kept. Heights are then drawn toward the neighbours as far as order and spacing allow.
/// </summary>
internal sealed class LaneOrder
{
    private const int Sweeps = 12;
    private readonly LaneSketch _lane;

    public LaneOrder(LaneSketch lane)
    {
        _lane = lane;
        int count = lane.Nodes.Select(n => n.Column + 1).DefaultIfEmpty(0).Max();
        Columns = [.. Enumerable.Range(0, count).Select(_ => new List<Cell>())];
        foreach (SketchNode node in lane.Nodes) Columns[node.Column].Add(new() { Node = node });
        foreach (Conductor conductor in lane.Conductors)
        {
            for (int c = conductor.First + 1; c < conductor.Last; c++) Columns[c].Add(new() { Pass = conductor });
        }
    }

    /// <summary>Cells of each column from top to bottom.</summary>
    public List<Cell>[] Columns { get; private set; }

    /// <summary>Height of the highest column.</summary>
    public double Height { get; private set; }

    public void Arrange()
    {
        foreach (Conductor conductor in _lane.Conductors) SetSides(conductor);
        foreach (SketchNode module in _lane.Nodes.Where(n => n.Role == NodeRole.Module)) ModulePins.Arrange(module);
        Pack();
        SpreadPorts();
        (double Cost, List<Cell>[] Columns) best = (Cost(), Copy());
        for (int sweep = 0; sweep < Sweeps; sweep++)
        {
            Sort(rightward: sweep % 2 == 0);
            SpreadPorts();
            if (Cost() is var cost && cost < best.Cost - 1e-6) best = (cost, Copy());
        }

        Columns = best.Columns;
        Pack();
        SpreadPorts();
        Height = Columns.Select(Extent).DefaultIfEmpty(0).Max();
        for (int round = 0; round < 6; round++) Straighten(rightward: round % 2 == 0);
        SpreadPorts();
        MoveToTop();
    }

    private static void SetSides(Conductor conductor)
    {
        int first = conductor.First;
        bool allThere = conductor.Last == first;
        foreach (SketchPort port in conductor.Ports) port.Left = !allThere && port.Owner.Column != first;
    }

    private List<Cell>[] Copy() => [.. Columns.Select(c => c.ToList())];

    private static double Extent(List<Cell> column) => column.Sum(c => c.Height + c.Gap);

    private void Pack()
    {
        double tallest = Columns.Select(Extent).DefaultIfEmpty(0).Max();
        for (int c = 0; c < Columns.Length; c++)
        {
            double y = (tallest - Extent(Columns[c])) / 2;
            foreach (Cell cell in Columns[c])
            {
                cell.MoveTo(y, c);
                y += cell.Height + cell.Gap;
            }
        }
    }

    private void Sort(bool rightward)
    {
        for (int i = 0; i < Columns.Length; i++)
        {
            int c = rightward ? i : Columns.Length - 1 - i;
            var keys = Columns[c].ToDictionary(cell => cell, cell => Wanted(cell, c, rightward) ?? cell.Middle);
            Columns[c] = [.. Columns[c].OrderBy(cell => keys[cell])];
            PackColumn(c);
        }
    }

    private void PackColumn(int c)
    {
        double y = Columns[c].Select(cell => cell.Y).DefaultIfEmpty(0).Min();
        foreach (Cell cell in Columns[c])
        {
            cell.MoveTo(y, c);
            y += cell.Height + cell.Gap;
        }
    }

    /// <summary>Mean height of what a cell is joined with on one side, moved so that its own port meets it; null if there is nothing.</summary>
    private static double? Wanted(Cell cell, int column, bool fromLeft)
    {
        IEnumerable<(Conductor Conductor, double Own)> lines = cell.Node is null
            ? [(cell.Pass!, cell.Middle)] : cell.Node.Ports.Where(p => p.Conductor is not null).Select(p => (p.Conductor!, p.Y));
        double sum = 0;
        int count = 0;
        foreach ((Conductor conductor, double own) in lines)
        {
            foreach (double y in Neighbours(conductor, column + (fromLeft ? -1 : 1)))
            {
                sum += y - own;
                count++;
            }
        }

        return count == 0 ? null : cell.Middle + (sum / count);
    }

    private static IEnumerable<double> Neighbours(Conductor conductor, int column)
    {
        foreach (SketchPort port in conductor.Ports.Where(p => p.Owner.Column == column)) yield return port.Y;
        if (conductor.PassY.TryGetValue(column, out double y)) yield return y;
    }

    /// <summary>Total up and down of all lines.</summary>
    private double Cost() => _lane.Conductors.Sum(c =>
        Enumerable.Range(c.First, Math.Max(1, c.Last - c.First)).Sum(g => Neighbours(c, g).Concat(Neighbours(c, g + 1)).ToList() is { Count: > 0 } all ? all.Max() - all.Min() : 0));

    private void Straighten(bool rightward)
    {
        for (int i = 0; i < Columns.Length; i++)
        {
            int c = rightward ? i : Columns.Length - 1 - i;
            double[] wanted = [.. Columns[c].Select(cell => (Wanted(cell, c, rightward) ?? cell.Middle) - (cell.Height / 2))];
            double[] placed = Spacing.Place(wanted, [.. Columns[c].Select(cell => cell.Height + cell.Gap)], Height);
            for (int k = 0; k < placed.Length; k++) Columns[c][k].MoveTo(placed[k], c);
        }
    }

    /// <summary>Shares out a node's ports along its sides, in the order of the heights that they lead to.</summary>
    private void SpreadPorts()
    {
        foreach (SketchNode node in _lane.Nodes.Where(n => n.Role != NodeRole.Module))
        {
            foreach (var side in node.Ports.Where(p => p.Conductor is not null).GroupBy(p => p.Left))
            {
                SketchPort[] ports = [.. side.OrderBy(p => Aim(p))];
                for (int i = 0; i < ports.Length; i++) ports[i].Offset = node.Height * (i + 1) / (ports.Length + 1);
            }

            SketchPort[] marks = [.. node.Ports.Where(p => p.Conductor is null)];
            for (int i = 0; i < marks.Length; i++) (marks[i].Left, marks[i].Offset, marks[i].Inset) = (false, node.Height, 8 + (8 * i));
        }
    }

    private static double Aim(SketchPort port)
    {
        int column = port.Owner.Column + (port.Left ? -1 : 1);
        return Neighbours(port.Conductor!, column).DefaultIfEmpty(port.Owner.Y).Average();
    }

    private void MoveToTop()
    {
        double top = Columns.SelectMany(c => c).Select(c => c.Y).DefaultIfEmpty(0).Min();
        for (int c = 0; c < Columns.Length; c++)
        {
            foreach (Cell cell in Columns[c]) cell.MoveTo(cell.Y - top, c);
        }

        Height = Columns.SelectMany(c => c).Select(c => c.Y + c.Height).DefaultIfEmpty(0).Max();
    }
}
