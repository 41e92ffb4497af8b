using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Lets the diagnosis ask the sheet: what does a set of faults make a check show? One for a sheet; sessions may share it.</summary>
/// <remarks>
/// What sound units show comes from random units within the tolerances (<see cref="ToleranceSample"/>). For a set of faults the unit is settled with the set;
/// its own spread follows from that of the sound unit (<see cref="OutcomeSpread"/>).
/// </remarks>
public sealed class SheetPredictor : IFaultPredictor
{
    private readonly Simulator _simulator;
    private readonly Footprints _footprints;
    private readonly Lock _gate = new();
    private readonly Dictionary<(string, Observable), int> _index = [];
    private readonly Dictionary<string, int> _settings = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<(int Setting, Observable? Extra), SettingTable> _tables = [];
    private readonly ConcurrentDictionary<int, Lazy<CheckClasses>> _classes = [];
    private readonly ConcurrentDictionary<string, IReadOnlyList<Point>> _runs = new(StringComparer.Ordinal);
    private readonly SetShelf _sets = new();
    private volatile Asked[] _asked = [];
    private volatile CheckEntry[] _checks = [];

    /// <summary>Makes a predictor for a simulator's model.</summary>
    /// <param name="simulator">The simulator.</param>
    /// <param name="sumOfOdds">Prior odds of all faults together.</param>
    public SheetPredictor(Simulator simulator, double sumOfOdds = 0.3)
    {
        (_simulator, _footprints) = (simulator, new(simulator.Model));
        Checks = new Live(this);
        double total = simulator.Model.Faults.Sum(f => f.Weight);
        Faults = [.. simulator.Model.Faults.Select(f => new FaultEntry(
            f.Id, f.Family, simulator.Model.Parts[f.Part].Id, f.Words, f.Weight / total * sumOfOdds, !f.CarOnly, f.IntermittentShare, f.CommonCause)
        {
            PartName = simulator.Model.Parts[f.Part].Title,
        })];
    }

