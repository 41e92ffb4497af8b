using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>What the checks of one setting show: the sound unit with its bands, each single fault that was asked for, and sets of faults, which others keep. Thread-safe.</summary>
/// <remarks>
/// A set is split into groups that do not work on each other (<see cref="Footprints"/>): each group is settled by itself and the changes are put together.
/// docs/physics.md says how often that is wrong.
/// </remarks>
internal sealed class SettingTable
{
    /// <summary>Change of a reading, as a share, that two groups may not both make; resistances and leaks do not add up, however small the change.</summary>
    private const double ClearShare = 0.02, AnyShare = 1e-6;

    /// <summary>Random units with the faults of a set that is about to be believed.</summary>
    private const int FaultyUnits = 32;

    private readonly Simulator _simulator;
    private readonly Setting _setting;
    private readonly Readout _readout;
    private readonly Dictionary<Observable, int> _columns;
    private readonly Lazy<(Row Row, Settled Settled)> _sound;
    private readonly Lazy<int[]> _soundRests, _standsWhereWanted;
    private readonly Lazy<CheckSpread[]> _spreads;
    private readonly Lazy<Band[]> _bands;
    private readonly Footprints _footprints;
    private readonly Bystanders _bystanders;
    private readonly ConcurrentDictionary<int, Row> _singles = new();
    private readonly ConcurrentDictionary<int, Lazy<CheckSpread[]>> _singleSpreads = new();

    /// <summary>Makes an empty table.</summary>
    public SettingTable(Simulator simulator, Footprints footprints, Setting setting, IReadOnlyList<Observable> checks)
    {
        (_simulator, _footprints, _setting, _readout) = (simulator, footprints, setting, new(simulator, checks));
        _bystanders = new(this, footprints, simulator.Model.Faults.Length);
        _columns = checks.Select((what, column) => (what, column)).ToDictionary(p => p.what, p => p.column);
        _sound = new(() =>
        {
            Settled rest = simulator.Settle(setting, []);
            return (new Row(Values([], rest), new ulong[footprints.Width], new ulong[(checks.Count + 63) / 64]), rest);
        });
        _soundRests = new(() => WhereverLeft([], _sound.Value.Settled, [.. ServoPlaces.Resting(simulator.Model, _sound.Value.Settled)]));
        _standsWhereWanted = new(() => [.. ServoPlaces.Resting(simulator.Model, _sound.Value.Settled).Except(_soundRests.Value)]);
        _bands = new(() => Bands.Of(simulator, setting, [], checks));
        _spreads = new(() => ToleranceSample.Of(simulator, setting, _readout, Sound.Values));
    }

    /// <summary>The checks, by column.</summary>
    public IReadOnlyList<Observable> Checks => _readout.Checks;

    /// <summary>The sound unit.</summary>
    public Row Sound => _sound.Value.Row;

    /// <summary>How far sound units lie from the nominal one, by column.</summary>
    public IReadOnlyList<CheckSpread> Spreads => _spreads.Value;

    /// <summary>How far units with one fault or more lie from the nominal one with the same faults, by column; worked out on first use.</summary>
    public CheckSpread[] SpreadsOf(FaultSet faults, SetShelf sets)
    {
        return faults.Count > 1 ? sets.Spreads(this, faults, Make) : _singleSpreads.GetOrAdd(faults[0], _ => new(Make)).Value;

        CheckSpread[] Make() => ToleranceSample.Of(_simulator, _setting, [.. faults.Select(f => _simulator.Model.Faults[f])], _readout, Of(faults, sets).Values, FaultyUnits);
    }

    /// <summary>Band of the sound unit at a column, for people to see.</summary>
    public Band Band(int column) => _bands.Value[column];

    /// <summary>Column of a check, or -1.</summary>
    public int Column(Observable what) => _columns.GetValueOrDefault(what, -1);

    /// <summary>Whether a fault that changes nothing at a column of the nominal unit may change it in another unit within the tolerances.</summary>
    public bool MayAct(int fault, int column) => _bystanders.Include(fault, column);

    /// <summary>What a set of faults makes the checks show; the very row of <see cref="Sound"/> when it changes nothing.</summary>
    /// <param name="faults">The set.</param>
    /// <param name="sets">Where sets of several faults are kept.</param>
    public Row Of(FaultSet faults, SetShelf sets) => faults.Count switch
    {
        0 => Sound,
        1 => Of(faults[0]),
        _ => sets.Row(this, faults, () => Larger(faults, sets)),
    };

