using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>
/// Servos that did not move as a setting was made: they stand wherever they were left. The nominal unit has them in the middle, which is one place of many, and a sound
/// unit does not show them elsewhere, since it drives them; so it has to be looked at by itself.
/// </summary>
internal static class ServoPlaces
{
    private const int Where = 3;

    /// <summary>Places that, with the middle, lie evenly over the travel.</summary>
    private static readonly double[] Places = [0.1, 0.3, 0.7, 0.9];

    /// <summary>Servos, as indices of variables, that are free to move and stand where they were left.</summary>
    public static IEnumerable<int> Resting(UnitModel model, Settled settled) => Enumerable.Range(0, model.Variables.Length).Where(i =>
        model.Variables[i] is { Law: VariableLaw.Servo, Parameter: var first } && double.IsNaN(settled.Parameters[first]) && settled.Variables[i] == settled.Parameters[first + Where]);

    /// <summary>Parameters of the same unit with some servos left in places other than the middle; two servos not in step.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="parameters">Its parameters, SI, with all edits made.</param>
    /// <param name="servos">The servos.</param>
    public static IEnumerable<double[]> Elsewhere(UnitModel model, double[] parameters, IReadOnlyList<int> servos)
    {
        for (int i = 0; i < Places.Length; i++)
        {
            double[] p = (double[])parameters.Clone();
            for (int s = 0; s < servos.Count; s++) p[model.Variables[servos[s]].Parameter + Where] = Places[((i * (1 + (2 * s))) + s) % Places.Length];
            yield return p;
        }
    }
}
