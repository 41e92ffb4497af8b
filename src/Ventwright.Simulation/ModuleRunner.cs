using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>Evaluates the module's rules for given pin voltages.</summary>
internal sealed class ModuleRunner(UnitModel model, ModuleProgram program)
{
    private double[] _p = [];

    /// <summary>Signals as the module sees them.</summary>
    public double[] Signals { get; } = new double[program.SignalNames.Length];

    /// <summary>For each output: what it seeks, minus what it reads (servos); else 0.</summary>
    public double[] Errors { get; } = new double[program.Outputs.Length];

    /// <summary>Reads the pins and works out the signals.</summary>
    public void ReadPins(double[] p, double[] volts)
    {
        ReadInputs(p, volts);
        WorkOut(p);
    }

    /// <summary>Turns the volts of the pins into the signals of the inputs.</summary>
    public void ReadInputs(double[] p, double[] volts)
    {
        _p = p;
        double ground = volts[program.Ground];
        foreach (ModuleInput input in program.Inputs) Signals[input.Signal] = Read(input, p, volts, ground);
    }

    /// <summary>Works out the other signals and the servos' errors from those of the inputs.</summary>
    public void WorkOut(double[] p)
    {
        foreach (ModuleSignal signal in program.Signals) Signals[signal.Signal] = signal.Rule.Evaluate(Signals);
        for (int i = 0; i < Errors.Length; i++)
        {
            ModuleOutput output = program.Outputs[i];
            if (output.Kind != OutputKind.Seek) continue;
            double place = p[model.Variables[output.Servo].Parameter + 6];
            Errors[i] = output.Value.Evaluate(Signals) + (place * output.DeadBand) - Signals[output.Reads];
        }
    }

    /// <summary>The value that an output wants to have, given the value that it has.</summary>
    public double Wanted(int index, double[] x)
    {
        ModuleOutput output = program.Outputs[index];
        bool powered = x[program.Powered] > 0.5;
        if (!powered) return output.Kind == OutputKind.Seek ? 2 : 0;
        bool waits = output.WaitsFor is { } waitsFor && waitsFor.Evaluate(Signals) < 0.5;
        if (waits) return 0;
        double shift = output.ShiftParameter < 0 ? 0 : _p[output.ShiftParameter], value = output.Value.Evaluate(Signals, shift);
        switch (output.Kind)
        {
            case OutputKind.Switch:
                return output.Until is { } until && x[output.Variable] > 0.5 ? (until.Evaluate(Signals, shift) < 0.5 ? 1 : 0) : (value > 0.5 ? 1 : 0);
            case OutputKind.Volts:
                return Math.Max(0, value);
            default:
                // It starts when the error leaves the dead band and drives until hardly any is left.
                double enough = (x[output.Variable] is 1 or -1 ? 0.02 : 1) * output.DeadBand;
                return Math.Abs(Errors[index]) <= enough ? 0 : Math.Sign(Errors[index]);
        }
    }

    private static double Read(ModuleInput input, double[] p, double[] volts, double ground)
    {
        double force = p[input.Parameter], shift = p[input.Parameter + 3];
        if (!double.IsNaN(force)) return force;
        if (input.Reads == InputReads.Word)
        {
            for (int i = 0; i < input.Pins.Length; i++)
            {
                if (p[input.DeadParameters[i]] < 0.5 && volts[input.Pins[i]] - ground > p[input.Parameter + 1]) return i;
            }

            return input.Words.Length - 1;
        }

        double v = volts[input.Pins[0]] - ground;
        if (input.Reads == InputReads.Volts) return Math.Max(0, v + shift);
        if (input.Reads == InputReads.Level) return v + shift > p[input.Parameter + 1] ? 1 : 0;
        double reference = volts[input.Reference] - ground;
        double fraction = Math.Clamp((reference < 0.5 ? 0 : v / reference) + shift, 0, 1);
        if (input.Reads == InputReads.Fraction) return fraction;
        double share = Math.Clamp(fraction, 1e-4, 1 - 1e-4);
        return input.Curve!.Kelvin(p[input.Parameter + 2] * share / (1 - share)) - 273.15;
    }
}
