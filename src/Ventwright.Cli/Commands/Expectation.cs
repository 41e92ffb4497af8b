using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Why;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>The unit at rest in a setting, with what came before it, and the bands of checks in it.</summary>
internal sealed class Expectation
{
    private readonly Simulator _simulator;
    private readonly Setting _setting;
    private readonly Fault[] _faults;
    private readonly Settled? _before;

    /// <summary>Settles the unit.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there.</param>
    /// <param name="from">Controls and conditions as they stood before, as <c>name=value</c>; what it does not name stood as on the sheet.</param>
    /// <exception cref="BadInputException">Something in <paramref name="from"/> does not fit the unit.</exception>
    public Expectation(UnitModel model, Setting setting, Fault[] faults, string[] from)
    {
        (_simulator, _setting, _faults) = (new(model), setting, faults);
        _before = from.Length > 0 ? _simulator.Settle(SettingWords.Make(model, from.Select(f => SettingOptions.Pair("--from", f))), faults) : null;
        Rest = _simulator.Settle(setting, faults, _before);
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
        return [.. _simulator.Model.Points.Where(p => p.When == _setting.State).OrderBy(p => p.Part).Select(p => p.What).Distinct()];
    }

    /// <summary>Bands of checks; with a history, from the state that it left.</summary>
    public Band[] Bands(Observable[] checks) => Rest.Verdict == Verdict.NotSolved ? [] : Simulation.Bands.Of(_simulator, _setting, _faults, checks, _before);

    /// <summary>The chain of parts and laws behind a band's value.</summary>
    public WhyStep Why(Band band) => Explain.Check(_simulator, _setting, _faults, Rest, band);

    /// <summary>The stated row that serves as the expectation because the model has no answer, or null.</summary>
    public StatedRow? Stated(Band band)
    {
        if (!band.Nominal.Unsteady || _faults.Length > 0) return null;
        return Array.Find(_simulator.Model.Stated, r =>
            r.What == band.What && r.Settings.Count == _setting.Words.Count
            && r.Settings.All(s => _setting.Words.TryGetValue(s.Name, out string? value) && value == s.Value));
    }
}
