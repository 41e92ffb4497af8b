using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Tests;

/// <summary>A small unit, and rigs wired to it.</summary>
internal static class Rigs
{
    public const string SheetText = """
        sheet: 1
        unit: Small unit
        supply: { volts: 13.2 V, tolerance: 0.3 V, source: 20 mohm }
        controls:
          mode: { positions: [off, on] }
        conditions:
          cabin: 22 degC
        parts:
          F1: { fuse: 20 A, from: battery, to: feed }
          S1: { switch: mode, joins: { off: none, on: [[feed, load]] } }
          L1: { lamp: 21 W, from: load, to: gnd }
          R1: { resistor: 10 kohm, from: feed, to: sense }
          RT1: { thermistor: [sense, gnd], at: cabin, r25: 10 kohm, beta: 3950 }
          P1: { vacuum-source: vac.pump, depression: 60 kPa }
          H1: { hose: [vac.pump, vac.end] }
          A1: { vacuum-actuator: vac.end, moves: FL1 }
          FL1: { flap: [shut, open] }
        """;

    private static readonly Lazy<UnitModel> Loaded = new(() =>
    {
        var problems = new ProblemList();
        return SheetFile.Read("small.yaml", SheetText, problems) ?? throw new InvalidOperationException(string.Join('\n', problems.Sorted));
    });

    public const string Channels = """
        outputs:
          power: { device: box, gives: relay, coil: 5, wired-to: supply, safe: off }
          pump: { device: box, gives: relay, coil: 6, wired-to: pump, safe: off }
          cabin: { device: box, gives: resistance, holding: 8, calibration: { gain: 10 }, wired-to: RT1, limits: 1 kohm .. 40 kohm, safe: 10 kohm }
        inputs:
          lamp: { device: box, reads: voltage, input: 0, calibration: { gain: 0.01 }, wired-to: load, limits: -1 V .. 16 V }
          sensor: { device: box, reads: voltage, input: 1, calibration: { gain: 0.001 }, wired-to: sense }
          vacuum: { device: box, reads: pressure, input: 2, calibration: { gain: 10 }, wired-to: vac.end }
        """;

    public static UnitModel Model => Loaded.Value;

    public static RigDefinition Small { get; } = Read("rig: 1\ndevices:\n  box: { kind: modbus-tcp, address: 127.0.0.1, unit: 3 }\n" + Channels);

    public static RigDefinition Read(string text)
    {
        var problems = new ProblemList();
        return RigFile.Read("rig.yaml", text, Model, problems) ?? throw new InvalidOperationException(string.Join('\n', problems.Sorted));
    }

    public static IReadOnlyList<Problem> Problems(string text)
    {
        var problems = new ProblemList();
        RigFile.Read("rig.yaml", text, Model, problems);
        return problems.Sorted;
    }
}
