using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Bench.SlowDrive;

/// <summary>A turn: car time stands still until the person has set the resistances and reported what the unit does.</summary>
/// <param name="Number">Counted from 1.</param>
/// <param name="Seconds">Car time, s.</param>
/// <param name="Car">The car.</param>
/// <param name="Resistances">What goes where.</param>
/// <param name="Setting">The setting of the bench.</param>
/// <param name="Expected">What a sound unit shows for these resistances, in the order of the looks.</param>
public sealed record SlowTurn(int Number, double Seconds, CarState Car, IReadOnlyList<CarResistance> Resistances, Setting Setting, IReadOnlyList<Band> Expected);

/// <summary>A turn with what was reported.</summary>
/// <param name="Turn">The turn.</param>
/// <param name="Seen">What was seen, in the order of the looks.</param>
/// <param name="Outside">Per look, whether it lies outside what a sound unit shows.</param>
public sealed record SlowAnswer(SlowTurn Turn, IReadOnlyList<Shown> Seen, IReadOnlyList<bool> Outside);

/// <summary>A slow drive as far as it came. It never changes.</summary>
/// <param name="Looks">What is reported in each turn.</param>
/// <param name="Answers">Turns that were answered.</param>
public sealed record SlowTrack(IReadOnlyList<SlowLook> Looks, IReadOnlyList<SlowAnswer> Answers)
{
    /// <summary>What was outside first: the turn and the look, or null.</summary>
    public (SlowAnswer Answer, SlowLook Look)? FirstOutside()
    {
        foreach (SlowAnswer answer in Answers)
        {
            for (int i = 0; i < Looks.Count; i++)
            {
                if (answer.Outside[i]) return (answer, Looks[i]);
            }
        }

        return null;
    }
}

/// <summary>
/// The bench car for people with a resistance box: the program holds car time, tells the next resistances, the person reports what servos, blowers and
/// clutch do, and the car moves on. After some twenty turns the drive is closed round the real module. Not thread-safe.
/// </summary>
public sealed class SlowCar
{
    /// <summary>Length of the first turn, s, and by how much each is longer than the one before it; none is longer than <see cref="LongestTurn"/>.</summary>
    private const double FirstTurn = 15, Growth = 1.25, LongestTurn = 150, Step = 0.5;

    private readonly Simulator _simulator;
    private readonly UnitModel _model;
    private readonly Scenario _scenario;
    private readonly BenchCar _car;
    private readonly SheetPredictor _predictor;
    private readonly SlowLooks _looks;
    private readonly IReadOnlyList<(string Name, string Value)> _hands;
    private readonly List<SlowAnswer> _answers = [];
    private readonly double[] _airFlow;
    private double _seconds, _length = FirstTurn;
    private bool _iced;

    /// <summary>Starts a drive.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="predictor">Its predictor, for the bands.</param>
    /// <param name="scenario">What the world does.</param>
    /// <param name="body">The car.</param>
    /// <param name="hands">Words of the setting that stand over the scenario's panel.</param>
    /// <exception cref="ArgumentException">The unit has no module, or the hands' words do not fit it.</exception>
    public SlowCar(Simulator simulator, SheetPredictor predictor, Scenario scenario, CarBody body, IReadOnlyList<(string Name, string Value)>? hands = null)
    {
        (_simulator, _model, _predictor, _scenario, _hands) = (simulator, simulator.Model, predictor, scenario, hands ?? []);
        if (_model.Module is null) throw new ArgumentException("this unit has no module: there is nothing that regulates by itself", nameof(simulator));
        _looks = new(simulator);
        Weather weather = scenario.Moments[0].Weather;
        _car = new(_model, body, BenchCar.Standing(scenario.CabinK, scenario.TrimK, scenario.CoolantK, weather));
        _airFlow = new double[_model.Air.Length];
        Turn = NextTurn(null);
    }

    /// <summary>What is reported in each turn.</summary>
    public IReadOnlyList<SlowLook> Looks => _looks.All;

    /// <summary>What is reported in each turn of a drive of a unit.</summary>
    /// <param name="simulator">The unit.</param>
    public static IReadOnlyList<SlowLook> LooksOf(Simulator simulator) => new SlowLooks(simulator).All;

    /// <summary>The turn that waits for an answer, or null when the drive is over.</summary>
    public SlowTurn? Turn { get; private set; }

    /// <summary>The drive as far as it came.</summary>
    public SlowTrack Track => new(Looks, [.. _answers]);

    /// <summary>Takes what was seen and moves the car on to the next turn.</summary>
    /// <param name="seen">What was seen, in the order of <see cref="Looks"/>: SI numbers or words.</param>
    /// <exception cref="ArgumentException">Not as many as there are looks.</exception>
    /// <exception cref="InvalidOperationException">The drive is over.</exception>
    public SlowAnswer Answer(IReadOnlyList<Shown> seen)
    {
        if (Turn is not { } turn) throw new InvalidOperationException("the drive is over");
        if (seen.Count != Looks.Count) throw new ArgumentException($"{Looks.Count} things are looked at in a turn, {seen.Count} were given", nameof(seen));
        var answer = new SlowAnswer(turn, seen, [.. seen.Select((s, i) => IsOutside(turn.Expected[i], s))]);
        _answers.Add(answer);
        Move(turn, answer);
        Turn = _seconds >= _scenario.Seconds - 1e-6 ? null : NextTurn(turn);
        return answer;
    }

