using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Virtual;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Rigs;

/// <summary>A rig file cannot be used; each problem has its line and column.</summary>
public sealed class RigFileRefusedException : RefusedException
{
    /// <summary>Makes the exception with no more than a general message.</summary>
    public RigFileRefusedException() : this([])
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, where, and what to do about it.</param>
    public RigFileRefusedException(string message) : base(message)
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, where, and what to do about it.</param>
    /// <param name="innerException">What led to it.</param>
    public RigFileRefusedException(string message, Exception innerException) : base(message, innerException)
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="problems">What is wrong, in the order of the file.</param>
    public RigFileRefusedException(IReadOnlyList<Problem> problems) : base("the rig file cannot be used:\n" + string.Join('\n', problems)) => Problems = problems;

    /// <summary>What is wrong, in the order of the file.</summary>
    public IReadOnlyList<Problem> Problems { get; } = [];
}

/// <summary>A rig that a person chose for a unit. Nothing is opened by it.</summary>
/// <param name="Name">Name of the file, for messages.</param>
/// <param name="Text">The rig file.</param>
/// <param name="IsSimulated">Whether a simulated unit stands in place of all devices.</param>
/// <param name="Fault">Id of a fault that the simulated unit has; empty for a sound one.</param>
public sealed record RigChoice(string Name, string Text, bool IsSimulated, string Fault = "")
{
    /// <summary>Longest text of a rig file.</summary>
    public const int LongestText = 256 * 1024;

    /// <summary>Reads the rig file.</summary>
    /// <exception cref="RigFileRefusedException">It has errors.</exception>
    /// <exception cref="RefusedException">It is empty or too long.</exception>
    public RigDefinition Read(UnitModel model)
    {
        if (string.IsNullOrWhiteSpace(Text)) throw new RefusedException("there is no rig file yet: choose a rig, or put a rig file's text into the field");
        if (Text.Length > LongestText) throw new RefusedException($"the rig file has {Text.Length} characters; a rig file is plain text of some hundred lines, up to {LongestText} are read");
        var problems = new ProblemList();
        RigDefinition? rig = RigFile.Read(Name, Text, model, problems);
        return rig ?? throw new RigFileRefusedException([.. problems.Sorted.Where(p => p.Severity == Severity.Error)]);
    }

    /// <summary>Puts the rig together, not yet open.</summary>
    /// <param name="unit">The unit that it is wired to.</param>
    /// <returns>The rig, and the simulated unit where there is one.</returns>
    /// <exception cref="RefusedException">The rig file cannot be used, or there is no such fault.</exception>
    internal (RigBench Rig, VirtualUnit? Unit) Assemble(UnitOnSheet unit)
    {
        RigDefinition definition = Read(unit.Model);
        if (!IsSimulated)
        {
            if (definition.Devices.Any(d => d.Kind == "virtual")) throw new RefusedException("this rig has devices of the kind 'virtual': it works with the simulated unit only");
            return (RigBench.Real(definition, unit.Model), null);
        }

        Fault[] faults = Fault.Length == 0 ? [] : [unit.Model.FindFault(Fault) ?? throw new RefusedException($"the sheet knows no fault '{Fault}'")];
        var simulated = new VirtualUnit(new Simulator(unit.Model), faults);
        return (RigBench.Virtual(definition, simulated), simulated);
    }
}
