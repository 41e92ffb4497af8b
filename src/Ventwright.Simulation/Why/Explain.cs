using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Why;

/// <summary>Answers "why?": the chain of parts and laws that makes what a check shows, worked out from the compiled model alone.</summary>
public static class Explain
{
    /// <summary>The chain behind a check in a settled unit.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there; a step on which one acts names it.</param>
    /// <param name="settled">The unit, settled in that setting with those faults.</param>
    /// <param name="band">The check with its band, whose drivers are told at the steps that they belong to.</param>
    /// <exception cref="ArgumentException">The unit was not solved, so that nothing of it means anything.</exception>
    public static WhyStep Check(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, Band band)
    {
        if (settled.Verdict == Verdict.NotSolved) throw new ArgumentException($"the unit was not solved: {settled.Note}", nameof(settled));
        return new Explainer(simulator.Model, setting, faults, settled, band).Check();
    }
}
