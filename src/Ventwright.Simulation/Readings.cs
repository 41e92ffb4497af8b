using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>What checks can answer with, and a single check read off a settled unit.</summary>
public static class Readings
{
    /// <summary>Depression to which a hand pump is worked for a leak check, Pa.</summary>
    public const double HandPumpPa = 50e3;

    /// <summary>Seconds that stand for "it never gets there".</summary>
    public const double Never = 99;

    /// <summary>How all words for the contacts of a plug begin but that for clean ones.</summary>
    public const string CorrodedAt = "corroded at ";

    internal static readonly string[] LightWords = ["dark", "dim", "lit"];

    internal static readonly string[] AirWords = ["none", "weak", "fair", "strong"];

    private static readonly double[] MotionLimits = [0.05, 0.45], PositionLimits = [0.1, 0.9], LightLimits = [0.05, 0.4], AirLimits = [0.25, 1.2, 3.5], SoundLimits = [0.5, 1.5];

    /// <summary>Words that a kind of check can answer with; empty for numbers.</summary>
    public static IReadOnlyList<string> WordsOf(UnitModel model, Observable what) => what.Kind switch
    {
        ObservableKind.Motion => ["still", "slow", "runs"],
        ObservableKind.Airflow => AirWords,
        ObservableKind.Light => LightWords,
        ObservableKind.Sound => ["silent", "clicks", "buzzes"],
        ObservableKind.Position => PositionWords(model, what.Target),
        ObservableKind.Sweep => Sweeps.Words,
        ObservableKind.Contacts when model.PartIndex(what.Target) is var part and >= 0 => Contacts.Words(model, part),
        _ => [],
    };

    /// <summary>
    /// Limits between the words of a kind of check, on the quantity behind them: share of rated speed, of travel, of rated light, air speed in m/s;
    /// for sounds a count; for contacts the number of the pin, for sweeps that of the place. Empty for numbers. Common practice, no source.
    /// </summary>
    /// <param name="kind">The kind of check.</param>
    /// <param name="words">How many words it can answer with.</param>
    public static IReadOnlyList<double> LimitsOf(ObservableKind kind, int words) => kind switch
    {
        ObservableKind.Motion => MotionLimits,
        ObservableKind.Position => PositionLimits,
        ObservableKind.Light => LightLimits,
        ObservableKind.Airflow => AirLimits,
        ObservableKind.Sound => SoundLimits,
        ObservableKind.Contacts or ObservableKind.Sweep => [.. Enumerable.Range(1, Math.Max(0, words - 1)).Select(i => i - 0.5)],
        _ => [],
    };

    /// <summary>
    /// For a check whose words are names, not steps of a scale: the share of people who do not see what is there, and see a sound unit (a tenth of films on contacts, a
    /// twentieth of jumps of a needle; common practice, no source). Null for others.
    /// </summary>
    /// <param name="kind">The kind of check.</param>
    /// <param name="value">The quantity behind the word.</param>
    public static double? OverlookedShare(ObservableKind kind, double value) => kind switch
    {
        ObservableKind.Contacts => 0.1,
        ObservableKind.Sweep => value < Sweeps.Dead ? 0.05 : 0,
        _ => null,
    };

    /// <summary>Index of the word for a quantity; nothing steady counts as the lowest.</summary>
    /// <param name="kind">The kind of check.</param>
    /// <param name="words">How many words it can answer with.</param>
    /// <param name="value">The quantity behind the word.</param>
    public static int WordIndex(ObservableKind kind, int words, double value)
    {
        IReadOnlyList<double> limits = LimitsOf(kind, words);
        int word = 0;
        while (word < limits.Count && value >= limits[word]) word++;
        return word;
    }

    /// <summary>The word for a quantity.</summary>
    internal static string WordFor(ObservableKind kind, IReadOnlyList<string> words, double value) => words[WordIndex(kind, words.Count, value)];

    /// <summary>The word for a value of the quantity behind it; null for a check that is told in numbers.</summary>
    public static string? WordAt(UnitModel model, Observable what, double value) => WordsOf(model, what) is { Count: > 0 } words ? WordFor(what.Kind, words, value) : null;

    /// <summary>The words whose ranges a band of the quantity behind them reaches into, from low to high; empty for a check that is told in numbers.</summary>
    public static IEnumerable<string> WordsBetween(UnitModel model, Observable what, double low, double high)
    {
        IReadOnlyList<string> words = WordsOf(model, what);
        IReadOnlyList<double> limits = LimitsOf(what.Kind, words.Count);
        return words.Where((_, i) => (i == 0 || high >= limits[i - 1]) && (i == words.Count - 1 || low < limits[i]));
    }

    /// <summary>What the check would show in a settled unit.</summary>
    public static Shown Read(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, Observable what) =>
        new Readout(simulator, [what]).Read(setting, faults, settled)[0];

    private static string[] PositionWords(UnitModel model, string target)
    {
        int part = model.PartIndex(target);
        return part >= 0 && model.PositionWords[part] is { } words ? [words.AtRest, "between", words.Moved] : ["low end", "between", "high end"];
    }
}
