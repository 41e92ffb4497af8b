using System.Globalization;
using Ventwright.Bench;
using Ventwright.Bench.Car;
using Ventwright.Bench.SlowDrive;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>The talk with a person, or a script, that answers a slow drive turn by turn.</summary>
/// <param name="model">The unit.</param>
/// <param name="looks">What is reported in each turn.</param>
/// <param name="quiet">Whether nothing is told.</param>
internal sealed class SlowCarTalk(UnitModel model, IReadOnlyList<SlowLook> looks, bool quiet)
{
    private const string Back = "back";

    /// <summary>Asks turn by turn; false if the input ended before the drive.</summary>
    /// <param name="turn">The turn that waits, or null when the drive is over.</param>
    /// <param name="answer">Takes what was seen.</param>
    /// <param name="back">Takes the last turn back; null where that cannot be done.</param>
    public bool Ask(Func<SlowTurn?> turn, Func<IReadOnlyList<(string Text, Shown Shown)>, SlowAnswer> answer, Action? back)
    {
        if (!quiet) Screen.Line($"Caution: the blowers may start at any turn: keep hands, sleeves and hair off them. Answer with what you see; quit ends the drive{(back is null ? "" : $", {Back} takes the last turn back")}.");
        while (turn() is { } waits)
        {
            if (!quiet) Tell(waits);
            (IReadOnlyList<(string Text, Shown Shown)> seen, string? word) = AskAll(back is not null);
            if (word == Back) TakeBack(back!);
            else if (word is not null) return false;
            else Judge(waits, answer(seen));
        }

        return true;
    }

    private static void TakeBack(Action back)
    {
        try
        {
            back();
        }
        catch (RefusedException e)
        {
            Screen.Line($"  {e.Message}");
        }
    }

    private void Judge(SlowTurn turn, SlowAnswer answer)
    {
        for (int i = 0; i < looks.Count && !quiet; i++)
        {
            if (answer.Outside[i]) Screen.Line($"  {looks[i].Text}: a sound unit shows {ReadingWords.Of(turn.Expected[i], UnitSystem.Metric)}");
        }
    }

    /// <summary>What was seen, or the word that ended the turn.</summary>
    private (IReadOnlyList<(string Text, Shown Shown)> Seen, string? Word) AskAll(bool canBack)
    {
        var seen = new List<(string, Shown)>();
        foreach (SlowLook look in looks)
        {
            while (true)
            {
                if (!quiet) Screen.Line($"  {look.Text}, {look.What}?");
                Screen.Flush();
                string line = Console.ReadLine()?.Trim() ?? "quit";
                if (line is "quit" or "q" || (canBack && line == Back)) return (seen, line);
                if (line.Length == 0) continue;
                if (ReadingText.TrySee(model, look.What, line, out Shown shown, out string? problem))
                {
                    seen.Add((line, shown));
                    break;
                }

                Screen.Line($"  {problem}");
            }
        }

        return (seen, null);
    }

    private static void Tell(SlowTurn turn)
    {
        Screen.Line();
        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Turn {turn.Number}, {turn.Seconds / 60:0.0} min of car time, cabin {turn.Car.Air - 273.15:0.0} degC. Set:"));
        foreach (CarResistance r in turn.Resistances)
            Screen.Line($"  {r.Part} {r.Name}: {QuantityText.Format(r.Ohms, Dimension.Ohm, UnitSystem.Metric)} ({(r.Kelvin - 273.15).ToString("0.0", CultureInfo.InvariantCulture)} degC)");
        foreach ((string name, string value) in turn.Setting.Words.Where(w => !w.Key.Contains(' ', StringComparison.Ordinal)).Select(w => (w.Key, w.Value))) Screen.Line($"  {name} at {value}");
    }
}
