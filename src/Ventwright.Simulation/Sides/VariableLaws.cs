using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>What each variable is, given the nets, hoses and other variables as they stand. Shared by settling and by runs in time.</summary>
internal sealed class VariableLaws(UnitModel model, Topology topology, ElectricSolver electric, ModuleRunner? module)
{
    /// <summary>Parameters, variables and depressions to judge by.</summary>
    public void Use(double[] p, double[] x, double[] depressionPa) => (_p, _x, _depression) = (p, x, depressionPa);

    private double[] _p = [], _x = [], _depression = [];

    /// <summary>Value of a variable. Servos and what is given keep the value that they have: they follow rules of their own.</summary>
    public double Judge(int index, Variable v)
    {
        int at = v.Parameter;
        switch (v.Law)
        {
            case VariableLaw.Coil:
                double across = electric.Open[v.Input] ? 0 : Math.Abs(Across(v.Input));
                return across >= _p[at + 1] ? 1 : across <= _p[at + 2] ? 0 : _x[index];
            case VariableLaw.Threshold:
                return Threshold(v, _p, _x, _x[index]);
            case VariableLaw.Travel:
                double first = Travel(v.Input, at);
                return v.Second < 0 ? first : 0.5 * (first + Math.Min(first, Travel(v.Second, at)));
            case VariableLaw.Linkage:
                return Math.Clamp(_p[at + 1] + (_p[at + 2] * _x[v.Input]), 0, 1);
            case VariableLaw.Blocked:
                return Blocked(v);
            case VariableLaw.Speed:
                return electric.Open[v.Input] ? 0 : ElectricSolver.MotorSpeed(_p, model.Electric[v.Input].Parameter, Math.Abs(Across(v.Input)));
            case VariableLaw.Fuse:
                return _x[index] > 0.5 && Math.Abs(electric.Amps[v.Input]) <= _p[at + 1] ? 1 : 0;
            case VariableLaw.Output:
                return module!.Wanted(v.Input, _x);
            case VariableLaw.Graded:
                return Math.Max(0, (_p[at + 1] * Math.Abs(electric.Amps[v.Input])) + _p[at + 2]);
            case VariableLaw.Gap:
                return _x[v.Input] > _p[at + 1] && _x[v.Input] < _p[at + 2] ? 0 : 1;
            case VariableLaw.Powered:
                double supply = electric.Floating[v.Input] || electric.Floating[v.Second] ? 0 : electric.Volts[v.Input] - electric.Volts[v.Second];
                return supply >= _p[at + 1] ? 1 : supply <= _p[at + 2] ? 0 : _x[index];
            default:
                return _x[index];
        }
    }

    /// <summary>Contact moved by a quantity.</summary>
    public static double Threshold(Variable v, double[] p, double[] x, double before)
    {
        double felt = x[v.Input] - p[v.Parameter + 3];
        return felt > p[v.Parameter + 2] ? 1 : felt < p[v.Parameter + 1] ? 0 : before;
    }

    /// <summary>Way that a servo is driven: -1, 0 or 1.</summary>
    public double Direction(Variable servo)
    {
        double across = Drive(servo);
        return Math.Abs(across) < _p[servo.Parameter + 2] ? 0 : Math.Sign(across) * _p[servo.Parameter + 1];
    }

    /// <summary>Volts over a servo's motor.</summary>
    public double Drive(Variable servo) => electric.Open[servo.Input] ? 0 : Across(servo.Input);

    private double Across(int branch) => electric.Volts[topology.A[branch]] - electric.Volts[topology.B[branch]];

    private double Travel(int hose, int at) => Math.Clamp((_depression[hose] - _p[at + 1]) / (_p[at + 2] - _p[at + 1]), 0, 1);

    private double Blocked(Variable v)
    {
        Variable servo = model.Variables[v.Input];
        double direction = Direction(servo);
        double position = _x[v.Input];
        bool jammed = !double.IsNaN(_p[servo.Parameter]) && direction != 0;
        return jammed || (direction > 0 && position >= 1) || (direction < 0 && position <= 0) ? 1 : 0;
    }
}
