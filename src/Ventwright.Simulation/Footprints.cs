using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>
/// What a set of faults clearly moves, as bits over nets, electrical branches, variables, hoses, air branches and signals of the module; and what lies around each
/// fault. Two faults of which neither moves anything that the other moves or lies next to do not work on each other. Thread-safe.
/// </summary>
internal sealed class Footprints
{
    /// <summary>A change below this share of a value is no touch: a supply that sags a little wakes nothing.</summary>
    private const double Share = 0.02, SignalShare = 0.01;

    /// <summary>Changes of a volt, an ampere, a position or state, a pascal, a cubic metre a second, a signal that count for nothing, whatever the value.</summary>
    private const double Volt = 0.02, Ampere = 1e-6, State = 0.005, Pascal = 50, Flow = 1e-4, Signal = 1e-3;

    private readonly UnitModel _model;
    private readonly int _amps, _variables, _hoses, _air, _signals;
    private readonly ulong[][] _around, _parts;

    /// <summary>Numbers the elements of a model.</summary>
    public Footprints(UnitModel model)
    {
        _model = model;
        _amps = model.Nets.Length;
        _variables = _amps + model.Electric.Length;
        _hoses = _variables + model.Variables.Length;
        _air = _hoses + model.Hoses.Length;
        _signals = _air + model.Air.Length;
        Width = (_signals + (model.Module?.SignalNames.Length ?? 0) + 63) / 64;
        _parts = [.. model.Parts.Select(_ => new ulong[Width])];
        foreach ((int part, int element) in Elements()) Set(_parts[part], element);
        _around = [.. model.Faults.Select(f => Around(f, _parts))];
    }

    /// <summary>Words of 64 bits in a footprint.</summary>
    public int Width { get; }

    /// <summary>The elements of a fault's part and the nets and hoses that it sits on (ground and atmosphere are everywhere and do not count).</summary>
    /// <param name="fault">Index of the fault.</param>
    public ulong[] Around(int fault) => _around[fault];

    /// <summary>Whether a fault's part and the nets and hoses that it sits on share anything with a part.</summary>
    /// <param name="fault">Index of the fault.</param>
    /// <param name="part">Index of the part.</param>
    public bool Touches(int fault, int part) => Meet(_around[fault], _parts[part]);

    /// <summary>The elements that differ clearly between a unit with faults and the sound one; all of them when either does not come to rest.</summary>
    public ulong[] Of(Settled faulty, Settled sound)
    {
        ulong[] bits = new ulong[Width];
        if (faulty.Verdict != Verdict.Settled || sound.Verdict != Verdict.Settled)
        {
            Array.Fill(bits, ulong.MaxValue);
            return bits;
        }

        Mark(bits, 0, faulty.Volts, sound.Volts, Share, Volt);
        for (int n = 0; n < faulty.Floating.Length; n++) if (faulty.Floating[n] != sound.Floating[n]) Set(bits, n);
        Mark(bits, _amps, faulty.Amps, sound.Amps, Share, Ampere);
        Mark(bits, _variables, faulty.Variables, sound.Variables, Share, State);
        Mark(bits, _hoses, faulty.DepressionPa, sound.DepressionPa, Share, Pascal);
        Mark(bits, _air, faulty.AirFlow, sound.AirFlow, Share, Flow);
        // The module compares its signals with thresholds: two small pushes may add up to a large step.
        Mark(bits, _signals, faulty.Signals, sound.Signals, SignalShare, Signal);
        return bits;
    }

    /// <summary>Whether two footprints share an element.</summary>
    public static bool Meet(ulong[] one, ulong[] other)
    {
        for (int i = 0; i < one.Length; i++)
        {
            if ((one[i] & other[i]) != 0) return true;
        }

        return false;
    }

    /// <summary>Adds all elements of another footprint.</summary>
    public static void Join(ulong[] bits, ulong[] other)
    {
        for (int i = 0; i < bits.Length; i++) bits[i] |= other[i];
    }

    private static void Mark(ulong[] bits, int first, double[] faulty, double[] sound, double share, double least)
    {
        for (int i = 0; i < faulty.Length; i++)
        {
            if (!faulty[i].Equals(sound[i]) && !(Math.Abs(faulty[i] - sound[i]) <= (share * Math.Abs(sound[i])) + least)) Set(bits, first + i);
        }
    }

    /// <summary>Adds an element.</summary>
    public static void Set(ulong[] bits, int element) => bits[element / 64] |= 1UL << (element % 64);

    private ulong[] Around(Fault fault, ulong[][] parts)
    {
        if (fault.Rewires.Length == 0) return parts[fault.Part];
        ulong[] bits = [.. parts[fault.Part]];
        foreach (Rewire rewire in fault.Rewires)
        {
            Join(bits, parts[rewire.Domain switch { Domain.Electric => _model.Electric[rewire.Branch].Part, Domain.Vacuum => _model.Vacuum[rewire.Branch].Part, _ => _model.Air[rewire.Branch].Part }]);
        }

        return bits;
    }

    private IEnumerable<(int Part, int Element)> Elements()
    {
        for (int i = 0; i < _model.Electric.Length; i++)
        {
            ElectricBranch b = _model.Electric[i];
            yield return (b.Part, _amps + i);
            if (b.A > 0) yield return (b.Part, b.A);
            if (b.B > 0) yield return (b.Part, b.B);
        }

        for (int i = 0; i < _model.Vacuum.Length; i++)
        {
            VacuumBranch b = _model.Vacuum[i];
            if (b.A > 0) yield return (b.Part, _hoses + b.A);
            if (b.B > 0) yield return (b.Part, _hoses + b.B);
        }

        for (int i = 0; i < _model.Variables.Length; i++) if (_model.Variables[i].Part >= 0) yield return (_model.Variables[i].Part, _variables + i);
        for (int i = 0; i < _model.Air.Length; i++) yield return (_model.Air[i].Part, _air + i);
    }
}
