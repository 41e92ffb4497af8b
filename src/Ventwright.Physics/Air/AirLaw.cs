using Ventwright.Numerics;

namespace Ventwright.Physics.Air;

/// <summary>q = g sign(x) sqrt(|x|) with x = pA - pB + E and g = 1/sqrt(k); near x = 0 the cubic piece of <see cref="SmoothRoot"/>.</summary>
internal readonly ref struct AirLaw(ReadOnlySpan<double> rootConductance, ReadOnlySpan<double> fanPressurePa) : IBranchLaw
{
    private readonly ReadOnlySpan<double> _rootConductance = rootConductance, _fanPressurePa = fanPressurePa;

    public double Flow(int branch, double a, double b, out double slopeA, out double slopeB)
    {
        double g = _rootConductance[branch];
        if (g == 0.0)
        {
            slopeA = slopeB = 0.0;
            return 0.0;
        }

        double root = SmoothRoot.Signed(a - b + _fanPressurePa[branch], AirNetwork.SmoothPressurePa, out double slope);
        slopeA = g * slope;
        slopeB = -slopeA;
        return g * root;
    }
}
