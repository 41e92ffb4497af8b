namespace Ventwright.Numerics;

/// <summary>What a <see cref="NodalNewton"/> solve has to know of the nodes. Spans are indexed by node.</summary>
public readonly ref struct NodeTerms
{
    /// <summary>Nodes whose potential is given.</summary>
    public required ReadOnlySpan<bool> Held { get; init; }

    /// <summary>Size of flows at the node (above zero for free nodes): residuals are judged in units of it.</summary>
    public required ReadOnlySpan<double> Scale { get; init; }

    /// <summary>Slope of the linear term Storage * potential - Source in the balance; empty when there is none.</summary>
    public ReadOnlySpan<double> Storage { get; init; }

    /// <summary>Constant part of that term, same length as <see cref="Storage"/>.</summary>
    public ReadOnlySpan<double> Source { get; init; }

    /// <summary>Size of potential differences; makes the damping term.</summary>
    public required double Drive { get; init; }

    /// <summary>Lower bound of all potentials.</summary>
    public required double Lowest { get; init; }

    /// <summary>Upper bound of all potentials.</summary>
    public required double Highest { get; init; }

    /// <summary>Largest step of a potential that counts as settled.</summary>
    public required double StepTolerance { get; init; }

    /// <summary>Largest residual, as a part of <see cref="Scale"/>, that counts as closed.</summary>
    public required double ResidualTolerance { get; init; }
}

/// <summary>How a Newton solve ended.</summary>
/// <param name="Converged">Balances closed and last step small.</param>
/// <param name="Iterations">Number of linear solves.</param>
/// <param name="LargestResidual">Largest residual of a free node, in the unit of flow.</param>
/// <param name="Node">The node that has it, -1 when all residuals are zero.</param>
public readonly record struct NewtonVerdict(bool Converged, int Iterations, double LargestResidual, int Node);
