using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Drawing;

/// <summary>What everything of a unit shows in one setting, ready to be drawn. Immutable.</summary>
public sealed class DrawingState
{
    internal DrawingState(Verdict verdict, string note, string flowUnit, IEnumerable<NetState> nets, IEnumerable<HoseState> hoses, IReadOnlyList<AirState> air, IEnumerable<PartState> parts)
    {
        (Verdict, Note, FlowUnit, Air) = (verdict, note, flowUnit, air);
        Nets = nets.ToDictionary(n => n.Net, StringComparer.Ordinal);
        Hoses = hoses.ToDictionary(h => h.Hose, StringComparer.Ordinal);
        Parts = parts.ToDictionary(p => p.Id, StringComparer.Ordinal);
    }

    /// <summary>Unit that flows are written in.</summary>
    public string FlowUnit { get; }

    /// <summary>How the settling ended.</summary>
    public Verdict Verdict { get; }

    /// <summary>What is to be said about it; empty when settled.</summary>
    public string Note { get; }

    /// <summary>Nets by name.</summary>
    public IReadOnlyDictionary<string, NetState> Nets { get; }

    /// <summary>Hoses by name.</summary>
    public IReadOnlyDictionary<string, HoseState> Hoses { get; }

    /// <summary>Air branches, in the order of the model.</summary>
    public IReadOnlyList<AirState> Air { get; }

    /// <summary>Parts by id, and controls as <c>control:name</c>.</summary>
    public IReadOnlyDictionary<string, PartState> Parts { get; }

    /// <summary>Reads a settled unit.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="setting">How it stands on the bench.</param>
    /// <param name="faults">Faults that it was settled with.</param>
    /// <param name="settled">The unit at rest there.</param>
    /// <param name="units">Units to write in.</param>
    public static DrawingState Of(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, UnitSystem units = UnitSystem.Metric)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        ArgumentNullException.ThrowIfNull(setting);
        ArgumentNullException.ThrowIfNull(settled);
        return new StateReader(simulator, setting, faults, settled, units).Read();
    }

    /// <summary>Settles a unit and reads it.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="setting">How it stands on the bench.</param>
    /// <param name="faults">Faults that are there; null for a sound unit.</param>
    /// <param name="units">Units to write in.</param>
    public static DrawingState Of(Simulator simulator, Setting setting, IReadOnlyList<Fault>? faults = null, UnitSystem units = UnitSystem.Metric)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        return Of(simulator, setting, faults ?? [], simulator.Settle(setting, faults ?? []), units);
    }
}
