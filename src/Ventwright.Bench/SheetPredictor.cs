using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Lets the diagnosis ask the sheet: what does a set of faults make a check show?</summary>
/// <remarks>
/// The band of the sound unit comes from all tolerances (<see cref="Bands"/>). For a set of faults the unit is settled with the set; its own spread is that of
/// the sound unit, plus a share of the distance to it, and its dependence on supply, reference and pump is scaled with the value. Ohms are compared as
/// log10(ohm + 0.3), since they span seven decades.
/// </remarks>
public sealed class SheetPredictor : IFaultPredictor
{
    private const double SpreadOfDifference = 0.04;
    private const double LogLeadOhms = 0.3;
    private readonly Simulator _simulator;
    private readonly List<CheckEntry> _checks = [];
    private readonly List<(Setting Setting, Observable What)> _what = [];
    private readonly Dictionary<(string, Observable), int> _index = [];
    private readonly Dictionary<string, int> _settings = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<(FaultSet, int), Settled> _settled = [];
    private readonly ConcurrentDictionary<int, Lazy<Band>> _bands = [];
    private readonly ConcurrentDictionary<string, Lazy<Dictionary<Observable, Band>>> _settingBands = new(StringComparer.Ordinal);

    /// <summary>Makes a predictor for a simulator's model.</summary>
    /// <param name="simulator">The simulator.</param>
    /// <param name="sumOfOdds">Prior odds of all faults together.</param>
    public SheetPredictor(Simulator simulator, double sumOfOdds = 0.3)
    {
        _simulator = simulator;
        double total = simulator.Model.Faults.Sum(f => f.Weight);
        Faults = [.. simulator.Model.Faults.Select(f => new FaultEntry(
            f.Id, f.Family, simulator.Model.Parts[f.Part].Id, f.Name, f.Weight / total * sumOfOdds, !f.CarOnly, f.IntermittentShare, f.CommonCause))];
    }

    /// <inheritdoc/>
    public IReadOnlyList<FaultEntry> Faults { get; }

    /// <inheritdoc/>
    public IReadOnlyList<CheckEntry> Checks => _checks;

    /// <inheritdoc/>
    public int SharedCount => Bands.SharedNames.Count;

    /// <summary>The setting and the thing looked at of a check.</summary>
    public (Setting Setting, Observable What) this[int check] => _what[check];

    /// <summary>Index of a check, made on first use. Not to be called while predictions run.</summary>
    public int Check(Setting setting, Observable what)
    {
        if (_index.TryGetValue((setting.Key, what), out int known)) return known;
        if (!_settings.TryGetValue(setting.Key, out int settingIndex)) _settings[setting.Key] = settingIndex = _settings.Count;
        Point? point = Array.Find(_simulator.Model.Points, p => p.What == what);
        (double low, double high, MeterAccuracy meter) = Meter(what.Kind);
        var entry = new CheckEntry(
            $"{setting.Key} {what}".Trim(), settingIndex, point?.Place ?? 0, Unit(what.Kind), low, high, Readings.WordsOf(_simulator.Model, what), point?.Minutes ?? 0.3, null, meter);
        _checks.Add(entry);
        _what.Add((setting, what));
        _index[(setting.Key, what)] = _checks.Count - 1;
        return _checks.Count - 1;
    }

    /// <summary>The number in which a check is compared, from SI.</summary>
    public static double ToScale(ObservableKind kind, double si) =>
        kind == ObservableKind.Ohms ? double.IsPositiveInfinity(si) ? 7.5 : Math.Log10(Math.Max(0, si) + LogLeadOhms) : si;

    /// <summary>The SI number behind a number in which a check is compared.</summary>
    public static double FromScale(ObservableKind kind, double value) =>
        kind != ObservableKind.Ohms ? value : value >= 7.4 ? double.PositiveInfinity : Math.Max(0, Math.Pow(10, value) - LogLeadOhms);

    /// <inheritdoc/>
    public Prediction Predict(FaultSet faults, int check)
    {
        (Setting setting, Observable what) = _what[check];
        Band sound = Sound(check);
        if (faults.IsEmpty) return Of(what, sound.Nominal, sound.Spread, sound.Shared, sound, check);
        Fault[] acting = [.. faults.Select(f => _simulator.Model.Faults[f])];
        Settled settled = _settled.GetOrAdd((faults, _checks[check].Setting), _ => _simulator.Settle(setting, acting));
        Shown shown = Readings.Read(_simulator, setting, acting, settled, what);
        bool same = double.IsFinite(shown.Value) && Math.Abs(shown.Value - sound.Nominal.Value) < 1e-6 * (1 + Math.Abs(shown.Value));
        if (same) return Of(what, shown, sound.Spread, sound.Shared, sound, check);
        double distance = Math.Abs(shown.Value - sound.Nominal.Value);
        double off = double.IsFinite(distance) ? distance : double.IsFinite(shown.Value) ? Math.Abs(shown.Value) : 0;
        double spread = sound.Spread + (SpreadOfDifference * off);
        double scale = Math.Abs(sound.Nominal.Value) > 1e-6 ? shown.Value / sound.Nominal.Value : 1;
        double[] shared = [.. sound.Shared.Select(s => double.IsFinite(scale) ? s * Math.Clamp(scale, -3, 3) : 0)];
        return Of(what, shown, spread, shared, null, check);
    }

