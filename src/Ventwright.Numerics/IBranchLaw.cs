namespace Ventwright.Numerics;

/// <summary>Flow through each branch as a function of the potentials (pressures) at its ends.</summary>
public interface IBranchLaw
{
    /// <summary>Flow from A to B: it must not fall when <paramref name="a"/> rises and not rise when <paramref name="b"/> rises.</summary>
    /// <param name="branch">Index of the branch.</param>
    /// <param name="a">Potential at the start.</param>
    /// <param name="b">Potential at the end.</param>
    /// <param name="slopeA">Derivative of the flow with respect to <paramref name="a"/>.</param>
    /// <param name="slopeB">Derivative of the flow with respect to <paramref name="b"/>.</param>
    double Flow(int branch, double a, double b, out double slopeA, out double slopeB);
}
