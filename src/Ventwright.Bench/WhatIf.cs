using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// Weighs changes of the model that are not among the sheet's faults against the readings, by the same method as faults. Only readings since the last repair
/// count: the unit was another one before.
/// </summary>
internal sealed class WhatIf
{
    private readonly Simulator _simulator;
    private readonly SheetPredictor _predictor;

    /// <summary>Takes the readings of a session.</summary>
    public WhatIf(Simulator simulator, SheetPredictor predictor, IReadOnlyList<EvidenceEvent> events)
    {
        (_simulator, _predictor) = (simulator, predictor);
        Readings = [.. events.Reverse().TakeWhile(e => e is Reading).Reverse().Cast<Reading>()];
    }

    /// <summary>The readings that count.</summary>
    public IReadOnlyList<Reading> Readings { get; }

    /// <summary>Logarithm of the likelihood of the readings for the sound unit and for each change alone.</summary>
    public (double Sound, double[] Changed) LogLikelihoods(IReadOnlyList<Fault> changes)
    {
        var asked = new SheetPredictor(new Simulator(_simulator.Model.WithFaults([.. changes])));
        int[] checks = asked.Check([.. Readings.Select(r => _predictor[r.Check])]);
        Posterior posterior = new Diagnoser(asked, new() { MaxFaults = 1 }).Explain([.. Readings.Select((r, i) => r with { Check = checks[i] })]);
        double sound = double.NegativeInfinity;
        double[] changed = [.. changes.Select(_ => double.NegativeInfinity)];
        foreach (Hypothesis h in posterior.Hypotheses)
        {
            if (h.Current.IsEmpty) sound = h.LogLikelihood;
            else changed[h.Current[0]] = h.LogLikelihood;
        }

        return (sound, changed);
    }

    /// <summary>A change of one parameter to a value, besides others.</summary>
    public static Fault Change(int part, int parameter, double value, params IEnumerable<Edit> others)
    {
        string name = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{parameter}={value:R}");
        return new(name, name, part, name, 1, "", [.. others, new(parameter, EditKind.Set, value)], []);
    }
}
