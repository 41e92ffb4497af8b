using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.StepTest;

/// <summary>
/// Settings that bring out what a module does in automatic: one on either side of each threshold, coming from the side that the threshold belongs to,
/// and each axis at both ends.
/// </summary>
public static class AutomaticSettings
{
    /// <summary>Settings with what each is for; none for a unit without a module.</summary>
    /// <param name="simulator">The unit.</param>
    public static IReadOnlyList<(Setting Setting, string Purpose)> Of(Simulator simulator)
    {
        UnitModel model = simulator.Model;
        if (model.Module is null) return [];
        IReadOnlyList<StepAxis> axes = StepAxis.Of(model);
        var finder = new ThresholdFinder(simulator, axes);
        var made = new Dictionary<string, (Setting Setting, List<string> Purpose)>(StringComparer.Ordinal);
        foreach (Threshold threshold in finder.Find()) Around(simulator, threshold, made);
        foreach (IReadOnlyList<(string, string)> panel in finder.Panels) Add(model, panel, "brings its servos and outputs to another place", made);
        return [.. made.Values.Select(m => (m.Setting, string.Join("; ", m.Purpose.Distinct())))];
    }

    private static void Around(Simulator simulator, Threshold threshold, Dictionary<string, (Setting, List<string>)> made)
    {
        UnitModel model = simulator.Model;
        StepAxis axis = threshold.Axis;
        double way = threshold.Rising ? 1 : -1, from = threshold.Rising ? axis.Low : axis.High;
        ModuleOutput output = model.Module!.Outputs[threshold.Output];
        foreach ((double value, string told) in (ReadOnlySpan<(double, string)>)
            [(threshold.Before - (way * axis.Margin), "just before"), (threshold.After + (way * axis.Margin), "just after")])
        {
            if (value < axis.Low || value > axis.High) continue;
            (string, string)[] words = [.. threshold.Panel, (axis.Word, axis.Text(value))];
            // The way there is told only where it matters: most outputs have one threshold, not two.
            bool remembers = output.Until is not null && Matters(simulator, words, ($"after {axis.Word}", axis.Text(from)));
            Add(model, remembers ? [.. words, ($"after {axis.Word}", axis.Text(from))] : words, $"{told} {OutputLoad.Name(model, output)} changes as {axis.Name} {(threshold.Rising ? "rises" : "falls")}", made);
        }
    }

    private static bool Matters(Simulator simulator, (string, string)[] words, (string, string) after)
    {
        Setting plain = Setting.TryMake(simulator.Model, words, out _)!, coming = Setting.TryMake(simulator.Model, [.. words, after], out _)!;
        Settled a = simulator.Settle(plain, []), b = simulator.Settle(coming, []);
        return simulator.Model.Module!.Outputs.Any(o => Math.Abs(a.Variable(simulator.Model, simulator.Model.Variables[o.Variable].Name) - b.Variable(simulator.Model, simulator.Model.Variables[o.Variable].Name)) > 0.3);
    }

    private static void Add(UnitModel model, IReadOnlyList<(string, string)> words, string purpose, Dictionary<string, (Setting Setting, List<string> Purpose)> made)
    {
        if (Setting.TryMake(model, words, out _) is not { } setting) return;
        if (made.TryGetValue(setting.Key, out var there)) there.Purpose.Add(purpose);
        else made[setting.Key] = (setting, [purpose]);
    }
}