    /// <summary>What a single fault makes the checks show; the very row of <see cref="Sound"/> when it changes nothing.</summary>
    public Row Of(int fault) => _singles.TryGetValue(fault, out Row? known) ? known : _singles.GetOrAdd(fault, Settle(FaultSet.One(fault)));

    /// <summary>A set of several faults: settled as one if they work on each other, else put together from its groups.</summary>
    private Row Larger(FaultSet faults, SetShelf sets)
    {
        List<FaultSet> groups = Groups(faults);
        if (groups.Count == 1) return Settle(faults);
        Row[] rows = [.. groups.Select(g => Of(g, sets)).Where(r => !ReferenceEquals(r, Sound)).Distinct()];
        // A group may reach further than its members one by one.
        for (int i = 0; i < rows.Length; i++)
        {
            for (int k = 0; k < i; k++) if (rows[i].Meets(rows[k])) return Settle(faults);
        }

        return rows.Length switch { 0 => Sound, 1 => rows[0], _ => Row.Together(Sound, rows) };
    }

    private List<FaultSet> Groups(FaultSet faults)
    {
        var groups = new List<FaultSet>(faults.Count);
        for (int i = 0; i < faults.Count; i++)
        {
            var joined = FaultSet.One(faults[i]);
            for (int g = groups.Count - 1; g >= 0; g--)
            {
                int fault = faults[i];
                if (!groups[g].Any(other => WorkOnEachOther(fault, other))) continue;
                joined = FaultSet.Of(joined.Concat(groups[g]));
                groups.RemoveAt(g);
            }

            groups.Add(joined);
        }

        return groups;
    }

    private bool WorkOnEachOther(int a, int b)
    {
        if (_simulator.Model.Faults[a].Part == _simulator.Model.Faults[b].Part) return true;
        Row one = Of(a), other = Of(b);
        return one.Meets(other) || Footprints.Meet(one.Moved, _footprints.Around(b)) || Footprints.Meet(other.Moved, _footprints.Around(a));
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
            double share = Checks[i].Kind is ObservableKind.Ohms or ObservableKind.Falls ? AnyShare : ClearShare;
            if (!(Math.Abs(values[i] - sound[i]) < share * (1 + Math.Abs(sound[i])))) Footprints.Set(changed, i);
        }

