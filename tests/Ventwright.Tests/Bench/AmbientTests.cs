using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What all sensors feel is known only so well: one error that they share, learnt from their readings. No outside source; the sensors' own curves are checked elsewhere.</summary>
public sealed class AmbientTests
{
    [Fact]
    public void A_cold_bench_does_not_make_all_sensors_suspects()
    {
        (double known, double exact) = (NoFault(With("8 K"), -8), NoFault(With(null), -8));
        Assert.True(known > 3 * exact, $"no fault: {known:0.000} with a shared error, {exact:0.000} without");
    }

    [Fact]
    public void One_sensor_that_strays_alone_stays_a_suspect()
    {
        Simulator unit = With("1.5 K");
        BenchDiagnosis bench = Told(unit, 0, strays: 8);
        Assert.True(bench.Explain().NoFault < 0.2);
    }

    [Fact]
    public void The_error_moves_the_surroundings_and_nothing_else()
    {
        Simulator unit = With("1.5 K");
        Setting setting = ShippedSheets.Set(unit, "supply=off");
        double[] parameters = unit.Parameters(setting, []);
        parameters[unit.Model.AmbientOffset] = -5;
        Observable sensor = Ohms(unit)[0];
        Shown off = new Readout(unit, [sensor]).Read(setting, [], unit.Settle(setting, [], parameters, null))[0];
        Shown told = ShippedSheets.Look(unit, Warmer(unit, -5), sensor.ToString());
        Assert.Equal(told.Value, off.Value, 1e-9 * told.Value);
    }

    private static double NoFault(Simulator unit, double colder) => Told(unit, colder, 0).Explain().NoFault;

    /// <summary>All sensors are read over their own ends, on a bench that is warmer than told by some kelvins; the first one may stray by more.</summary>
    private static BenchDiagnosis Told(Simulator unit, double warmer, double strays)
    {
        var bench = new BenchDiagnosis(unit);
        Observable[] sensors = Ohms(unit);
        for (int i = 0; i < sensors.Length; i++)
        {
            double ohms = ShippedSheets.Look(unit, Warmer(unit, warmer + (i == 0 ? strays : 0)), sensors[i].ToString()).Value;
            bench.Take($"r{i}", ShippedSheets.Set(unit, "supply=off"), sensors[i], Outcome.Number(BenchMeter.ToScale(ObservableKind.Ohms, ohms)));
        }

        return bench;
    }

    private static string Warmer(Simulator unit, double kelvin) => "supply=off, " + string.Join(", ", unit.Model.Conditions.Where(c => c.Dimension == Dimension.Temperature)
        .Select(c => FormattableString.Invariant($"{c.Name}={unit.Model.Variables[c.Variable].Start - 273.15 + kelvin:R} degC")));

    /// <summary>The check that reads each thermistor between its own ends.</summary>
    private static Observable[] Ohms(Simulator unit)
    {
        int[] sensors = [.. Enumerable.Range(0, unit.Model.Parts.Length).Where(p => unit.Model.Parts[p].Kind == "thermistor")];
        Observable[] checks = [.. sensors.Select(p => unit.Model.Points.First(o => o.Part == p && o.What.Kind == ObservableKind.Ohms).What)];
        Assert.True(checks.Length >= 4);
        return checks;
    }

    private static Simulator With(string? thermometer)
    {
        string path = Path.Combine(ShippedSheets.Root(), "sheets", "twin-blower-automatic.yaml");
        string[] lines = [.. File.ReadAllLines(path).Where(l => !l.StartsWith("thermometer:", StringComparison.Ordinal)).SelectMany(l =>
            thermometer is not null && l.StartsWith("conditions:", StringComparison.Ordinal) ? (string[])[$"thermometer: {thermometer}", l] : [l])];
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read(path, string.Join('\n', lines), problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted));
        return new(model);
    }
}
