using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Tests;

public class RigFileTests
{
    [Fact]
    public void EveryProblemIsToldAtOnceWithItsPlace()
    {
        IReadOnlyList<Problem> problems = Rigs.Problems("""
            rig: 1
            devices:
              box: { kind: modbus-tcq, address: 10.0.0.2 }
              board: { kind: firmata, prt: /dev/x }
            outputs:
              a: { device: bord, gives: relay, pin: 3, wired-to: supply, safe: off }
              b: { device: board, gives: resistance, chip: mcp45xx, i2c: 0x99, full: 50 kohm, wired-to: RT2, limits: 1 kohm .. 40 kohm, safe: 10 V }
              c: { device: board, gives: relay, pin: 4, wired-to: pump }
            inputs:
              d: { device: board, reads: voltage, pin: A0, wired-to: sens }
            """);
        (int, string)[] wanted =
        [
            (3, "did you mean 'modbus-tcp'?"), (4, "'port' is missing"), (4, "did you mean 'port'?"), (6, "did you mean 'board'?"), (7, "0x99"), (7, "did you mean 'RT1'?"), (7, "a resistance"),
            (8, "'safe' is missing"), (10, "did you mean 'sense'?"),
        ];
        foreach ((int line, string text) in wanted) Assert.Contains(problems, p => p.At.Line == line && p.At.Column > 1 && p.ToString().Contains(text, StringComparison.Ordinal));
        Assert.Equal(wanted.Length, problems.Count);
    }

