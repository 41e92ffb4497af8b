namespace Ventwright.Diagnosis;

/// <summary>Kind of a component of a prediction.</summary>
public enum ComponentKind
{
    /// <summary>A number with a spread.</summary>
    Number,

    /// <summary>A probability for each word.</summary>
    Words,

    /// <summary>Nothing steady (a floating net, a hunting servo).</summary>
    Unsteady,

    /// <summary>The model cannot say: anything in the range.</summary>
    Unknown,
}

/// <summary>
/// Which of a fixed list of example units a statement holds for. The same place on the list is the same unit in every prediction, so that readings which one
/// tolerance moves together can be weighed together.
/// </summary>
/// <param name="Members">Bits of the units; none when it is not known.</param>
/// <param name="Of">How many units the list was gone through, from its start; at most 64.</param>
public readonly record struct ExampleUnits(ulong Members, int Of)
{
    /// <summary>Share of the units that are members.</summary>
    public double Share => Of == 0 ? 0 : System.Numerics.BitOperations.PopCount(Members) / (double)Of;
}

/// <summary>One of the states that a check may be found in.</summary>
public sealed class PredictionComponent
{
    private PredictionComponent(ComponentKind kind, double weight) => (Kind, Weight) = (kind, weight);

    /// <summary>Kind of the component.</summary>
    public ComponentKind Kind { get; }

    /// <summary>Share of this component, 0 to 1; the shares of a prediction add up to 1.</summary>
    public double Weight { get; }

    /// <summary>Mean, in the check's unit, with every shared unknown at its expected value.</summary>
    public double Mean { get; private init; }

    /// <summary>Standard deviation from the tolerances that act on this check alone, in the check's unit, meter not included.</summary>
    public double Sd { get; private init; }

    /// <summary>Change of the number for one standard deviation of each shared unknown, in the check's unit; may be shorter than the list of unknowns.</summary>
    public IReadOnlyList<double> Shared { get; private init; } = [];

    /// <summary>Probability of each word, adding up to 1; empty for the other kinds.</summary>
    public IReadOnlyList<double> WordShares { get; private init; } = [];

    /// <summary>The units in this state, or for words those that show each word; empty where that is not known.</summary>
    public IReadOnlyList<ExampleUnits> Units { get; private init; } = [];

    /// <summary>A number with its spread and its sensitivities to the shared unknowns.</summary>
    public static PredictionComponent Number(double mean, double sd, IReadOnlyList<double>? shared = null, double weight = 1, ExampleUnits units = default) =>
        new(ComponentKind.Number, weight) { Mean = mean, Sd = sd, Shared = shared ?? [], Units = units.Of > 0 ? [units] : [] };

    /// <summary>A probability for each word.</summary>
    /// <param name="shares">The probabilities.</param>
    /// <param name="weight">Share of this component.</param>
    /// <param name="units">Example units that show each word; null where that is not known.</param>
    public static PredictionComponent Words(IReadOnlyList<double> shares, double weight = 1, IReadOnlyList<ExampleUnits>? units = null) =>
        new(ComponentKind.Words, weight) { WordShares = shares, Units = units ?? [] };

    /// <summary>Nothing steady.</summary>
    public static PredictionComponent Unsteady(double weight = 1, ExampleUnits units = default) => new(ComponentKind.Unsteady, weight) { Units = units.Of > 0 ? [units] : [] };

    /// <summary>The model cannot say.</summary>
    public static PredictionComponent Unknown(double weight = 1) => new(ComponentKind.Unknown, weight);

    /// <summary>The same with a share of its weight.</summary>
    internal PredictionComponent Part(double share) => new(Kind, Weight * share) { Mean = Mean, Sd = Sd, Shared = Shared, WordShares = WordShares, Units = Units };
}

/// <summary>What a set of faults lets a check show: a mixture of a few components ("either" when a state flips inside the tolerance).</summary>
/// <param name="components">The components; at least one; weights add up to 1.</param>
public sealed class Prediction(IReadOnlyList<PredictionComponent> components)
{
    private CompiledPrediction? _compiled;

