using BenchmarkDotNet.Attributes;
using Ventwright.Bench.Car;
using Ventwright.Bench.StepTest;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Benchmarks;

/// <summary>Half an hour of car time with steps of a tenth of a second, and the thresholds of the module.</summary>
[MemoryDiagnoser]
public class DriveBenchmarks
{
    private Simulator _simulator = null!;
    private CarBody _car = null!;
    private Scenario _scenario = null!;

    [ParamsSource(nameof(Scenarios))]
    public string Name { get; set; } = "";

    /// <summary>The shipped scenarios.</summary>
    public static IEnumerable<string> Scenarios => ScenarioFile.Shipped;

    [GlobalSetup]
    public void Setup()
    {
        var problems = new ProblemList();
        _simulator = new(Unit.Compile());
        _car = ScenarioFile.LoadCar(null, problems) ?? throw new InvalidDataException(string.Join('\n', problems.Sorted));
        _scenario = ScenarioFile.Load(Name, problems) ?? throw new InvalidDataException(string.Join('\n', problems.Sorted));
    }

    [Benchmark]
    public DriveRecord? Drive() => Bench.Car.Drive.Run(_simulator, _scenario, _car, new(), out _);

    [Benchmark]
    public int Thresholds() => AutomaticSettings.Of(_simulator).Count;
}
