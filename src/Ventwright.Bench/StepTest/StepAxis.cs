using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;

namespace Ventwright.Bench.StepTest;

/// <summary>Something that the step test turns: a resistance in place of a sensor, or a dial.</summary>
public sealed class StepAxis
{
    private readonly ThermistorCurve? _curve;

    private StepAxis(string word, string name, double low, double high, double start, ThermistorCurve? curve)
    {
        (Word, Name, Low, High, Start, _curve) = (word, name, low, high, start, curve);
    }

    /// <summary>Word of the setting that it turns: <c>stand-in RT1</c> or <c>warmth</c>.</summary>
    public string Word { get; }

    /// <summary>Name in words.</summary>
    public string Name { get; }

    /// <summary>Lowest value: K for a sensor, dial value for a dial.</summary>
    public double Low { get; }

    /// <summary>Highest value.</summary>
    public double High { get; }

    /// <summary>Value at the start of a test.</summary>
    public double Start { get; }

    /// <summary>Whether it is a sensor.</summary>
    public bool IsSensor => _curve is not null;

    /// <summary>
    /// The axes of a unit: every thermistor over the working range (10 degC below freezing to 60, or 100 for one that starts above 50; common practice, no
    /// source), and every dial.
    /// </summary>
    public static IReadOnlyList<StepAxis> Of(UnitModel model)
    {
        var axes = new List<StepAxis>();
        foreach (ElectricBranch sensor in model.Electric.Where(b => b.Law == ElectricLaw.Thermistor))
        {
            PartInfo part = model.Parts[sensor.Part];
            double start = model.Variables[sensor.Variable].Start;
            axes.Add(new($"stand-in {part.Id}", part.Name, 263.15, 333.15, start, model.CurveOf(sensor)));
        }

        foreach (Control dial in model.Controls.Where(c => c.Positions.Length == 0))
            axes.Add(new(dial.Name, dial.Name, dial.Low, dial.High, model.Variables[dial.Variable].Start, null));
        return axes;
    }

    /// <summary>How it is written in a setting: ohms at three digits for a sensor, so that a person can set them.</summary>
    public string Text(double value) => _curve is null
        ? Math.Round(value, 2).ToString(CultureInfo.InvariantCulture)
        : CarSensors.Settable(_curve.Ohms(value)).ToString(CultureInfo.InvariantCulture) + " ohm";

    /// <summary>How far from a threshold a step stands: 2 K, or a twentieth of the dial.</summary>
    public double Margin => IsSensor ? 2 : 0.05 * (High - Low);

    /// <summary>How near a threshold is found: 0.1 K, or a two-hundredth of the dial.</summary>
    public double Resolution => IsSensor ? 0.1 : 0.005 * (High - Low);
}
