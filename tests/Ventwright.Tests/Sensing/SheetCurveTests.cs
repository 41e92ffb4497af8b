using Ventwright.Bench.Sensors;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Sensing;
using Ventwright.Simulation;

namespace Ventwright.Tests.Sensing;

public class SheetCurveTests
{
    private const string Head = """
        sheet: 1   # version
        unit: One sensor
        supply: { volts: 12 V }
        conditions: { cabin: 22 degC }   # warm
        spare: [sense]

        parts:
          # the sensor
        """;

    private static readonly string[] Parts =
    [
        "  RT1: { thermistor: [sense, gnd], at: cabin, r25: 5 kohm, beta: 3500, tolerance: 1 K, name: Cabin sensor }   # guessed",
        "  RT1: { thermistor: [sense, gnd], beta: 3500, at: cabin, r25: 5 kohm }",
        "  RT1:\n    name: Cabin sensor\n    thermistor: [sense, gnd]\n    r25: 5 kohm   # guessed\n    beta: 3500   # guessed too\n    at: cabin",
        "  RT1:\n    thermistor: [sense, gnd]\n    at: cabin\n    table: { 0 degC: 15 kohm, 25 degC: 5 kohm }   # poor\n    tolerance: 2 K",
        "  RT1:\n    thermistor: [sense, gnd]\n    at: cabin\n    table:\n      0 degC: 15 kohm   # ice\n      25 degC: 5 kohm\n    tolerance: 2 K",
        "  RT1: { thermistor: [sense, gnd], at: cabin,   # two lines\n    r25: 5 kohm,   # guessed\n    beta: 3500 }",
    ];

    private const string Tail = "\n  R1: { resistor: 10 kohm, from: sense, to: battery, tolerance: 5 % }   # pull-up\n";

    public static TheoryData<int, int, string> Layouts()
    {
        var all = new TheoryData<int, int, string>();
        for (int i = 0; i < Parts.Length; i++) foreach (int readings in (int[])[2, 5]) foreach (string newline in (string[])["\n", "\r\n"]) all.Add(i, readings, newline);
        return all;
    }

    [Theory]
    [MemberData(nameof(Layouts))]
    public void Only_the_curve_of_the_sensor_changes_and_the_sheet_stays_right(int layout, int readings, string newline)
    {
        string text = $"{Head}\n{Parts[layout]}{Tail}".ReplaceLineEndings(newline);
        UnitModel before = Load(text);
        SheetCurve? written = SheetCurve.TryWrite("one.yaml", text, Characterised(before, readings), out string? problem);
        Assert.True(written is not null, problem);
        UnitModel after = Load(written.Text);
        ThermistorCurve curve = SensorPart.TryFind(after, "RT1", out _)!.Curve;
        for (int c = 0; c <= 50; c += 5) Assert.Equal(c + 273.15, curve.Kelvin(Truth(c)), 0.35);
        Assert.True(written.LargestErrorK < 0.2, $"{written.LargestErrorK}");

        string[] old = Words(text), now = Words(written.Text);
        foreach (string comment in old.Where(l => l.Contains('#')).Select(l => l[l.IndexOf('#', StringComparison.Ordinal)..])) Assert.Contains(now, l => l.EndsWith(comment, StringComparison.Ordinal));
        foreach (string other in old.Where(l => !l.Contains("r25", StringComparison.Ordinal) && !l.Contains("beta", StringComparison.Ordinal) && !l.Contains("table", StringComparison.Ordinal) && !l.Contains("degC: ", StringComparison.Ordinal))) Assert.Contains(other, now);
        Assert.Equal(before.Parts.Select(p => p.Name), after.Parts.Select(p => p.Name));
        Assert.Equal(readings == 2, written.Text.Contains("beta:", StringComparison.Ordinal));
    }

    [Fact]
    public void Shipped_sheet_changes_in_one_line_only()
    {
        string path = Path.Combine(ShippedSheets.Root(), "sheets", "twin-blower-automatic.yaml"), text = File.ReadAllText(path);
        SensorCheck check = SensorCheck.TryMake(ShippedSheets.Automatic, "RT1", [new(Bath.Ice, 30.1e3), new(Bath.At(294.15, 0.5), 11e3)], OhmmeterAccuracy.Usual, null, [], out _)!;
        SheetCurve written = SheetCurve.TryWrite(path, text, check, out _)!;
        string[] before = text.Split('\n'), after = written.Text.Split('\n');
        Assert.Equal(before.Length, after.Length);
        int line = Assert.Single(Enumerable.Range(0, before.Length), i => before[i] != after[i]);
        Assert.Equal(written.Line, line + 1);
        Assert.Equal("r25: 10 kohm, beta: 3950", written.Before);
    }

    [Fact]
    public void A_part_that_stands_in_another_sheet_is_refused()
    {
        UnitModel unit = Load($"{Head}\n{Parts[0]}{Tail}");
        Assert.Null(SheetCurve.TryWrite("other.yaml", "sheet: 1\nlike: one.yaml\nunit: Other\n", Characterised(unit, 2), out string? problem));
        Assert.Contains("does not stand in other.yaml", problem, StringComparison.Ordinal);
    }

    private static string[] Words(string text) => [.. text.Split('\n').Select(l => l.TrimEnd('\r'))];

    private static double Truth(double celsius) => CommonCurve.Ohms(celsius + 273.15);

    private static SensorCheck Characterised(UnitModel unit, int readings)
    {
        double[] celsius = readings == 2 ? [5, 40] : [0, 12, 25, 38, 50];
        SensorCheck? check = SensorCheck.TryMake(
            new Simulator(unit), "RT1", [.. celsius.Select(c => new SensorReading(Bath.At(c + 273.15, 0.1), Truth(c)))], new(0.001, 0.1), null, [], out string? problem);
        Assert.True(check is not null, problem);
        return check;
    }

    private static UnitModel Load(string text)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("one.yaml", text, problems);
        Assert.True(model is not null && !problems.HasErrors, string.Join('\n', problems.Sorted));
        return model;
    }
}
