using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>One column of the chart: a position of a control, with the first dial somewhere, and the unit at rest there.</summary>
/// <param name="Control">The control that is turned.</param>
/// <param name="Position">Its position.</param>
/// <param name="Dial">Value of the first dial, or null where the unit has none.</param>
/// <param name="Setting">The setting.</param>
/// <param name="Rest">The unit at rest in it.</param>
/// <param name="Shows">What each row shows, in the order of <see cref="FunctionChart.Rows"/>.</param>
public sealed record ChartColumn(Control Control, string Position, double? Dial, Setting Setting, Settled Rest, IReadOnlyList<Shown> Shows);

/// <summary>The function chart: what flaps, actuators, servos, motors and vents do in each position of each control.</summary>
public sealed class FunctionChart
{
    private FunctionChart(Observable[] rows, Control? dial, ChartColumn[] columns) => (Rows, Dial, Columns) = (rows, dial, columns);

    /// <summary>What the rows look at.</summary>
    public IReadOnlyList<Observable> Rows { get; }

    /// <summary>The dial that is tried low, in the middle and high in every position, or null.</summary>
    public Control? Dial { get; }

    /// <summary>Columns, by control, position and dial.</summary>
    public IReadOnlyList<ChartColumn> Columns { get; }

    /// <summary>Works the chart out.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="held">Controls and conditions that are held, unless the chart turns them.</param>
    /// <exception cref="RefusedException">Something that is held does not fit the unit.</exception>
    public static FunctionChart Make(Simulator simulator, IReadOnlyCollection<(string Name, string Value)> held)
    {
        UnitModel model = simulator.Model;
        Observable[] rows = [.. model.Points.Where(p => p.When == PointState.Running && IsCharted(model, p)).Select(p => p.What).Distinct()];
        Control? dial = Array.Find(model.Controls, c => c.Positions.Length == 0);
        double?[] dials = dial is null ? [null] : [dial.Low, (dial.Low + dial.High) / 2, dial.High];
        List<ChartColumn> columns = [];
        foreach (Control control in model.Controls.Where(c => c.Positions.Length > 0))
        {
            foreach (string position in control.Positions)
            {
                foreach (double? value in dials)
                {
                    List<(string, string)> words = [.. held, (control.Name, position)];
                    if (value is { } number) words.Add((dial!.Name, number.ToString("R", CultureInfo.InvariantCulture)));
                    Setting setting = SettingWords.Make(model, words);
                    Settled rest = simulator.Settle(setting, []);
                    columns.Add(new(control, position, value, setting, rest, [.. rows.Select(r => Readings.Read(simulator, setting, [], rest, r))]));
                }
            }
        }

        return new(rows, dial, [.. columns]);
    }

    private static bool IsCharted(UnitModel model, Point point) => point.What.Kind switch
    {
        ObservableKind.Position or ObservableKind.Motion => true,
        ObservableKind.Airflow => model.Parts[point.Part].Kind == "vent",
        _ => false,
    };
}