        Settled[] elsewhere = Elsewhere(set, faults, settled);
        if (!any && elsewhere.Length == 0 && settled.SameAs(_sound.Value.Settled)) return Sound;
        ulong[] moved = _footprints.Of(settled, _sound.Value.Settled);
        foreach (Settled other in elsewhere) Footprints.Join(moved, _footprints.Of(other, _sound.Value.Settled));
        return new(values, moved, changed) { Elsewhere = [.. elsewhere.Select(e => Values(faults, e))] };
    }

    /// <summary>The unit with the servos that a fault keeps from moving left in other places.</summary>
    private Settled[] Elsewhere(FaultSet set, Fault[] faults, Settled settled)
    {
        if (_setting.State != PointState.Running || settled.Verdict != Verdict.Settled) return [];
        UnitModel model = _simulator.Model;
        int[] resting = [.. ServoPlaces.Resting(model, settled)], touched = [.. resting.Where(s => set.Any(f => _footprints.Touches(f, model.Variables[s].Part)))];
        int[] others = settled.SameAs(_sound.Value.Settled) ? [] : [.. resting.Except(touched).Except(_soundRests.Value)];
        // One that stands where it is wanted, as in the sound unit, may be driven there from elsewhere.
        if (others.Intersect(_standsWhereWanted.Value).Any()) others = WhereverLeft(faults, settled, others);
        int[] kept = [.. touched.Union(others).Order()];
        return kept.Length == 0 ? [] : [.. ServoPlaces.Elsewhere(model, settled.Parameters, kept).Select(p => _simulator.Settle(_setting, faults, p))];
    }

    /// <summary>Those of some resting servos that rest wherever they are left.</summary>
    private int[] WhereverLeft(Fault[] faults, Settled settled, int[] resting)
    {
        if (resting.Length == 0) return resting;
        Settled elsewhere = _simulator.Settle(_setting, faults, ServoPlaces.Elsewhere(_simulator.Model, settled.Parameters, resting).First());
        return [.. resting.Intersect(ServoPlaces.Resting(_simulator.Model, elsewhere))];
    }

    /// <summary>Whether two readings are the same but for rounding.</summary>
    public static bool SameValue(double a, double b) => a.Equals(b) || Math.Abs(a - b) < 1e-6 * (1 + Math.Abs(a));

    private double[] Values(Fault[] faults, Settled settled) =>
        [.. _readout.Read(_setting, faults, settled).Select(s => s.Unsteady ? double.NaN : s.Value)];

    /// <summary>One row of the table.</summary>
    /// <param name="Values">Quantities in SI, by column; NaN where nothing steady is shown.</param>
    /// <param name="Moved">What differs clearly from the sound unit inside it, as <see cref="Footprints"/> has it.</param>
    /// <param name="Changed">Columns that differ clearly from the sound unit, as bits.</param>
    public sealed record Row(double[] Values, ulong[] Moved, ulong[] Changed)
    {
        private Prediction?[]? _predictions;

        /// <summary>Values by column with the servos that do not move left in other places than the nominal one, all as likely; none where all servos move.</summary>
        public double[][] Elsewhere { get; init; } = [];

        /// <summary>What a column shows, SI, each as likely: the nominal value and, where it depends on where servos were left, one for each other place.</summary>
        public double[] At(int column) =>
            Array.TrueForAll(Elsewhere, e => SameValue(e[column], Values[column])) ? [Values[column]] : [Values[column], .. Elsewhere.Select(e => e[column])];

        /// <summary>Whether a column shows what the sound unit shows, wherever servos were left.</summary>
        public bool IsSound(Row sound, int column) =>
            ReferenceEquals(this, sound) || (SameValue(Values[column], sound.Values[column]) && Array.TrueForAll(Elsewhere, e => SameValue(e[column], sound.Values[column])));

        /// <summary>Rows that it was put together from; the prediction of a column that only one of them changes is that one's.</summary>
        private Row[] _from = [];
        private Row? _sound;

        /// <summary>Whether two rows move or show something in common.</summary>
        public bool Meets(Row other) => Footprints.Meet(Moved, other.Moved) || Footprints.Meet(Changed, other.Changed);

        /// <summary>The row of a unit with the faults of several rows that do not work on each other: clear changes as they are, small ones added up.</summary>
        public static Row Together(Row sound, Row[] rows)
        {
            int places = rows.Max(r => r.Elsewhere.Length);
            ulong[] moved = new ulong[sound.Moved.Length], changed = new ulong[sound.Changed.Length];
            foreach (Row row in rows)
            {
                Footprints.Join(moved, row.Moved);
                Footprints.Join(changed, row.Changed);
            }

            return new(Sum(sound.Values, [.. rows.Select(r => r.Values)]), moved, changed)
            {
                _from = rows,
                _sound = sound,
                Elsewhere = [.. Enumerable.Range(0, places).Select(p => Sum(sound.Values, [.. rows.Select(r => r.Elsewhere.Length > 0 ? r.Elsewhere[p] : r.Values)]))],
            };
        }

        /// <summary>The only row of those it was put together from that shows something of its own at a column; null if several do.</summary>
        private Row? Only(int column)
        {
            Row[] own = [.. _from.Where(r => !r.IsSound(_sound!, column))];
            return own.Length == 1 ? own[0] : null;
        }

        private static double[] Sum(double[] sound, double[][] rows)
        {
            double[] values = [.. sound];
            foreach (double[] row in rows)
            {
                for (int c = 0; c < values.Length; c++)
                {
                    double change = row[c] - sound[c];
                    if (!SameValue(row[c], sound[c])) values[c] = double.IsFinite(change) ? values[c] + change : row[c];
                }
            }

            return values;
        }

        /// <summary>The prediction of a column, made on first use; whichever thread asks gets the same object, for what shows the same is known by it.</summary>
        public Prediction Prediction(int column, Func<Row, int, Prediction> make)
        {
            Prediction?[] known = Volatile.Read(ref _predictions) ?? Kept(ref _predictions, new Prediction?[Values.Length]);
            return Volatile.Read(ref known[column]) ?? Kept(ref known[column], Only(column)?.Prediction(column, make) ?? make(this, column));
        }

        private static T Kept<T>(ref T? place, T made)
            where T : class => Interlocked.CompareExchange(ref place, made, null) ?? made;
    }
}
