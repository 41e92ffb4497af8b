using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>What the checks of one setting show: the sound unit with its bands, and each set of faults that was asked for. Thread-safe.</summary>
/// <remarks>
/// A fault that alone changes nothing at all in the setting (no net, no hose, no flap, no reading) is left out of a larger set, and the set settled without
/// it, unless another member changes something that can be seen at the part itself: that may wake it. docs/physics.md says how often that is wrong.
/// </remarks>
internal sealed class SettingTable
{
    /// <summary>Change, as a share, that may wake an idle fault next to it; a supply that sags a little does not.</summary>
    private const double WakingShare = 0.02;

    /// <summary>Random units with the faults of a set that is about to be believed.</summary>
    private const int FaultyUnits = 32;

    private readonly Simulator _simulator;
    private readonly Setting _setting;
    private readonly Readout _readout;
    private readonly Dictionary<Observable, int> _columns;
    private readonly Lazy<(Row Row, Settled Settled)> _sound;
    private readonly Lazy<CheckSpread[]> _spreads;
    private readonly ConcurrentDictionary<int, Band> _bands = [];
    private readonly PartColumns _around;
    private readonly ConcurrentDictionary<FaultSet, Row> _rows = new();
    private readonly ConcurrentDictionary<FaultSet, Lazy<CheckSpread[]>> _ownSpreads = new();

    /// <summary>Makes an empty table.</summary>
    public SettingTable(Simulator simulator, Setting setting, IReadOnlyList<Observable> checks)
    {
        (_simulator, _setting, _readout) = (simulator, setting, new(simulator, checks));
        _around = new(simulator.Model, checks);
        _columns = checks.Select((what, column) => (what, column)).ToDictionary(p => p.what, p => p.column);
        _sound = new(() =>
        {
            Settled rest = simulator.Settle(setting, []);
            return (new Row(Values([], rest), []), rest);
        });
        _spreads = new(() => ToleranceSample.Of(simulator, setting, _readout, Sound.Values));
    }

    /// <summary>The checks, by column.</summary>
    public IReadOnlyList<Observable> Checks => _readout.Checks;

    /// <summary>The sound unit.</summary>
    public Row Sound => _sound.Value.Row;

    /// <summary>How far sound units lie from the nominal one, by column.</summary>
    public IReadOnlyList<CheckSpread> Spreads => _spreads.Value;

    /// <summary>How far units with a set of faults lie from the nominal one with the same faults, by column; worked out on first use.</summary>
    public CheckSpread[] SpreadsOf(FaultSet faults) => _ownSpreads.GetOrAdd(faults, set => new(() =>
        ToleranceSample.Of(_simulator, _setting, [.. set.Select(f => _simulator.Model.Faults[f])], _readout, Of(set).Values, FaultyUnits))).Value;

    /// <summary>Band of the sound unit at a column, for people to see.</summary>
    public Band Band(int column) => _bands.GetOrAdd(column, c => Bands.Of(_simulator, _setting, [], [Checks[c]])[0]);

    /// <summary>Column of a check, or -1.</summary>
    public int Column(Observable what) => _columns.GetValueOrDefault(what, -1);

    /// <summary>What a set of faults makes the checks show; the very row of <see cref="Sound"/> when it changes nothing.</summary>
    public Row Of(FaultSet faults)
    {
        if (faults.IsEmpty) return Sound;
        if (_rows.TryGetValue(faults, out Row? known)) return known;
        return _rows.GetOrAdd(faults, faults.Count == 1 ? Settle(faults) : Larger(faults));
    }

    private Row Larger(FaultSet faults)
    {
        var acting = new List<int>(faults.Count);
        for (int i = 0; i < faults.Count; i++)
        {
            if (!Idle(faults, i)) acting.Add(faults[i]);
        }

        return acting.Count < faults.Count ? Of(FaultSet.Of(acting)) : Settle(faults);
    }

    /// <summary>Whether a member does nothing in the setting: alone it changes nothing, and no other member changes anything that can be seen at its part.</summary>
    private bool Idle(FaultSet faults, int member)
    {
        if (!ReferenceEquals(Of(FaultSet.One(faults[member])), Sound)) return false;
        ulong[] around = _around.Of(_simulator.Model.Faults[faults[member]].Part);
        for (int i = 0; i < faults.Count; i++)
        {
            if (i != member && Of(FaultSet.One(faults[i])).Touches(around)) return false;
        }

        return true;
    }

    private Row Settle(FaultSet set)
    {
        Fault[] faults = [.. set.Select(f => _simulator.Model.Faults[f])];
        Settled settled = _simulator.Settle(_setting, faults);
        double[] values = Values(faults, settled);
        double[] sound = Sound.Values;
        ulong[] changed = new ulong[(values.Length + 63) / 64];
        bool any = false;
        for (int i = 0; i < values.Length; i++)
        {
            if (SameValue(values[i], sound[i])) continue;
            any = true;
            if (!(Math.Abs(values[i] - sound[i]) < WakingShare * (1 + Math.Abs(sound[i])))) changed[i / 64] |= 1UL << (i % 64);
        }

        return !any && settled.SameAs(_sound.Value.Settled) ? Sound : new Row(values, changed);
    }

    /// <summary>Whether two readings are the same but for rounding.</summary>
    public static bool SameValue(double a, double b) => a.Equals(b) || Math.Abs(a - b) < 1e-6 * (1 + Math.Abs(a));

    private double[] Values(Fault[] faults, Settled settled) =>
        [.. _readout.Read(_setting, faults, settled).Select(s => s.Unsteady ? double.NaN : s.Value)];

    /// <summary>One row of the table.</summary>
    /// <param name="Values">Quantities in SI, by column; NaN where nothing steady is shown.</param>
    /// <param name="Changed">Columns that differ clearly from the sound unit, as bits; empty for the sound unit.</param>
    public sealed record Row(double[] Values, ulong[] Changed)
    {
        /// <summary>Whether any of the columns given as bits is changed.</summary>
        public bool Touches(ulong[] columns)
        {
            for (int i = 0; i < Changed.Length; i++)
            {
                if ((Changed[i] & columns[i]) != 0) return true;
            }

            return false;
        }

        private Prediction?[]? _predictions;

        /// <summary>The prediction of a column, made on first use.</summary>
        public Prediction Prediction(int column, Func<int, Prediction> make)
        {
            _predictions ??= new Prediction?[Values.Length];
            return _predictions[column] ??= make(column);
        }
    }
}
