using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>
/// What a meter on the wiper of a track shows while the shaft is turned slowly from end to end: it follows, jumps where the track is worn, or does not follow.
/// </summary>
internal static class Sweeps
{
    /// <summary>The answer of a meter that does not follow; the ones between are worn places.</summary>
    public const int Dead = 4;

    /// <summary>The answers.</summary>
    public static readonly string[] Words = ["smooth", "jumps at the low end", "jumps in the middle", "jumps at the high end", "does not follow"];

    /// <summary>What is seen with some values of the parts.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="p">Values of its parameters.</param>
    /// <param name="part">Index of a potentiometer, or of a servo with feedback.</param>
    /// <param name="turns">Whether the shaft turns.</param>
    public static Shown Look(UnitModel model, double[] p, int part, bool turns)
    {
        ElectricBranch lower = model.BranchOf(part, "lower track")!, contact = model.BranchOf(part, "wiper contact")!;
        Variable wiper = model.Variables[contact.Gate!.Variable];
        int answer = !turns || double.IsInfinity(p[lower.Parameter]) || double.IsInfinity(p[contact.Parameter]) ? Dead : Worn(p[wiper.Parameter + 1], p[wiper.Parameter + 2], lower.Gate!.Inputs);
        return new(answer, Words[answer]);
    }

    /// <summary>In which third of the travel the middle of a dead spot lies, from 1; 0 without one.</summary>
    private static int Worn(double from, double to, double[] travel)
    {
        if (double.IsNaN(from)) return 0;
        double low = Math.Max(from, travel[0]), high = Math.Min(to, travel[^1]);
        return 1 + Math.Clamp((int)Math.Floor(3 * (((low + high) / 2) - travel[0]) / (travel[^1] - travel[0])), 0, 2);
    }
}
