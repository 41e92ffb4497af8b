using Ventwright.Model.Kernel;
using Ventwright.Numerics;
using Ventwright.Physics.Air;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation;

/// <summary>Who is joined with whom, with the elimination order that follows from it. One for the sheet's own joints and one for each exchange of joints.</summary>
internal sealed class Topology
{
    public Topology(UnitModel model, IReadOnlyList<Rewire> rewires)
    {
        (A, B) = ([.. model.Electric.Select(b => b.A)], [.. model.Electric.Select(b => b.B)]);
        var vacuum = model.Vacuum.Select(b => (b.A, b.B, b.OneWay)).ToArray();
        var air = model.Air.Select(b => (b.A, b.B)).ToArray();
        foreach (Rewire r in rewires)
        {
            switch (r.Domain)
            {
                case Domain.Electric:
                    (r.AtA ? A : B)[r.Branch] = r.Node;
                    break;
                case Domain.Vacuum:
                    vacuum[r.Branch] = r.AtA ? vacuum[r.Branch] with { A = r.Node } : vacuum[r.Branch] with { B = r.Node };
                    break;
                default:
                    air[r.Branch] = r.AtA ? (r.Node, air[r.Branch].B) : (air[r.Branch].A, r.Node);
                    break;
            }
        }

        Vacuum = new(model.Hoses.Length, vacuum);
        VacuumA = [.. vacuum.Select(b => b.A)];
        VacuumB = [.. vacuum.Select(b => b.B)];
        Air = new(Math.Max(1, model.Spaces.Length), air);
        Curved = [.. Enumerable.Range(0, A.Length).Where(i => !IsStraight(model.Electric[i].Law))];
        Felt = [.. Curved.SelectMany(i => new[] { A[i], B[i], model.Electric[i].Control }).Where(n => n > 0).Distinct().Order()];
        Pattern = SparsePattern.Build(model.Nets.Length - 1, Pairs(model), Felt.Select(n => n - 1));
        Step = [-1, .. Pattern.Step];
        AA = [.. A.Select(a => Slot(a, a))];
        BB = [.. B.Select(b => Slot(b, b))];
        AB = [.. A.Zip(B, Slot)];
        BA = [.. A.Zip(B, (a, b) => Slot(b, a))];
        AC = [.. model.Electric.Select((e, i) => Slot(A[i], e.Control))];
        BC = [.. model.Electric.Select((e, i) => Slot(B[i], e.Control))];
        Diagonal = [.. Enumerable.Range(0, model.Nets.Length).Select(n => Slot(n, n))];
    }

    public int[] A { get; }

    public int[] B { get; }

    /// <summary>Branches whose conductance depends on volts.</summary>
    public int[] Curved { get; }

    /// <summary>Nets whose volts such branches depend on.</summary>
    public int[] Felt { get; }

    /// <summary>The nets' matrix; those of <see cref="Felt"/> are eliminated last.</summary>
    public SparsePattern Pattern { get; }

    /// <summary>Step of elimination of each net; -1 for ground.</summary>
    public int[] Step { get; }

    public VacuumNetwork Vacuum { get; }

    public int[] VacuumA { get; }

    public int[] VacuumB { get; }

    public AirNetwork Air { get; }

    public int[] AA { get; }

    public int[] BB { get; }

    public int[] AB { get; }

    public int[] BA { get; }

    public int[] AC { get; }

    public int[] BC { get; }

    public int[] Diagonal { get; }

    private static bool IsStraight(ElectricLaw law) => law is ElectricLaw.Ohmic or ElectricLaw.Thermistor;

    /// <summary>Slot of (row net, column net); -1 where ground or nothing is meant.</summary>
    private int Slot(int row, int column) => row <= 0 || column <= 0 ? -1 : Pattern.Slot(row - 1, column - 1);

    private IEnumerable<(int, int)> Pairs(UnitModel model)
    {
        for (int i = 0; i < A.Length; i++)
        {
            yield return (A[i] - 1, B[i] - 1);
            int control = model.Electric[i].Control;
            if (control <= 0) continue;
            yield return (A[i] - 1, control - 1);
            yield return (B[i] - 1, control - 1);
        }
    }
}
