using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Time;

/// <summary>Temperature of each thermistor, which follows what surrounds it with the lag on the sheet: T' = (surroundings - T) / lag.</summary>
internal sealed class SensorLags
{
    private readonly (int Branch, int Parameter, int Variable, int Part)[] _sensors;
    private readonly double[] _kelvin, _offset, _override;

    public SensorLags(UnitModel model)
    {
        _sensors = [.. model.Electric.Index().Where(e => e.Item.Law == ElectricLaw.Thermistor).Select(e => (e.Index, e.Item.Parameter, e.Item.Variable, e.Item.Part))];
        (_kelvin, _offset, _override) = (new double[_sensors.Length], new double[_sensors.Length], new double[_sensors.Length]);
        Array.Fill(_override, double.NaN);
        Array.Fill(_kelvin, double.NaN);
    }

    /// <summary>Temperatures that the sensors have, in the order of their branches, K.</summary>
    public ReadOnlySpan<double> Kelvin => _kelvin;

    /// <summary>Says what surrounds one sensor, where that differs from the condition that it is said to feel.</summary>
    public void Surround(int part, double kelvin)
    {
        for (int i = 0; i < _sensors.Length; i++)
        {
            if (_sensors[i].Part == part) _override[i] = kelvin;
        }
    }

    /// <summary>Takes over fresh parameters: keeps the offsets that tolerance and faults give.</summary>
    public void Use(double[] p, double[] x)
    {
        for (int i = 0; i < _sensors.Length; i++)
        {
            _offset[i] = p[_sensors[i].Parameter + 2];
            if (double.IsNaN(_kelvin[i])) _kelvin[i] = Surroundings(i, x);
        }

        Write(p, x);
    }

    /// <summary>Moves the temperatures on and writes them into the parameters as an offset to the condition.</summary>
    public void Advance(double seconds, double[] p, double[] x)
    {
        for (int i = 0; i < _sensors.Length; i++)
        {
            double lag = p[_sensors[i].Parameter + 4], goal = Surroundings(i, x);
            _kelvin[i] = lag > 0 ? goal + ((_kelvin[i] - goal) * Math.Exp(-seconds / lag)) : goal;
        }

        Write(p, x);
    }

    private double Surroundings(int sensor, double[] x) => double.IsNaN(_override[sensor]) ? x[_sensors[sensor].Variable] : _override[sensor];

    private void Write(double[] p, double[] x)
    {
        for (int i = 0; i < _sensors.Length; i++) p[_sensors[i].Parameter + 2] = _offset[i] + _kelvin[i] - x[_sensors[i].Variable];
    }
}
