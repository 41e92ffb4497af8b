namespace Ventwright.Physics;

/// <summary>What comes with every network answer.</summary>
/// <param name="Converged">True when the numbers may be used; when false all results are NaN.</param>
/// <param name="Iterations">Linear solves spent.</param>
/// <param name="LargestResidual">Largest open balance of a free node: kg/s in a vacuum network, m3/s in an air network.</param>
/// <param name="ResidualNode">The node that has it, -1 when every balance is exactly closed.</param>
/// <param name="Isolated">By node: true when nothing sets its pressure. A view of the workspace, overwritten by its next solve.</param>
public readonly record struct NetworkVerdict(
    bool Converged, int Iterations, double LargestResidual, int ResidualNode, ReadOnlyMemory<bool> Isolated);
