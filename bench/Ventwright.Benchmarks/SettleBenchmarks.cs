using BenchmarkDotNet.Attributes;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Benchmarks;

/// <summary>One settle of the whole unit: nets, contacts, module, servos, vacuum, air.</summary>
[MemoryDiagnoser]
public class SettleBenchmarks
{
    private Simulator _simulator = null!;
    private Setting _setting = null!;
    private Fault[] _faults = [];

    [Params("mode=off", "mode=screen", "mode=auto, warmth=0, cabin=30 degC")]
    public string Words { get; set; } = "";

    [Params("", "Y1:coil-open", "K1:stuck-open")]
    public string Fault { get; set; } = "";

    [GlobalSetup]
    public void Setup()
    {
        UnitModel model = Unit.Compile();
        (_simulator, _setting) = (new(model), Unit.Set(model, Words));
        _faults = Fault.Length == 0 ? [] : [model.FindFault(Fault)!];
    }

    [Benchmark]
    public Settled Settle() => _simulator.Settle(_setting, _faults);
}
