namespace Ventwright.Rig.Running;

/// <summary>Surroundings whose time goes faster than the clock. For a simulated unit only: a real one takes its own time.</summary>
/// <param name="inner">The surroundings.</param>
/// <param name="times">How many times as fast.</param>
public sealed class HastenedSurroundings(ISurroundings inner, double times) : ISurroundings
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Sets => inner.Sets;

    /// <inheritdoc/>
    public IReadOnlyList<string> Needs => inner.Needs;

    /// <inheritdoc/>
    public IReadOnlyList<(string Name, string Value)> Panel => inner.Panel;

    /// <inheritdoc/>
    public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds) => inner.Step(measured, times * seconds);
}
