using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;

namespace Ventwright.Bench.Car;

/// <summary>A resistance that goes in place of a sensor.</summary>
/// <param name="Part">Id of the sensor.</param>
/// <param name="Name">Its name.</param>
/// <param name="Kelvin">What it is to read, K.</param>
/// <param name="Ohms">Resistance, ohm.</param>
public sealed record CarResistance(string Part, string Name, double Kelvin, double Ohms);

/// <summary>What the sensors of a unit would be in the car.</summary>
public static class CarSensors
{
    /// <summary>A resistance at three digits, so that a person can set it.</summary>
    /// <param name="ohms">Resistance, ohm, above 0.</param>
    public static double Settable(double ohms)
    {
        double size = Math.Pow(10, Math.Floor(Math.Log10(ohms)) - 2);
        return Math.Round(Math.Round(ohms / size) * size, 3);
    }

    /// <summary>Every thermistor of the unit with the resistance that it would have.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="car">The car.</param>
    /// <param name="airFlow">Flow of each air branch, m3/s: aspirated sensors need it.</param>
    /// <param name="weather">What the world does.</param>
    public static IEnumerable<CarResistance> Of(UnitModel model, BenchCar car, double[] airFlow, Weather weather)
    {
        foreach (ElectricBranch sensor in model.Electric.Where(b => b.Law == ElectricLaw.Thermistor))
        {
            PartInfo part = model.Parts[sensor.Part];
            Condition? feels = Array.Find(model.Conditions, c => c.Variable == sensor.Variable);
            Aspirator? aspirator = Array.Find(model.Aspirators, a => a.Sensor == sensor.Part);
            double kelvin = aspirator is not null ? car.AspiratedK(airFlow[aspirator.Branch], weather) : feels is null ? double.NaN : car.Condition(feels.Name, weather);
            // A condition that the car does not know stays as the sheet has it.
            if (double.IsNaN(kelvin)) kelvin = model.Variables[sensor.Variable].Start;
            yield return new(part.Id, part.Name, kelvin, model.CurveOf(sensor).Ohms(kelvin));
        }
    }
}