    [Theory]
    [InlineData("cabin: { device: box, gives: resistance, holding: 8, wired-to: L1, limits: 1 ohm .. 2 ohm, safe: 1 ohm }", "cannot stand in for L1")]
    [InlineData("cabin: { device: box, gives: resistance, holding: 8, wired-to: RT1, limits: 1 kohm .. 2 kohm, safe: 3 kohm }", "not within the limits")]
    [InlineData("cabin: { device: box, gives: resistance, holding: 8, wired-to: RT1, limits: 1 kohm .. 2 kohm, safe: open }", "cannot open")]
    [InlineData("cabin: { device: box, gives: relay, coil: 8, wired-to: supply, safe: on }", "the safe state of the supply is off")]
    [InlineData("cabin: { device: box, gives: relay, holding: 8, wired-to: supply, safe: off }", "'coil: 0'")]
    [InlineData("cabin: { device: box, gives: voltage, coil: 8, wired-to: sense, limits: 0 V .. 5 V, safe: 0 V }", "'holding: 0'")]
    [InlineData("cabin: { device: box, gives: relay, coil: 8, wired-to: sense, safe: off }", "'joins-to' is missing")]
    [InlineData("cabin: { device: box, gives: voltage, holding: 8, calibration: [[0, 1 V], [0, 2 V]], wired-to: sense, limits: 0 V .. 5 V, safe: 0 V }", "two points have the raw number")]
    [InlineData("cabin: { device: box, gives: voltage, holding: 8, calibration: [[0, 1 V], [1, 2 V], [2, 1 V]], wired-to: sense, limits: 0 V .. 5 V, safe: 0 V }", "must rise, or fall")]
    public void WhatCannotBeIsRefused(string output, string message)
    {
        Problem problem = Assert.Single(Rigs.Problems($"rig: 1\ndevices:\n  box: {{ kind: modbus-tcp, address: 10.0.0.2 }}\noutputs:\n  {output}\n"));
        Assert.Equal(5, problem.At.Line);
        Assert.Contains(message, problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void TwoOutputsOnOneSensorAndOnePointForTwoAreTold()
    {
        IReadOnlyList<Problem> problems = Rigs.Problems("""
            rig: 1
            devices:
              box: { kind: modbus-tcp, address: 10.0.0.2 }
            outputs:
              a: { device: box, gives: resistance, holding: 8, wired-to: RT1, limits: 1 kohm .. 40 kohm, safe: 10 kohm }
              b: { device: box, gives: resistance, holding: 8, wired-to: RT1, limits: 1 kohm .. 40 kohm, safe: 10 kohm }
            """);
        Assert.Contains(problems, p => p.Code == "double-wire" && p.At.Line == 6);
        Assert.Contains(problems, p => p.Code == "double-point" && p.At.Line == 6);
    }

    [Fact]
    public void TwoDevicesOnOnePortAreToldToShareIt()
    {
        string text = "rig: 1\ndevices:\n  a: { kind: modbus-rtu, port: COM3 }\n  b: { kind: modbus-rtu, port: COM3, unit: 2 }\n";
        Assert.Contains("give each channel its 'unit'", Assert.Single(Rigs.Problems(text)).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void NoTextHoweverBrokenThrows()
    {
        string root = Path.GetFullPath(Path.Combine(Peer.Scripts, "../../.."));
        string[] texts = [.. Directory.GetFiles(Path.Combine(root, "rigs"), "*.yaml").Select(File.ReadAllText), "rig: 1\ndevices:\n  box: { kind: modbus-tcp, address: a }\n" + Rigs.Channels];
        var random = new Random(7);
        int refused = 0;
        for (int i = 0; i < 3000; i++)
        {
            var text = new System.Text.StringBuilder(texts[i % texts.Length]);
            for (int slips = random.Next(1, 6); slips > 0; slips--)
            {
                int at = random.Next(text.Length);
                switch (random.Next(3))
                {
                    case 0: text.Remove(at, Math.Min(random.Next(1, 12), text.Length - at)); break;
                    case 1: text.Insert(at, "{}[]:,-#'\"\n 09.%&*!\0\u03a9"[random.Next(20)]); break;
                    default: text[at] = (char)random.Next(32, 127); break;
                }
            }

            var problems = new ProblemList();
            RigDefinition? rig = RigFile.Read("rig.yaml", text.ToString(), Rigs.Model, problems);
            Assert.Equal(rig is null, problems.HasErrors);
            if (rig is null) refused++;
        }

        Assert.InRange(refused, 1000, 2999);
    }

    [Fact]
    public void CalibrationGoesThroughItsPointsAndBack()
    {
        Calibration falling = Calibration.Through([(0, 50e3), (128, 20e3), (256, 75)], out _)!;
        Assert.Equal(35e3, falling.ToValue(64), 6);
        foreach (double raw in (double[])[-10, 0, 30, 128, 200, 300]) Assert.Equal(raw, falling.ToRaw(falling.ToValue(raw)), 9);
        Assert.Equal(2.5, Calibration.Line(2, 0.5).ToValue(1));
    }

    [Fact]
    public void SwitchedResistorsTakeTheNearestCombination()
    {
        var parallel = new SwitchedResistors([1000, 2000, 4000], isParallel: true);
        Assert.Equal([1.0, 1, 0], parallel.ToRaw(700)); // 1000 and 2000 in parallel: 666.7; all three 571.4; the first alone 1000
        Assert.Equal(2000.0 / 3, parallel.ToValue([1.0, 1, 0]), 6);
        Assert.Equal([0.0, 0, 0], parallel.ToRaw(double.PositiveInfinity));
        var series = new SwitchedResistors([1000, 2000, 4000], isParallel: false);
        Assert.Equal(5000, series.ToValue(series.ToRaw(5200)));
    }

    [Fact]
    public void ShippedRigsFitTheirSheets()
    {
        string root = Path.GetFullPath(Path.Combine(Peer.Scripts, "../../.."));
        string[] rigs = Directory.GetFiles(Path.Combine(root, "rigs"), "*.yaml");
        Assert.NotEmpty(rigs);
        foreach (string rig in rigs)
        {
            var problems = new ProblemList();
            string sheet = File.ReadLines(rig).First().Split("sheets/")[1].Split(".yaml")[0];
            var model = Model.Build.SheetFile.Load(Path.Combine(root, "sheets", sheet + ".yaml"), problems);
            Assert.NotNull(RigFile.Load(rig, model!, problems));
            Assert.Empty(problems.Sorted);
        }
    }
}
