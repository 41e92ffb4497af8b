using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Time;

/// <summary>The module in time: it looks at its pins at its own rate, follows rising inputs slowly where the sheet says so, and waits before it switches on.</summary>
internal sealed class ModuleClock(UnitModel model, ModuleProgram program, ModuleRunner rules)
{
    private readonly double[] _slow = [.. program.Inputs.Select(_ => double.NaN)];
    private readonly double[] _held = new double[program.Outputs.Length];
    private double _due;

    /// <summary>Seconds between two looks.</summary>
    public double Period { get; } = 1 / program.SamplesPerSecond;

    /// <summary>Whether it is time to look. Half a microsecond of grace, so that sums of binary fractions do not skip one.</summary>
    public bool Due(double seconds) => seconds >= _due - 5e-7;

    /// <summary>Looks at the pins if it is time to, and sets the outputs' variables; says whether it looked.</summary>
    /// <param name="seconds">Time of the run, s.</param>
    /// <param name="p">Parameters.</param>
    /// <param name="x">Variables; outputs are written.</param>
    /// <param name="volts">Volts of the nets.</param>
    public bool Look(double seconds, double[] p, double[] x, double[] volts)
    {
        if (!Due(seconds)) return false;
        _due = seconds + Period;
        bool powered = x[program.Powered] > 0.5;
        rules.ReadInputs(p, volts);
        if (powered) FollowSlowly();
        else Forget();
        rules.WorkOut(p);
        for (int i = 0; i < program.Outputs.Length; i++) Drive(i, p, x, powered);
        return true;
    }

    /// <summary>Sets the outputs to rest when the module has lost its supply between two looks.</summary>
    public void DropOut(double[] p, double[] x)
    {
        Forget();
        for (int i = 0; i < program.Outputs.Length; i++) Drive(i, p, x, false);
    }

    private void FollowSlowly()
    {
        for (int i = 0; i < program.Inputs.Length; i++)
        {
            ModuleInput input = program.Inputs[i];
            if (input.SlowRiseS <= 0) continue;
            double seen = rules.Signals[input.Signal];
            if (!(seen > _slow[i])) _slow[i] = seen;
            else _slow[i] += (seen - _slow[i]) * (1 - Math.Exp(-Period / input.SlowRiseS));
            rules.Signals[input.Signal] = _slow[i];
        }
    }

    private void Forget()
    {
        Array.Fill(_slow, double.NaN);
        Array.Clear(_held);
    }

    private void Drive(int index, double[] p, double[] x, bool powered)
    {
        ModuleOutput output = program.Outputs[index];
        double force = p[model.Variables[output.Variable].Parameter], before = x[output.Variable];
        double wanted = rules.Wanted(index, x);
        if (output.Kind == OutputKind.Seek && powered && before is 1 or -1 && wanted == -before) wanted = Math.Abs(rules.Errors[index]) > output.DeadBand ? wanted : 0;
        if (output.AfterS > 0 && wanted > 0.5 && before < 0.5)
        {
            _held[index] += Period;
            if (_held[index] < output.AfterS) wanted = 0;
        }
        else
        {
            _held[index] = 0;
        }

        x[output.Variable] = double.IsNaN(force) ? wanted : force;
    }
}
