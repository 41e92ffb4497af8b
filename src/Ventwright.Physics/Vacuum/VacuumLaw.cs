using Ventwright.Numerics;

namespace Ventwright.Physics.Vacuum;

/// <summary>How a branch takes part in a solve.</summary>
internal enum BranchMode : byte
{
    /// <summary>Not there: conductance 0, or a check valve that is held shut.</summary>
    Absent,

    /// <summary>Passes both ways.</summary>
    TwoWay,

    /// <summary>Passes from A to B only.</summary>
    OneWay,
}

/// <summary>ISO 6358 flow of every branch between absolute pressures in Pa.</summary>
internal readonly ref struct VacuumLaw(
    ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<BranchMode> mode, double massFactor) : IBranchLaw
{
    private readonly ReadOnlySpan<double> _conductance = conductance, _criticalRatio = criticalRatio;
    private readonly ReadOnlySpan<BranchMode> _mode = mode;
    private readonly double _massFactor = massFactor;

    public double Flow(int branch, double a, double b, out double slopeA, out double slopeB)
    {
        BranchMode state = _mode[branch];
        if (state == BranchMode.Absent || (state == BranchMode.OneWay && a < b))
        {
            slopeA = slopeB = 0.0;
            return 0.0;
        }

        double c = _conductance[branch] * _massFactor;
        if (a >= b) return Iso6358.Forward(c, _criticalRatio[branch], a, b, out slopeA, out slopeB);
        double back = Iso6358.Forward(c, _criticalRatio[branch], b, a, out double slopeHigh, out double slopeLow);
        (slopeA, slopeB) = (-slopeLow, -slopeHigh);
        return -back;
    }
}

/// <summary>Flow in proportion to the pressure difference: gives a start for networks that Newton cannot solve from the caller's start.</summary>
internal readonly ref struct LinearVacuumLaw(ReadOnlySpan<double> conductance, ReadOnlySpan<BranchMode> mode, double massFactor) : IBranchLaw
{
    private readonly ReadOnlySpan<double> _conductance = conductance;
    private readonly ReadOnlySpan<BranchMode> _mode = mode;
    private readonly double _massFactor = massFactor;

    public double Flow(int branch, double a, double b, out double slopeA, out double slopeB)
    {
        slopeA = _mode[branch] == BranchMode.Absent ? 0.0 : _conductance[branch] * _massFactor;
        slopeB = -slopeA;
        return slopeA * (a - b);
    }
}
