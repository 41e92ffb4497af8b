using System.Globalization;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Turns what a person writes down into an outcome: a number with its unit, a word, or "unsteady".</summary>
public static class ReadingText
{
    private static readonly Dictionary<string, string> Others = new(StringComparer.OrdinalIgnoreCase)
    {
        ["off"] = "still",
        ["stopped"] = "still",
        ["turns"] = "runs",
        ["runs up"] = "runs",
        ["running"] = "runs",
        ["fast"] = "runs",
        ["nothing"] = "none",
        ["bright"] = "lit",
        ["on"] = "lit",
        ["halfway"] = "between",
        ["middle"] = "between",
        ["no click"] = "silent",
        ["click"] = "clicks",
        ["quiet"] = "silent",
        ["moderate"] = "fair",
        ["good"] = "strong",
    };

    /// <summary>Reads what was written for a check.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="what">The check.</param>
    /// <param name="text">What was written: <c>2.31 V</c>, <c>weak</c>, <c>OL</c>, <c>unsteady</c>.</param>
    /// <param name="outcome">The outcome, numbers as <see cref="BenchMeter.ToScale"/> has them.</param>
    /// <param name="problem">What is wrong, in words.</param>
    public static bool TryRead(UnitModel model, Observable what, string text, out Outcome outcome, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        (outcome, problem) = (Outcome.Unsteady, null);
        text = text.Trim();
        if (string.Equals(text, "unsteady", StringComparison.OrdinalIgnoreCase) || string.Equals(text, "nothing steady", StringComparison.OrdinalIgnoreCase)) return true;
        IReadOnlyList<string> words = Readings.WordsOf(model, what);
        return words.Count > 0 ? TryWord(words, what, text, out outcome, out problem) : TryNumber(what, text, out outcome, out problem);
    }

    /// <summary>Reads what was written for a check as what was seen: a number in SI, a word, or nothing steady.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="what">The check.</param>
    /// <param name="text">What was written.</param>
    /// <param name="shown">What was seen.</param>
    /// <param name="problem">What is wrong, in words.</param>
    public static bool TrySee(UnitModel model, Observable what, string text, out Shown shown, out string? problem)
    {
        bool isRead = TryRead(model, what, text, out Outcome outcome, out problem);
        shown = outcome.Kind switch
        {
            OutcomeKind.Number => new(BenchMeter.FromScale(what.Kind, outcome.Value), null),
            OutcomeKind.Word => new(double.NaN, Readings.WordsOf(model, what)[outcome.WordIndex]),
            _ => Shown.Nothing,
        };
        return isRead;
    }

    private static bool TryWord(IReadOnlyList<string> words, Observable what, string text, out Outcome outcome, out string? problem)
    {
        (outcome, problem) = (Outcome.Unsteady, null);
        string word = Others.TryGetValue(text, out string? other) && !words.Contains(text, StringComparer.OrdinalIgnoreCase) ? other : text;
        // The pin alone will do.
        if (what.Kind == ObservableKind.Contacts && words.Contains(Readings.CorrodedAt + text, StringComparer.OrdinalIgnoreCase)) word = Readings.CorrodedAt + text;
        int index = words.ToList().FindIndex(w => string.Equals(w, word, StringComparison.OrdinalIgnoreCase));
        if (index < 0)
        {
            string? near = NearMiss.Suggest(text, words);
            problem = $"'{text}' is no answer to {what}" + (near is null ? $"; answer one of {string.Join(", ", words)}" : $"; did you mean '{near}'?");
            return false;
        }

        outcome = Outcome.Word(index);
        return true;
    }

    private static bool TryNumber(Observable what, string text, out Outcome outcome, out string? problem)
    {
        (outcome, problem) = (Outcome.Unsteady, null);
        double si;
        if (what.Kind == ObservableKind.Ohms && text.ToUpperInvariant() is "OL" or "OPEN" or "INFINITE") si = double.PositiveInfinity;
        else if (what.Kind == ObservableKind.Seconds && string.Equals(text, "never", StringComparison.OrdinalIgnoreCase)) si = Readings.Never;
        else if (!QuantityText.TryParse(text, what.Dimension(), out si, out problem)) return false;
        if (si < 0 && what.Kind is not ObservableKind.Volts)
        {
            problem = string.Create(CultureInfo.InvariantCulture, $"{what} cannot be negative, '{text}' is; write it without the sign if the leads were the other way round");
            return false;
        }

        outcome = Outcome.Number(BenchMeter.ToScale(what.Kind, si));
        return true;
    }
}
