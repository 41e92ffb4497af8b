using System.Globalization;
using Ventwright.Bench.SlowDrive;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Bench.Car;

/// <summary>
/// The bench car round a real unit that is measured all the time: what is measured of servos, blowers and clutch is held in a model of the unit, what is not
/// measured follows as in a sound one, and the car feels the air that comes of it. Not thread-safe.
/// </summary>
public sealed class MeasuredCar
{
    private const double CarStep = 0.1;
    private readonly UnitModel _model;
    private readonly Scenario _scenario;
    private readonly IReadOnlyList<(string Name, string Value)> _hands;
    private readonly (SlowLook Look, string Key, FeedbackTable? Feedback)[] _looks;
    private readonly CarLoop _loop;
    private readonly double[] _airFlow;
    private readonly DriveKeeper _keeper;
    private Moment _moment;
    private double _imbalanceW;

    /// <summary>Puts the car round the unit.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="scenario">What the world does.</param>
    /// <param name="body">The car.</param>
    /// <param name="measured">What is measured, as checks.</param>
    /// <param name="hands">Words of the setting that stand over the scenario's panel.</param>
    /// <exception cref="ArgumentException">The hands' words do not fit the unit, or nothing that the car needs is measured.</exception>
    public MeasuredCar(Simulator simulator, Scenario scenario, CarBody body, IReadOnlyCollection<Observable> measured, IReadOnlyList<(string Name, string Value)>? hands = null)
    {
        (_model, _scenario, _hands, _moment) = (simulator.Model, scenario, hands ?? [], scenario.Moments[0]);
        Setting panel = Make([]);
        _looks = [.. new SlowLooks(simulator).All.Select(l => (l, Key(l, measured), l.What.Kind == ObservableKind.Volts && IsServo(l) ? FeedbackTable.Of(simulator, l, panel) : null)).Where(l => l.Item2.Length > 0)];
        if (_looks.Length == 0)
            throw new ArgumentException($"nothing of what the car needs is measured; any of {string.Join(", ", new SlowLooks(simulator).All.Select(l => l.What))} would do", nameof(measured));
        var car = new BenchCar(_model, body, BenchCar.Standing(scenario.CabinK, scenario.TrimK, scenario.CoolantK, _moment.Weather));
        _loop = new(simulator, car, panel, _moment.Weather, []);
        _airFlow = new double[_model.Air.Length];
        _keeper = new(_model, _loop.Run, car, scenario, [.. _looks.Select(l => l.Look.Part)]);
    }

    /// <summary>What there is to measure of a unit for a car round it: volts of each servo's feedback, volts over each blower, volts at each clutch coil.</summary>
    /// <param name="simulator">The unit.</param>
    public static IReadOnlyList<Observable> Measurable(Simulator simulator) =>
        [.. new SlowLooks(simulator).All.Select(l => l.What.Kind == ObservableKind.Sound ? VoltsOf(simulator.Model, l) : l.What)];

    /// <summary>What it uses of what is measured.</summary>
    public IReadOnlyList<string> Needs => [.. _looks.Select(l => l.Key)];

    /// <summary>Time in the car, s.</summary>
    public double Seconds { get; private set; }

    /// <summary>Whether the scenario has come to its end.</summary>
    public bool IsOver => Seconds >= _scenario.Seconds;

    /// <summary>The car.</summary>
    public CarState State => _loop.Car.State;

    /// <summary>What the panel asks for, K: the module's own set point, or the scenario's where the module does not say it.</summary>
    public double WantedK => _model.Module is { SetPoint: >= 0 and var at } ? _loop.Run.Signals[at] + 273.15 : _scenario.ComfortK;

    /// <summary>The panel as the scenario wants it now, for the person's hands.</summary>
    public IEnumerable<(string Name, string Value)> Panel => Scenario.Panel(_model, _moment);

    /// <summary>What goes in place of the sensors now.</summary>
    public IReadOnlyList<CarResistance> Resistances => [.. CarSensors.Of(_model, _loop.Car, _airFlow, _moment.Weather)];

    /// <summary>Lets the car go on.</summary>
    /// <param name="values">What is measured, SI, by check as in <see cref="Needs"/>; what is missing or no number follows as in a sound unit.</param>
    /// <param name="seconds">Seconds, 0 or more.</param>
    public void Step(IReadOnlyDictionary<string, double> values, double seconds)
    {
        _moment = _scenario.At(Seconds);
        bool? clutch = null;
        List<(string, string)> held = [];
        foreach ((SlowLook look, string key, FeedbackTable? feedback) in _looks)
        {
            if (!values.TryGetValue(key, out double value) || !double.IsFinite(value)) continue;
            string id = _model.Parts[look.Part].Id;
            if (look.What.Kind == ObservableKind.Sound)
            {
                bool isIn = Math.Abs(value) > ClutchLeast(look);
                clutch = (clutch ?? true) && isIn;
                held.Add(($"stand-in {id}", isIn ? "1" : "0"));
            }
            else held.Add(($"stand-in {id}", Number(feedback?.Position(value) ?? Speed(look, value))));
        }

        _loop.Run.Set(Make(held));
        for (double left = seconds; left > 1e-9; left -= CarStep)
        {
            _loop.Step(Math.Min(CarStep, left), _moment.Weather, clutch);
            _imbalanceW = Math.Max(_imbalanceW, Math.Abs(_loop.Car.ImbalanceW));
        }

        _loop.Run.AirFlow.CopyTo(_airFlow);
        Seconds += seconds;
    }

    /// <summary>Keeps the present moment for the record.</summary>
    public void Keep() => _keeper.Keep(Seconds, _moment.Weather);

    /// <summary>The drive as far as it was kept: the temperatures of the car, and of the unit what is measured.</summary>
    public DriveRecord Record() => _keeper.Record([], _loop.Run.Sound, _imbalanceW, _loop.Unmoved);

    private Setting Make(IEnumerable<(string, string)> held) =>
        Setting.TryMake(_model, [.. Scenario.Panel(_model, _moment), .. _hands, .. held], out string? problem) ?? throw new ArgumentException(problem);

    private bool IsServo(SlowLook look) => _model.Variables[_model.MainVariable[look.Part]].Law == VariableLaw.Servo;

    /// <summary>The check that tells a look: the look itself, volts of a blower's plus alone, or the amps of the clutch.</summary>
    private string Key(SlowLook look, IReadOnlyCollection<Observable> measured)
    {
        Observable[] fit = look.What.Kind == ObservableKind.Sound
            ? [new(ObservableKind.Amps, look.What.Target), VoltsOf(_model, look)]
            : [look.What, new(ObservableKind.Volts, look.What.Target)];
        return fit.FirstOrDefault(measured.Contains) is { Target: not null } found ? found.ToString() : "";
    }

    private static Observable VoltsOf(UnitModel model, SlowLook look) => new(ObservableKind.Volts, model.Nets[model.Electric[model.MainBranch[look.Part]].A]);

    /// <summary>Half of what the coil draws, or half the supply: above it the clutch is in.</summary>
    private double ClutchLeast(SlowLook look)
    {
        double volts = _model.Parameters[_model.Electric[_model.SupplyBranch].Parameter] / 2;
        bool amps = _looks.First(l => l.Look == look).Key.StartsWith("amps", StringComparison.Ordinal);
        return amps ? volts / _model.Parameters[_model.Electric[_model.MainBranch[look.Part]].Parameter] : volts;
    }

    private double Speed(SlowLook look, double volts) =>
        ElectricSolver.MotorSpeed(_model.Parameters, _model.Electric[_model.MainBranch[look.Part]].Parameter, Math.Abs(volts));

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
