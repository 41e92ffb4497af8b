using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>The settings of the bench that are worth making with what is on it, and what can be looked at in each.</summary>
public sealed class BenchCatalog
{
    /// <summary>Temperatures that sensors are made to show by a stand-in, degC (common practice, no source: below freezing, and hot).</summary>
    private static readonly double[] StandInDegC = [-3, 48];

    private readonly Simulator _simulator;
    private readonly HashSet<string> _keys = new(StringComparer.Ordinal);
    private readonly List<Setting> _settings = [];
    private readonly Dictionary<int, int> _fed = [];
    private readonly IReadOnlyList<Point>[] _runs;

    /// <summary>Works the settings out of the sheet's controls and sensors.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="presence">What is on the bench; null for the whole unit.</param>
    public BenchCatalog(Simulator simulator, Presence? presence = null)
    {
        _simulator = simulator;
        UnitModel model = simulator.Model;
        Presence = presence ?? Presence.Whole(model);
        Add([]);
        if (Presence.HasSupply) AddRunning(model);
        else AddFed(model);
        Off = Add([("supply", "off")]);
        foreach (Control selector in model.Controls)
        {
            foreach (string position in selector.Positions) Add([("supply", "off"), (selector.Name, position)]);
        }

        // Once for the catalogue: every diagnosis on it asks for the points again.
        _runs = [.. _settings.Select(s => WireRuns.In(simulator, s))];
    }

    /// <summary>What is on the bench.</summary>
    public Presence Presence { get; }

    /// <summary>The settings; the first is the unit as it stands at the start.</summary>
    public IReadOnlyList<Setting> Settings => _settings;

    /// <summary>Index of the setting for resistance measurements.</summary>
    public int Off { get; }

    /// <summary>
    /// Points to look at in a setting: with supply the running ones, without it resistances; parts alone on the table in the first setting, and in one of their
    /// own when they are fed directly; and wires from end to end with the supply off. Nothing that needs what is not on the bench.
    /// </summary>
    public IEnumerable<Point> PointsIn(int setting) => OnTheSheet(setting).Concat(_runs[setting]);

    private IEnumerable<Point> OnTheSheet(int setting) => _simulator.Model.Points.Where(p => Presence.Allows(_simulator.Model, p) || IsFed(setting, p)).Where(p => p.When switch
    {
        PointState.Running => _settings[setting].State != PointState.Dead && (Presence.HasSupply || IsFed(setting, p)),
        PointState.Dead => setting == Off,
        _ => setting == 0,
    });

    private static bool ShowsWhenFed(Point point) =>
        point.When == PointState.Running && point.What.Kind is ObservableKind.Motion or ObservableKind.Position or ObservableKind.Sound or ObservableKind.Light or ObservableKind.Amps;

    private bool IsFed(int setting, Point point) => _fed.TryGetValue(setting, out int part) && point.Part == part && ShowsWhenFed(point);

    private void AddRunning(UnitModel model)
    {
        Control[] selectors = [.. model.Controls.Where(c => c.Positions.Length > 0)], dials = [.. model.Controls.Where(c => c.Positions.Length == 0)];
        foreach (Control selector in selectors)
        {
            foreach (string position in selector.Positions) Add([(selector.Name, position)]);
        }

        if (selectors.Length == 0) return;
        foreach (string position in selectors[0].Positions) Around(selectors, dials, (selectors[0].Name, position));
    }

    /// <summary>Whether a setting differs in one control at most from the unit as it was laid on the bench, with no stand-in.</summary>
    public bool IsPlain(Setting setting)
    {
        string[] turned = [.. setting.Words.Keys.Except(Presence.Words.Select(w => w.Name))];
        return turned.Length <= 1 && turned.All(k => !k.Contains(' ', StringComparison.Ordinal));
    }

    /// <summary>Without the supply: each part that turns, clicks or lights, fed directly where nothing else hangs on its two nets.</summary>
    private void AddFed(UnitModel model)
    {
        foreach (int part in model.Points.Where(p => Presence.Has(p.Part) && ShowsWhenFed(p)).Select(p => p.Part).Distinct())
        {
            if (model.MainBranch[part] < 0 || part == model.Electric[model.SupplyBranch].Part) continue;
            ElectricBranch branch = model.Electric[model.MainBranch[part]];
            int[] ends = [.. ((int[])[branch.A, branch.B]).Where(n => n > 0)];
            bool isShared = model.Electric.Any(b => b.Part != part && Presence.Has(b.Part) && (ends.Contains(b.A) || ends.Contains(b.B)));
            if (isShared || branch.A == branch.B) continue;
            (string, string)[] feeds = [.. ends.Select(n => ($"feed {model.Nets[n]}", n == branch.A ? "12 V" : "0 V"))];
            if (Settles(feeds) && Add(feeds) is var index and >= 0) _fed[index] = part;
        }
    }

    /// <summary>Whether a sound unit comes to rest: what does not shows nothing that could be compared.</summary>
    private bool Settles((string Name, string Value)[] words) =>
        Setting.TryMake(_simulator.Model, [.. words, .. Presence.Words], out _) is { } setting && _simulator.Settle(setting, []).Verdict == Verdict.Settled;

    private void Around(Control[] selectors, Control[] dials, (string, string) position)
    {
        foreach (Control second in selectors.Skip(1).Take(1))
        {
            foreach (string other in second.Positions) Add([position, (second.Name, other)]);
        }

        foreach (Control dial in dials)
        {
            foreach (double at in (double[])[dial.Low, dial.High]) Add([position, (dial.Name, at.ToString(CultureInfo.InvariantCulture))]);
        }

        UnitModel model = _simulator.Model;
        foreach (ElectricBranch sensor in model.Electric.Where(b => b.Law == ElectricLaw.Thermistor))
        {
            string id = model.Parts[sensor.Part].Id;
            foreach (double degC in StandInDegC)
            {
                double ohms = model.CurveOf(sensor).Ohms(degC + 273.15);
                Add([position, ($"stand-in {id}", ohms.ToString("0", CultureInfo.InvariantCulture) + " ohm")]);
            }
        }
    }

    private int Add((string Name, string Value)[] words)
    {
        Setting? setting = Setting.TryMake(_simulator.Model, [.. words, .. Presence.Words], out _);
        if (setting is null || !_keys.Add(setting.Key)) return -1;
        _settings.Add(setting);
        return _settings.Count - 1;
    }
}
