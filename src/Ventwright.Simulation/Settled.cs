using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>How a settling ended.</summary>
public enum Verdict
{
    /// <summary>At rest, all balances closed.</summary>
    Settled,

    /// <summary>It never comes to rest: a relay buzzes, a servo hunts. The result says which parts make the loop.</summary>
    Oscillates,

    /// <summary>The solver found no solution; no number of the result means anything.</summary>
    NotSolved,
}

/// <summary>What a check would show.</summary>
/// <param name="Value">Number in SI units; for words the quantity behind them; infinity for "no connection".</param>
/// <param name="Word">Word, or null for a number.</param>
/// <param name="Unsteady">True if the meter would show nothing steady, as on a floating net.</param>
public readonly record struct Shown(double Value, string? Word, bool Unsteady = false)
{
    /// <summary>Nothing steady.</summary>
    public static Shown Nothing { get; } = new(double.NaN, null, true);
}

/// <summary>The unit at rest in a setting.</summary>
public sealed class Settled
{
    /// <summary>How it ended.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>What is to be said about the verdict, in words; empty when settled.</summary>
    public required string Note { get; init; }

    /// <summary>Largest sum of currents left over at a net, A.</summary>
    public required double Residual { get; init; }

    /// <summary>Volts of each net.</summary>
    internal double[] Volts { get; init; } = [];

    /// <summary>Whether each net floats.</summary>
    internal bool[] Floating { get; init; } = [];

    /// <summary>Amperes of each electrical branch.</summary>
    internal double[] Amps { get; init; } = [];

    /// <summary>Branches that do not conduct.</summary>
    internal bool[] Open { get; init; } = [];

    /// <summary>Variables.</summary>
    internal double[] Variables { get; init; } = [];

    /// <summary>Depression of each hose, Pa.</summary>
    internal double[] DepressionPa { get; init; } = [];

    /// <summary>Flow of each air branch, m3/s.</summary>
    internal double[] AirFlow { get; init; } = [];

    /// <summary>Signals of the module.</summary>
    internal double[] Signals { get; init; } = [];

    /// <summary>Variables that kept changing.</summary>
    internal IReadOnlySet<int> Restless { get; init; } = new HashSet<int>();

    /// <summary>Parameters that it was settled with.</summary>
    internal double[] Parameters { get; init; } = [];

    /// <summary>Value of a variable by name, NaN if there is none.</summary>
    public double Variable(UnitModel model, string name)
    {
        int index = model.VariableIndex(name);
        return index < 0 ? double.NaN : Variables[index];
    }

    /// <summary>Whether two settled units differ in nothing: nets, variables, hoses and air agree to 1e-7 of their size.</summary>
    internal bool SameAs(Settled other) =>
        Verdict == other.Verdict && Restless.Count == 0 && other.Restless.Count == 0 && Floating.AsSpan().SequenceEqual(other.Floating)
        && Near(Volts, other.Volts) && Near(Variables, other.Variables) && Near(DepressionPa, other.DepressionPa) && Near(AirFlow, other.AirFlow);

    private static bool Near(double[] a, double[] b)
    {
        for (int i = 0; i < a.Length; i++)
        {
            if (Math.Abs(a[i] - b[i]) > 1e-7 * (1e-3 + Math.Abs(a[i]))) return false;
        }

        return true;
    }
}