    /// <inheritdoc/>
    public IReadOnlyList<FaultEntry> Faults { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CheckEntry> Checks { get; }

    /// <inheritdoc/>
    public int SharedCount => Bands.SharedNames.Count;

    /// <summary>The setting and the thing looked at of a check.</summary>
    public (Setting Setting, Observable What) this[int check] => (_asked[check].Setting, _asked[check].What);

    /// <summary>Index of a check, made on first use.</summary>
    public int Check(Setting setting, Observable what) => Check([(setting, what)])[0];

    /// <summary>Indices of checks, made on first use.</summary>
    public int[] Check(IReadOnlyList<(Setting Setting, Observable What)> wanted)
    {
        lock (_gate)
        {
            var checks = new List<CheckEntry>(_checks);
            var asked = new List<Asked>(_asked);
            int[] result = [.. wanted.Select(w => _index.TryGetValue((w.Setting.Key, w.What), out int known) ? known : Add(w.Setting, w.What, checks, asked))];
            if (checks.Count > _checks.Length) (_asked, _checks) = ([.. asked], [.. checks]);
            return result;
        }
    }

    /// <inheritdoc/>
    public Prediction Predict(FaultSet faults, int check) => Predict(faults, check, _sets);

    /// <inheritdoc/>
    public Prediction PredictClosely(FaultSet faults, int check) => PredictClosely(faults, check, _sets);

    /// <summary>As <see cref="Predict(FaultSet, int)"/>, with sets of several faults kept elsewhere.</summary>
    internal Prediction Predict(FaultSet faults, int check, SetShelf sets)
    {
        Asked asked = _asked[check];
        return Predict(asked.Table, asked.Table.Of(faults, sets), asked.Column, _checks[check]);
    }

    /// <summary>As <see cref="PredictClosely(FaultSet, int)"/>, with sets of several faults kept elsewhere.</summary>
    internal Prediction PredictClosely(FaultSet faults, int check, SetShelf sets)
    {
        Asked asked = _asked[check];
        SettingTable table = asked.Table;
        SettingTable.Row row = table.Of(faults, sets);
        int column = asked.Column;
        if (ReferenceEquals(row, table.Sound) && !faults.Any(f => table.MayAct(f, column))) return Predict(faults, check, sets);
        return OutcomeSpread.Own(table.Checks[column].Kind, row.Values[column], table.Sound.Values[column], table.SpreadsOf(faults, sets)[column], table.Spreads[column], _checks[check]);
    }

    /// <inheritdoc/>
    public bool MayAct(int fault, int check) => _asked[check].Table.MayAct(fault, _asked[check].Column);

    /// <summary>Band of the sound unit for a check.</summary>
    public Band Sound(int check) => _asked[check].Table.Band(_asked[check].Column);

    /// <summary>
    /// Works out ahead what every single fault does in the settings of some checks, so that the answers come at once later.
    /// </summary>
    /// <param name="checks">The checks.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cores">Most cores to use; -1 for all.</param>
    /// <param name="stop">Breaks it off; what is done stays.</param>
    public void Prepare(IReadOnlyList<int> checks, Action<double>? progress = null, int cores = -1, CancellationToken stop = default)
    {
        int[] settings = [.. checks.Where(c => !_asked[c].Extra).Select(c => _checks[c].Setting).Distinct().Where(s => !_classes.ContainsKey(s) || !_classes[s].IsValueCreated)];
        int done = 0;
        Parallel.ForEach(Partitioner.Create(settings, EnumerablePartitionerOptions.NoBuffering), new ParallelOptions { CancellationToken = stop, MaxDegreeOfParallelism = cores }, s =>
        {
            _ = Classes(s);
            progress?.Invoke(Interlocked.Increment(ref done) / (double)settings.Length);
        });
    }

    /// <summary>Whether any check of the settings prepared so far tells a single fault from the sound unit.</summary>
    public bool Shows(int fault) => _classes.Any(c => c.Value.Value.Shows(fault));

    /// <summary>Whether everything about some checks was worked out ahead.</summary>
    public bool IsPrepared(IReadOnlyList<int> checks) => checks.All(c => _asked[c].Extra || (_classes.TryGetValue(_checks[c].Setting, out var made) && made.IsValueCreated));

    /// <summary>What can be told apart at the checks of a setting.</summary>
    internal CheckClasses Classes(int setting) => _classes.GetOrAdd(setting, s => new(() => Classify(s, [.. Enumerable.Range(0, Faults.Count)]))).Value;

    /// <summary>What can be told apart at the checks of a setting between some faults; all of them if that was worked out ahead.</summary>
    internal CheckClasses Classes(int setting, IReadOnlyList<int> only) =>
        _classes.TryGetValue(setting, out var made) && made.IsValueCreated ? made.Value : Classify(setting, only);

    private CheckClasses Classify(int setting, IReadOnlyList<int> only)
    {
        SettingTable table = _tables[(setting, null)];
        CheckEntry[] entries = [.. table.Checks.Select(what => Entry(setting, "", what))];
        var rows = only.ToDictionary(f => f, f => table.Of(f));
        return CheckClasses.Make(
            entries.Length, Faults.Count, only, (column, fault) => Passing(table, fault < 0 ? table.Sound : rows[fault], column, entries[column]), column => entries[column]);
    }

    /// <summary>Column of a check among those of its setting; -1 for one that was asked for beyond the sheet's points.</summary>
    internal int Column(int check) => _asked[check].Extra ? -1 : _asked[check].Column;

    private int Add(Setting setting, Observable what, List<CheckEntry> checks, List<Asked> asked)
    {
        if (!_settings.TryGetValue(setting.Key, out int index)) _settings[setting.Key] = index = _settings.Count;
        SettingTable table = _tables.GetOrAdd((index, null), _ => setting.Wiggled is not null && _settings.TryGetValue(setting.StillKey, out int still)
            ? _tables[(still, null)] : new(_simulator, _footprints, setting, PointsFor(setting)));
        int column = table.Column(what);
        bool extra = column < 0;
        if (extra) (table, column) = (_tables.GetOrAdd((index, what), _ => new(_simulator, _footprints, setting, [what])), 0);
        asked.Add(new(setting, what, table, column, extra));
        checks.Add(Entry(index, setting.Key, what) with { WigglePart = setting.Wiggled });
        return _index[(setting.Key, what)] = checks.Count - 1;
    }

    /// <summary>All points of the sheet for the state that a setting leaves the bench in.</summary>
    private Observable[] PointsFor(Setting setting)
    {
        bool dead = setting.State == PointState.Dead;
        bool alone = setting.Words.Keys.All(Presence.IsPresence);
        IEnumerable<Point> points = _simulator.Model.Points.Where(p => p.When == PointState.Dead ? dead : !dead && (alone || p.When == PointState.Running));
        return [.. points.Concat(_runs.GetOrAdd(setting.Key, _ => WireRuns.In(_simulator, setting))).Select(p => p.What).Distinct()];
    }

    private CheckEntry Entry(int setting, string key, Observable what)
    {
        Point? point = Array.Find(_simulator.Model.Points, p => p.What == what)
            ?? (_runs.TryGetValue(key, out IReadOnlyList<Point>? runs) ? runs.FirstOrDefault(r => r.What == what) : null);
        (double low, double high, MeterAccuracy meter) = BenchMeter.Of(what.Kind);
        return new(
            $"{key} {what}".Trim(), setting, point?.Place ?? 0, BenchMeter.UnitOf(what.Kind), low, high, Readings.WordsOf(_simulator.Model, what), point?.Minutes ?? 0.3, null, meter);
    }

    /// <summary>As <see cref="Predict(SettingTable, SettingTable.Row, int, CheckEntry)"/>, but not kept: there are millions, and few are asked for again.</summary>
    private static Prediction Passing(SettingTable table, SettingTable.Row row, int column, CheckEntry entry) =>
        row.IsSound(table.Sound, column)
            ? Predict(table, table.Sound, column, entry)
            : OutcomeSpread.Faulty(table.Checks[column].Kind, row.At(column), table.Sound.Values[column], table.Spreads[column], entry);

    private static Prediction Predict(SettingTable table, SettingTable.Row row, int column, CheckEntry entry)
    {
        SettingTable.Row sound = table.Sound;
        return row.IsSound(sound, column)
            ? sound.Prediction(column, (r, c) => OutcomeSpread.Sound(table.Checks[c].Kind, r.Values[c], table.Spreads[c], entry))
            : row.Prediction(column, (r, c) => OutcomeSpread.Faulty(table.Checks[c].Kind, r.At(c), sound.Values[c], table.Spreads[c], entry));
    }

    /// <summary>The checks as they stand at each look: it may grow between evaluating the list and its index.</summary>
    private sealed class Live(SheetPredictor of) : IReadOnlyList<CheckEntry>
    {
        public int Count => of._checks.Length;

        public CheckEntry this[int index] => of._checks[index];

        public IEnumerator<CheckEntry> GetEnumerator() => ((IEnumerable<CheckEntry>)of._checks).GetEnumerator();

        System.Collections.IEnumerator System.Collections.IEnumerable.GetEnumerator() => GetEnumerator();
    }

    private sealed record Asked(Setting Setting, Observable What, SettingTable Table, int Column, bool Extra);
}
