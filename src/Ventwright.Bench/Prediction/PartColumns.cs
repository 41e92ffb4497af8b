using Ventwright.Model.Kernel;

namespace Ventwright.Bench;

/// <summary>For each part: the checks that look at it or at a net, hose or flap next to it, as bits.</summary>
internal sealed class PartColumns
{
    private readonly ulong[][] _columns;

    /// <summary>Finds the checks around each part.</summary>
    public PartColumns(UnitModel model, IReadOnlyList<Observable> checks)
    {
        _columns = [.. model.Parts.Select(_ => new ulong[(checks.Count + 63) / 64])];
        ILookup<string, int> byTarget = checks.Select((what, column) => (what, column))
            .SelectMany(p => p.what.Second is null ? [(p.what.Target, p.column)] : ((string, int)[])[(p.what.Target, p.column), (p.what.Second, p.column)])
            .ToLookup(p => p.Item1, p => p.Item2, StringComparer.Ordinal);
        foreach ((int part, string name) in Around(model).Distinct())
        {
            foreach (int column in byTarget[name]) _columns[part][column / 64] |= 1UL << (column % 64);
        }
    }

    /// <summary>The checks around a part.</summary>
    public ulong[] Of(int part) => _columns[part];

    private static IEnumerable<(int Part, string Name)> Around(UnitModel model)
    {
        for (int i = 0; i < model.Parts.Length; i++) yield return (i, model.Parts[i].Id);
        foreach (ElectricBranch b in model.Electric)
        {
            // Ground is at every part; what matters is the other end.
            foreach (int net in (int[])[b.A, b.B]) if (net > 0) yield return (b.Part, model.Nets[net]);
        }

        foreach (VacuumBranch b in model.Vacuum)
        {
            foreach (int hose in (int[])[b.A, b.B]) if (hose > 0) yield return (b.Part, model.Hoses[hose]);
        }

        foreach (Point p in model.Points) yield return (p.Part, p.What.Target);
    }
}