    /// <summary>What a unit, simulated with some faults, would answer to the present turn.</summary>
    public IReadOnlyList<Shown> Simulated(IReadOnlyList<Fault> faults)
    {
        Setting setting = (Turn ?? throw new InvalidOperationException("the drive is over")).Setting;
        Settled rest = _simulator.Settle(setting, faults);
        return [.. Looks.Select(l => Readings.Read(_simulator, setting, faults, rest, l.What))];
    }

    /// <summary>Drives a whole scenario with a unit that is simulated.</summary>
    public SlowTrack Simulate(IReadOnlyList<Fault> faults)
    {
        while (Turn is not null) Answer(Simulated(faults));
        return Track;
    }

    private static bool IsOutside(Band band, Shown seen)
    {
        if (seen.Word is { } word) return !band.Words.Contains(word, StringComparer.Ordinal);
        if (seen.Unsteady || band.Nominal.Unsteady) return seen.Unsteady != band.Nominal.Unsteady;
        // A cheap meter: one percent and a twentieth of a volt (common practice, no source).
        double meter = 0.05 + (0.01 * Math.Abs(seen.Value));
        return seen.Value < band.Low - meter || seen.Value > band.High + meter;
    }

    private SlowTurn NextTurn(SlowTurn? before)
    {
        Moment moment = _scenario.At(_seconds);
        CarResistance[] resistances = [.. CarSensors.Of(_model, _car, _airFlow, moment.Weather).Select(r => r with { Ohms = CarSensors.Settable(r.Ohms) })];
        List<(string, string)> words = [.. Scenario.Panel(_model, moment), .. _hands, .. resistances.Select(r => ($"stand-in {r.Part}", Text(r.Ohms)))];
        // The unit comes from where it stood a turn ago: what has hysteresis depends on it.
        foreach (CarResistance old in before?.Resistances ?? [])
        {
            if (resistances.First(r => r.Part == old.Part).Ohms != old.Ohms) words.Add(($"after stand-in {old.Part}", Text(old.Ohms)));
        }

        Setting setting = Make(words);
        int[] checks = _predictor.Check([.. Looks.Select(l => (setting, l.What))]);
        return new((before?.Number ?? 0) + 1, _seconds, _car.State, resistances, setting, [.. checks.Select(_predictor.Sound)]);
    }

    /// <summary>
    /// Lets the car run until the next turn. What answered as a sound unit would is let follow like one from there; what did not is held as it was seen. So a
    /// turn may be long without the loop swinging, and a bad part keeps its effect.
    /// </summary>
    private void Move(SlowTurn turn, SlowAnswer answer)
    {
        int[] outside = [.. Enumerable.Range(0, Looks.Count).Where(i => answer.Outside[i])];
        (string Name, string Value)[] held = [.. outside.Select(i => _looks.Hold(Looks[i], answer.Seen[i], turn.Setting))];
        Setting stands = Make([.. Words(turn.Setting), .. held]);
        Moment moment = _scenario.At(_seconds);
        var loop = new CarLoop(_simulator, _car, Make([.. Scenario.Panel(_model, moment), .. _hands, .. held]), moment.Weather, [], _simulator.Settle(stands, []));
        bool[] clutches = [.. outside.Where(i => Looks[i].What.Kind == ObservableKind.Sound).Select(i => answer.Seen[i].Word == "clicks")];
        double end = Math.Min(_scenario.Seconds, _seconds + _length);
        while (_seconds < end - 1e-9)
        {
            double step = Math.Min(Step, end - _seconds);
            loop.Step(step, _scenario.At(_seconds).Weather, clutches.Length == 0 ? null : clutches.All(c => c) && Thawed());
            _seconds += step;
        }

        loop.Run.AirFlow.CopyTo(_airFlow);
        _length = Math.Min(_length * Growth, LongestTurn);
    }

    private static IEnumerable<(string Name, string Value)> Words(Setting setting) => setting.Words.Select(w => (w.Key, w.Value));

    private Setting Make(IEnumerable<(string, string)> words) => Setting.TryMake(_model, words, out string? problem) ?? throw new ArgumentException(problem);

    /// <summary>
    /// A clutch that is in where it should not be is held so for the whole turn. The car cuts it out near freezing, as nobody else can meanwhile (common
    /// practice, no source); in again 3 K above.
    /// </summary>
    private bool Thawed()
    {
        if (_car.State.Evaporator < 274.15) _iced = true;
        else if (_car.State.Evaporator > 277.15) _iced = false;
        return !_iced;
    }

    private static string Text(double ohms) => ohms.ToString("0.###", CultureInfo.InvariantCulture) + " ohm";
}
