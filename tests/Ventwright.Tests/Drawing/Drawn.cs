using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Tests.Drawing;

/// <summary>Units to draw: the shipped ones, odd ones, random ones.</summary>
internal static class Drawn
{
    /// <summary>A sheet that has one part and nothing else.</summary>
    public const string Lonely = """
        sheet: 1
        unit: One fuse
        supply: { volts: 13.2 V }
        spare: [feed]
        parts:
          F1: { fuse: 10 A, from: battery, to: feed }
        """;

    /// <summary>Wires alone: no module, no vacuum, no air.</summary>
    public const string WiresOnly = """
        sheet: 1
        unit: Switch and lamp
        supply: { volts: 13.2 V }
        controls: { lights: { positions: [off, on] } }
        parts:
          F1: { fuse: 10 A, from: battery, to: feed }
          S1: { switch: lights, joins: { off: none, on: [[feed, out]] } }
          L1: { lamp: 5 W, from: out, to: gnd }
        """;

    /// <summary>A hose that leads back to itself through another, and an actuator that moves nothing.</summary>
    public const string HosesOnly = """
        sheet: 1
        unit: Hoses
        supply: { volts: 13.2 V }
        parts:
          P1: { vacuum-source: main, depression: 60 kPa }
          H1: { hose: [main, a] }
          H2: { hose: [a, main] }
          A1: { vacuum-actuator: a }
        """;

    /// <summary>Streams in a circle, and none from outside.</summary>
    public const string RoundAndRound = """
        sheet: 1
        unit: Circle
        supply: { volts: 13.2 V }
        spare: [feed]
        spaces: { open: [outside] }
        parts:
          F1: { fuse: 10 A, from: battery, to: feed }
        air:
          one:   { from: a, to: b, area: 10 cm2 }
          two:   { from: b, to: c, area: 10 cm2 }
          three: { from: c, to: a, area: 10 cm2 }
          out:   { from: c, to: outside, area: 10 cm2 }
        """;

    public static UnitModel Read(string sheet)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("drawn.yaml", sheet, problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted) + "\n" + sheet);
        return model;
    }

    public static Simulator Shipped(bool automatic) => automatic ? ShippedSheets.Automatic : ShippedSheets.Manual;

    /// <summary>
    /// A random unit: fuses, switches, relays, lamps and plugs on random nets, valves, hoses and actuators on random hoses, ducts between random spaces. It need
    /// make no sense, only compile.
    /// </summary>
    public static UnitModel Random(int seed)
    {
        var random = new Random(seed);
        string Net() => $"n{random.Next(8)}";
        string Hose() => $"h{random.Next(6)}";
        static string Pair(Func<string> draw)
        {
            string a = draw(), b = draw();
            while (a == b) b = draw();
            return $"[{a}, {b}]";
        }

        List<string> parts = ["F0: { fuse: 10 A, from: battery, to: n0 }", "G0: { ground-point: n1 }", "P0: { vacuum-source: h0, depression: 60 kPa }"];
        for (int i = 1; i < random.Next(2, 14); i++)
        {
            string nets = Pair(Net), from = nets[1..3], to = nets[5..7], hoses = Pair(Hose);
            parts.Add(random.Next(9) switch
            {
                0 => $"L{i}: {{ lamp: 5 W, from: {from}, to: {to} }}",
                1 => $"R{i}: {{ resistor: 1 kohm, from: {from}, to: {to}, name: Some resistor with a rather long name }}",
                2 => $"K{i}: {{ relay: 85 ohm, coil: {nets}, normally-open: {Pair(Net)} }}",
                3 => $"S{i}: {{ switch: mode, joins: {{ off: none, on: [{nets}] }} }}",
                4 => $"X{i}: {{ connector: {{ 1: {nets}, 2: {Pair(Net)} }} }}",
                5 => $"Y{i}: {{ solenoid-valve: 42 ohm, coil: {nets}, ports: {{ supply: {hoses[1..3]}, outlet: {hoses[5..7]}, vent: atmosphere }} }}",
                6 => $"H{i}: {{ hose: {hoses} }}",
                7 => $"A{i}: {{ vacuum-actuator: {Hose()}, moves: FL{i} }}\n  FL{i}: {{ flap: [shut, open] }}",
                _ => $"M{i}: {{ motor: 5 A, from: {from}, to: {to} }}",
            });
        }

        List<string> air = [];
        for (int i = 0; i < random.Next(1, 10); i++)
        {
            string spaces = Pair(() => random.Next(6) is var s and > 0 ? $"s{s}" : "outside");
            string[] ends = spaces.Trim('[', ']').Split(", ");
            air.Add($"d{i}: {{ from: {ends[0]}, to: {ends[1]}, area: 20 cm2{(random.Next(3) == 0 ? ", seal: true" : "")} }}");
        }

        string text = string.Join(' ', parts);
        string[] spare = [.. Enumerable.Range(0, 8).SelectMany(i => (string[])[$"n{i}", $"h{i}"]).Where(n => text.Contains(n, StringComparison.Ordinal))];
        return Read($"sheet: 1\nunit: Random {seed}\nsupply: {{ volts: 13.2 V }}\nspare: [{string.Join(", ", spare)}]\ncontrols: {{ mode: {{ positions: [off, on] }} }}\nspaces: {{ open: [outside] }}\nparts:\n  {string.Join("\n  ", parts)}\nair:\n  {string.Join("\n  ", air)}\n");
    }
}
