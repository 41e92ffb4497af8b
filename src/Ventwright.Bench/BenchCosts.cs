using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>What checks cost as the bench stands: how the unit is set, what was opened, where the person is.</summary>
internal sealed class BenchCosts
{
    /// <summary>Minutes to write a reading down (common practice, no source).</summary>
    private const double NoteMinutes = 0.15;
    private const double AgainMinutes = 0.2, MostWalk = 2;
    private readonly UnitModel _model;
    private readonly SheetPredictor _predictor;
    private readonly HashSet<int> _opened;
    private readonly ConcurrentDictionary<int, double> _change = [];
    private Setting _stands;
    private int _at = -1;

    /// <summary>Starts with a unit that nothing was done to.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="predictor">Its checks.</param>
    /// <param name="stands">How it is set.</param>
    public BenchCosts(UnitModel model, SheetPredictor predictor, Setting stands) => (_model, _predictor, _stands, _opened) = (model, predictor, stands, []);

    /// <summary>A copy that goes on by itself.</summary>
    public BenchCosts(BenchCosts of) => (_model, _predictor, _stands, _at, _opened) = (of._model, of._predictor, of._stands, of._at, [.. of._opened]);

    /// <summary>Minutes spent so far.</summary>
    public double Spent { get; private set; }

    /// <summary>Notes that a check was made.</summary>
    public void Made(int check)
    {
        Spent += Minutes(check);
        _stands = _predictor[check].Setting;
        _change.Clear();
        _at = _predictor.Checks[check].Place;
        _opened.Add(_at);
    }

    /// <summary>Minutes for a check: changing the setting, reaching the place, reading.</summary>
    public double Minutes(int check)
    {
        CheckEntry entry = _predictor.Checks[check];
        return _change.GetOrAdd(entry.Setting, _ => ToSet(_predictor[check].Setting)) + ReadingAfter(_at, entry);
    }

    /// <summary>Whether a check is made with eye, ear or hand alone, where nothing has to be opened any more.</summary>
    public bool IsLook(int check)
    {
        int place = _predictor.Checks[check].Place;
        return _predictor[check].What.Kind is ObservableKind.Position or ObservableKind.Motion or ObservableKind.Airflow or ObservableKind.Light or ObservableKind.Sound or ObservableKind.Contacts
            && (_model.Places[place].Opens is null || _opened.Contains(place));
    }

    /// <summary>Checks of one setting made in one go: in the order that saves steps, with the minutes for all of them.</summary>
    public CheckRound Round(IEnumerable<int> checks)
    {
        int[] order = [.. checks.OrderBy(c => _predictor.Checks[c].Place != _at).ThenBy(c => _predictor.Checks[c].Place).ThenBy(c => c)];
        double minutes = Minutes(order[0]);
        for (int i = 1; i < order.Length; i++) minutes += ReadingAfter(_predictor.Checks[order[i - 1]].Place, _predictor.Checks[order[i]]);
        return new(order, minutes);
    }

    private double ReadingAfter(int at, CheckEntry entry)
    {
        Place place = _model.Places[entry.Place];
        double way = place.Opens is not null ? _opened.Contains(entry.Place) ? AgainMinutes : place.Minutes : entry.Place != at ? Math.Min(place.Minutes, MostWalk) : 0;
        return NoteMinutes + entry.ReadMinutes + way;
    }

    private double ToSet(Setting setting)
    {
        double minutes = 0;
        foreach (string name in setting.Words.Keys.Union(_stands.Words.Keys))
        {
            bool same = setting.Words.TryGetValue(name, out string? wanted) & _stands.Words.TryGetValue(name, out string? now) && wanted == now;
            if (!same) minutes += name.Contains(' ', StringComparison.Ordinal) ? 0.7 : 0.25;
        }

        return minutes;
    }
}
