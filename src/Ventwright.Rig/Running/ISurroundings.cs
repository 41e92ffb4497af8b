using Ventwright.Quantities;

namespace Ventwright.Rig.Running;

/// <summary>
/// What a run plays around the unit, such as a simulated car: told what the rig measured, it says what the outputs shall give. It knows nothing of devices.
/// Called from one thread at a time, never while the run is paused or in hand.
/// </summary>
public interface ISurroundings
{
    /// <summary>What it sets, as the rig file's <c>wired-to</c> has it: <c>RT1</c>, <c>PS1</c>, a net (<see cref="Definition.RigDefinition.KeyOf"/>). A run does not start without these outputs. Supply and pump are switched on when the run starts, unless they are named here.</summary>
    IReadOnlyList<string> Sets { get; }

    /// <summary>What it must be told, as checks or conditions: <c>volts(left.plus)</c>, <c>vacuum(act.screen)</c>, <c>cabin</c>. A run does not start without these inputs.</summary>
    IReadOnlyList<string> Needs { get; }

    /// <summary>How the panel is to stand now, as name and text, turned by the person at the bench; empty where that is left to the person.</summary>
    IReadOnlyList<(string Name, string Value)> Panel => [];

    /// <summary>Goes on in time.</summary>
    /// <param name="measured">What the rig's inputs show, SI, by check or condition; by the channel's name where it is wired to nothing.</param>
    /// <param name="seconds">Time since the last step; 0 at the first, which says how to begin.</param>
    /// <returns>What the outputs shall give from now on.</returns>
    /// <exception cref="InvalidOperationException">It cannot go on; the run stops and tells the message.</exception>
    SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds);
}

/// <summary>What surroundings want after a step.</summary>
/// <param name="Wanted">Values by <c>wired-to</c>, SI (ohm, V; 0 or 1 for a contact). What is not named stays as it is.</param>
/// <param name="Shows">What to show and log beside it, such as the temperature in the simulated cabin.</param>
/// <param name="IsOver">Whether there is nothing more to play; the run then ends, all outputs safe.</param>
public sealed record SurroundingsStep(IReadOnlyDictionary<string, double> Wanted, IReadOnlyList<ShownValue> Shows, bool IsOver = false);

/// <summary>A quantity of the surroundings to be shown.</summary>
/// <param name="Name">Name in words: <c>cabin air</c>.</param>
/// <param name="Value">Value, SI.</param>
/// <param name="Dimension">What it is.</param>
public readonly record struct ShownValue(string Name, double Value, Dimension Dimension);
