using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>The unit at rest in a setting, with what came before it, and the bands of checks in it.</summary>
internal sealed class Expectation
{
    private readonly Simulator _simulator;
    private readonly Setting _setting;
    private readonly Fault[] _faults;
    private readonly bool _hasHistory;

    /// <summary>Settles the unit.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there.</param>
    /// <param name="from">Controls and conditions as they stood before, as <c>name=value</c>; what it does not name stood as on the sheet.</param>
    /// <exception cref="BadInputException">Something in <paramref name="from"/> does not fit the unit.</exception>
    public Expectation(UnitModel model, Setting setting, Fault[] faults, string[] from)
    {
        (_simulator, _setting, _faults, _hasHistory) = (new(model), setting, faults, from.Length > 0);
        Settled? before = _hasHistory ? _simulator.Settle(SettingWords.Make(model, from.Select(f => SettingOptions.Pair("--from", f))), faults) : null;
        Rest = _simulator.Settle(setting, faults, before);
    }

    /// <summary>The unit at rest.</summary>
    public Settled Rest { get; }

    /// <summary>The word for a verdict.</summary>
    public static string Word(Verdict verdict) => verdict switch
    {
        Verdict.Settled => "settled",
        Verdict.Oscillates => "oscillates",
        _ => "not solved",
    };

    /// <summary>All that can be looked at in this state of the bench, by part: while it runs, or resistances with the supply off.</summary>
    public Observable[] Usual()
    {
        PointState when = _setting.Words.TryGetValue("supply", out string? supply) && supply == "off" ? PointState.Dead : PointState.Running;
        return [.. _simulator.Model.Points.Where(p => p.When == when).OrderBy(p => p.Part).Select(p => p.What).Distinct()];
    }

    /// <summary>Bands of checks. With a history, a value that depends on it carries the width that it has without.</summary>
    public Band[] Bands(Observable[] checks)
    {
        if (Rest.Verdict == Verdict.NotSolved) return [];
        Band[] bands = Simulation.Bands.Of(_simulator, _setting, _faults, checks);
        return _hasHistory ? [.. bands.Select(Moved)] : bands;
    }

    /// <summary>The stated row that serves as the expectation because the model has no answer, or null.</summary>
    public StatedRow? Stated(Band band)
    {
        if (!band.Nominal.Unsteady || _faults.Length > 0) return null;
        return Array.Find(_simulator.Model.Stated, r =>
            r.What == band.What && r.Settings.Count == _setting.Words.Count
            && r.Settings.All(s => _setting.Words.TryGetValue(s.Name, out string? value) && value == s.Value));
    }

    private Band Moved(Band band)
    {
        Shown now = Readings.Read(_simulator, _setting, _faults, Rest, band.What);
        if (now == band.Nominal) return band;
        double by = now.Value - band.Nominal.Value;
        return double.IsFinite(by)
            ? band with { Nominal = now, Low = band.Low + by, High = band.High + by, Words = now.Word is null ? [] : [now.Word] }
            : band with { Nominal = now, Low = double.NaN, High = double.NaN, Words = now.Word is null ? [] : [now.Word] };
    }
}