    /// <summary>Band of the sound unit for a check.</summary>
    public Band Sound(int check) => _bands.GetOrAdd(check, c => new(() =>
    {
        (Setting setting, Observable what) = _what[c];
        var all = _settingBands.GetOrAdd(setting.Key, _ => new(() => BandsIn(setting))).Value;
        return all.TryGetValue(what, out Band? band) ? band : Bands.Of(_simulator, setting, [], [what])[0];
    })).Value;

    private Dictionary<Observable, Band> BandsIn(Setting setting)
    {
        bool dead = setting.Words.TryGetValue("supply", out string? supply) && supply == "off";
        Observable[] points = [.. _simulator.Model.Points.Where(p => (p.When == PointState.Dead) == dead).Select(p => p.What).Distinct()];
        return Bands.Of(_simulator, setting, [], points).ToDictionary(b => b.What);
    }

    private Prediction Of(Observable what, Shown shown, double spread, double[] shared, Band? band, int check)
    {
        if (shown.Unsteady) return Prediction.Unsteady;
        CheckEntry entry = _checks[check];
        if (entry.Words.Count > 0) return Prediction.Words(WordShares(what.Kind, shown, entry.Words, band));
        if (what.Kind != ObservableKind.Ohms) return Prediction.Number(shown.Value, spread, shared);
        double slope = double.IsFinite(shown.Value) ? 1 / ((shown.Value + LogLeadOhms) * Math.Log(10)) : 0;
        return Prediction.Number(ToScale(what.Kind, shown.Value), 0.01 + (spread * slope), [.. shared.Select(s => s * slope)]);
    }

    /// <summary>Probability of each word: mostly the computed one, its neighbours where the quantity behind it lies near the limit.</summary>
    private static double[] WordShares(ObservableKind kind, Shown shown, IReadOnlyList<string> words, Band? band)
    {
        int word = Math.Max(0, words.ToList().IndexOf(shown.Word ?? words[0]));
        double[] limits = kind switch
        {
            ObservableKind.Airflow => [0.25, 1.2, 3.5],
            ObservableKind.Motion => [0.05, 0.45],
            ObservableKind.Position => [0.1, 0.9],
            ObservableKind.Light => [0.05, 0.4],
            _ => [],
        };
        double[] shares = new double[words.Count];
        double width = kind == ObservableKind.Position ? 0.03 : (0.12 * Math.Abs(shown.Value)) + 0.02;
        for (int i = 0; i < words.Count && limits.Length > 0; i++)
        {
            double below = i < limits.Length ? Normal((limits[i] - shown.Value) / width) : 1, under = i == 0 ? 0 : Normal((limits[i - 1] - shown.Value) / width);
            shares[i] = Math.Max(0, below - under);
        }

        if (limits.Length == 0) shares[word] = 1;
        if (band is { Words.Count: > 1 })
        {
            foreach (string other in band.Words) shares[words.ToList().IndexOf(other)] += 0.25;
        }

        double sum = shares.Sum() + (0.01 * words.Count);
        return [.. shares.Select(s => (s + 0.01) / sum)];
    }

    private static double Normal(double x) => 1 / (1 + Math.Exp(-1.702 * x));

    private static string Unit(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => "V",
        ObservableKind.Ohms => "log10 ohm",
        ObservableKind.Amps => "A",
        ObservableKind.Vacuum or ObservableKind.Loses => "Pa",
        ObservableKind.Seconds => "s",
        _ => "",
    };

    /// <summary>Range and accuracy of ordinary workshop meters (common practice, no source).</summary>
    private static (double Low, double High, MeterAccuracy Meter) Meter(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => (-16, 16, new(0.005, 0.02, 0)),
        ObservableKind.Ohms => (-0.6, 7.5, new(0, 0.015, 1)),
        ObservableKind.Amps => (0, 80, new(0.02, 0.05, 2)),
        ObservableKind.Vacuum => (0, 100e3, new(0.01, 1500, 3)),
        ObservableKind.Loses => (0, 60e3, new(0.01, 800, 3)),
        ObservableKind.Seconds => (0, 100, new(0, 0.7, 4)),
        _ => (0, 1, new(0, 1, 5)),
    };
}
