using System.Collections.Concurrent;
using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>Puts questions to a model: settles it in a setting with a set of faults. Thread-safe.</summary>
public sealed class Simulator
{
    private readonly ConcurrentDictionary<string, (Topology Topology, ConcurrentBag<Settler> Idle)> _topologies = new(StringComparer.Ordinal);

    /// <summary>Makes a simulator for a model.</summary>
    public Simulator(UnitModel model) => Model = model;

    /// <summary>The model.</summary>
    public UnitModel Model { get; }

    /// <summary>The unit at rest in a setting.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there; none for a sound unit.</param>
    /// <param name="from">What it stood like before, for hysteresis; null for a unit just laid on the bench.</param>
    public Settled Settle(Setting setting, IReadOnlyList<Fault> faults, Settled? from = null) => Settle(setting, faults, Parameters(setting, faults), from);

    /// <summary>Ohms between two nets, as a meter reads them with the supply off.</summary>
    /// <exception cref="ArgumentException">A net does not exist.</exception>
    public double Ohms(Setting setting, IReadOnlyList<Fault> faults, string net, string other) => Ohms(setting, faults, Parameters(setting, faults), net, other);

    internal Settled Settle(Setting setting, IReadOnlyList<Fault> faults, double[] parameters, Settled? from = null) =>
        With(faults, settler => settler.Settle(parameters, setting, from));

    internal double Ohms(Setting setting, IReadOnlyList<Fault> faults, double[] parameters, string net, string other)
    {
        int a = Array.IndexOf(Model.Nets, net), b = Array.IndexOf(Model.Nets, other);
        if (a < 0 || b < 0) throw new ArgumentException($"no net '{(a < 0 ? net : other)}'", nameof(net));
        return Ohms(setting, faults, parameters, [(a, b)])[0];
    }

    internal double[] Ohms(Setting setting, IReadOnlyList<Fault> faults, double[] parameters, IReadOnlyList<(int A, int B)> pairs) =>
        With(faults, settler => settler.Ohms(parameters, setting, pairs));

    /// <summary>Nominal parameters with the edits of faults and setting made.</summary>
    internal double[] Parameters(Setting setting, IReadOnlyList<Fault> faults)
    {
        double[] p = (double[])Model.Parameters.Clone();
        foreach (Fault fault in faults) Apply(p, fault.Edits);
        Apply(p, setting.Edits);
        return p;
    }

    /// <summary>A copy of parameters with some edits made.</summary>
    internal static double[] With(double[] p, IEnumerable<Edit> edits)
    {
        double[] copy = (double[])p.Clone();
        Apply(copy, edits);
        return copy;
    }

    private static void Apply(double[] p, IEnumerable<Edit> edits)
    {
        foreach (Edit edit in edits)
        {
            p[edit.Parameter] = edit.Kind switch
            {
                EditKind.Set => edit.Value,
                EditKind.Scale => p[edit.Parameter] * edit.Value,
                _ => p[edit.Parameter] + edit.Value,
            };
        }
    }

    private T With<T>(IReadOnlyList<Fault> faults, Func<Settler, T> ask)
    {
        (Topology topology, ConcurrentBag<Settler> idle) = Joined(faults);
        if (!idle.TryTake(out Settler? settler)) settler = new(Model, topology);
        T answer = ask(settler);
        idle.Add(settler);
        return answer;
    }

    /// <summary>Who is joined with whom under some faults.</summary>
    internal Topology TopologyOf(IReadOnlyList<Fault> faults) => Joined(faults).Topology;

    private (Topology Topology, ConcurrentBag<Settler> Idle) Joined(IReadOnlyList<Fault> faults)
    {
        Rewire[] rewires = [.. faults.SelectMany(f => f.Rewires)];
        string key = rewires.Length == 0 ? "" : string.Join(';', faults.Where(f => f.Rewires.Length > 0).Select(f => f.Id));
        return _topologies.GetOrAdd(key, _ => (new Topology(Model, rewires), []));
    }
}