    /// <summary>The components.</summary>
    public IReadOnlyList<PredictionComponent> Components { get; } = components;

    /// <summary>
    /// Whether the components are places in which something may have been left: the unit at hand shows the same one at every check that they bear on, which only a closer look knows.
    /// </summary>
    public bool IsOneOfPlaces { get; init; }

    /// <summary>The model cannot say.</summary>
    public static Prediction Unknown { get; } = new([PredictionComponent.Unknown()]);

    /// <summary>Nothing steady.</summary>
    public static Prediction Unsteady { get; } = new([PredictionComponent.Unsteady()]);

    /// <summary>A number with its spread.</summary>
    public static Prediction Number(double mean, double sd, params IReadOnlyList<double> shared) => new([PredictionComponent.Number(mean, sd, shared)]);

    /// <summary>A probability for each word.</summary>
    public static Prediction Words(params IReadOnlyList<double> shares) => new([PredictionComponent.Words(shares)]);

    /// <summary>One word for certain.</summary>
    public static Prediction Word(int index, int wordCount) => Words([.. Enumerable.Range(0, wordCount).Select(i => i == index ? 1.0 : 0.0)]);

    /// <summary>One of several predictions of the same check, each as likely: one for each place in which something may have been left.</summary>
    /// <param name="each">The predictions; at least one.</param>
    public static Prediction OneOfPlaces(IReadOnlyList<Prediction> each)
    {
        PredictionComponent[] all = [.. each.SelectMany(p => p.Components.Select(c => c.Part(1.0 / each.Count)))], words = [.. all.Where(c => c.Kind == ComponentKind.Words)];
        if (words.Length < 2) return new(all) { IsOneOfPlaces = true };
        double weight = words.Sum(c => c.Weight);
        double[] shares = [.. Enumerable.Range(0, words[0].WordShares.Count).Select(w => words.Sum(c => c.Weight * c.WordShares[w]) / weight)];
        return new([PredictionComponent.Words(shares, weight), .. all.Where(c => c.Kind != ComponentKind.Words)]) { IsOneOfPlaces = true };
    }

    /// <summary>
    /// Ready for the filter; kept, so that checks which share a prediction share the work, and the same object for whichever thread asks. A prediction belongs to one check, or is of
    /// no number.
    /// </summary>
    internal CompiledPrediction Compiled(CheckEntry check) =>
        Volatile.Read(ref _compiled) ?? Interlocked.CompareExchange(ref _compiled, CompiledPrediction.Of(this, check), null) ?? _compiled;
}

/// <summary>A model that can say what a set of faults predicts for a check.</summary>
public interface IFaultPredictor
{
    /// <summary>All known faults.</summary>
    IReadOnlyList<FaultEntry> Faults { get; }

    /// <summary>All checks; the list may grow at its end between calls, never change otherwise.</summary>
    IReadOnlyList<CheckEntry> Checks { get; }

    /// <summary>Number of unit-normal unknowns that many checks share (supply level, reference, pump level, ambient).</summary>
    int SharedCount { get; }

    /// <summary>Prediction of a check with the given faults present. Deterministic, and safe to call from several threads.</summary>
    /// <param name="faults">Indices into <see cref="Faults"/>.</param>
    /// <param name="check">Index into <see cref="Checks"/>.</param>
    Prediction Predict(FaultSet faults, int check);

    /// <summary>
    /// As <see cref="Predict"/>, with the spread of units that have these very faults; dearer, asked only for sets that are about to be believed.
    /// </summary>
    /// <param name="faults">Indices into <see cref="Faults"/>.</param>
    /// <param name="check">Index into <see cref="Checks"/>.</param>
    Prediction PredictClosely(FaultSet faults, int check) => Predict(faults, check);

    /// <summary>
    /// Whether a fault that changes nothing at a check according to <see cref="Predict"/> may do so in some units, so that <see cref="PredictClosely"/> is worth asking. Asked only
    /// where nothing but a slip would explain a reading.
    /// </summary>
    /// <param name="fault">Index into <see cref="Faults"/>.</param>
    /// <param name="check">Index into <see cref="Checks"/>.</param>
    bool MayAct(int fault, int check) => false;
}
