using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>The settings of the bench that are worth making, and what can be looked at in each.</summary>
public sealed class BenchCatalog
{
    /// <summary>Temperatures that sensors are made to show by a stand-in, degC (common practice, no source: below freezing, and hot).</summary>
    private static readonly double[] StandInDegC = [-3, 48];

    private readonly Simulator _simulator;
    private readonly HashSet<string> _keys = new(StringComparer.Ordinal);

    /// <summary>Works the settings out of the sheet's controls and sensors.</summary>
    public BenchCatalog(Simulator simulator)
    {
        _simulator = simulator;
        UnitModel model = simulator.Model;
        Add([]);
        Control[] selectors = [.. model.Controls.Where(c => c.Positions.Length > 0)], dials = [.. model.Controls.Where(c => c.Positions.Length == 0)];
        foreach (Control selector in selectors)
        {
            foreach (string position in selector.Positions) Add([(selector.Name, position)]);
        }

        if (selectors.Length == 0) return;
        foreach (string position in selectors[0].Positions) Around(selectors, dials, (selectors[0].Name, position));
        Off = Add([("supply", "off")]);
    }

    /// <summary>The settings.</summary>
    public IReadOnlyList<Setting> Settings => _settings;

    /// <summary>Index of the setting for resistance measurements.</summary>
    public int Off { get; }

    private readonly List<Setting> _settings = [];

    /// <summary>Whether a setting differs in one control at most from the unit as it was laid on the bench, with no stand-in.</summary>
    public static bool IsPlain(Setting setting) => setting.Words.Count <= 1 && setting.Words.Keys.All(k => !k.Contains(' ', StringComparison.Ordinal));

    /// <summary>Points to look at in a setting: with supply the running ones, without it resistances; parts alone on the table in the first setting.</summary>
    public IEnumerable<Point> PointsIn(int setting) => _simulator.Model.Points.Where(p => p.When switch
    {
        PointState.Running => setting != Off,
        PointState.Dead => setting == Off,
        _ => setting == 0,
    });

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
                double ohms = model.Curves[(int)model.Parameters[sensor.Parameter]].Ohms(degC + 273.15);
                Add([position, ($"stand-in {id}", ohms.ToString("0", CultureInfo.InvariantCulture) + " ohm")]);
            }
        }
    }

    private int Add((string Name, string Value)[] words)
    {
        Setting? setting = Setting.TryMake(_simulator.Model, words, out _);
        if (setting is null || !_keys.Add(setting.Key)) return -1;
        _settings.Add(setting);
        return _settings.Count - 1;
    }
}
