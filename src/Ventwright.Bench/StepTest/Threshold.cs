using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.StepTest;

/// <summary>Where an output of the module changes while one thing is turned and all others stand.</summary>
/// <param name="Output">Index of the output.</param>
/// <param name="Axis">What is turned.</param>
/// <param name="Rising">Whether it is turned up.</param>
/// <param name="Before">Last value with the old state.</param>
/// <param name="After">First value with the new state.</param>
/// <param name="Panel">Words of the setting for everything else.</param>
public sealed record Threshold(int Output, StepAxis Axis, bool Rising, double Before, double After, IReadOnlyList<(string Name, string Value)> Panel);

/// <summary>Finds the thresholds of a module by turning one thing at a time up and down, as the model has it.</summary>
internal sealed class ThresholdFinder(Simulator simulator, IReadOnlyList<StepAxis> axes)
{
    private const int Points = 24;
    private readonly UnitModel _model = simulator.Model;
    private readonly ModuleProgram _module = simulator.Model.Module!;
    private IReadOnlyList<IReadOnlyList<(string Name, string Value)>>? _panels;

    /// <summary>Thresholds in every position of the first selector; those that lie close together for one output, axis and way count once.</summary>
    public IReadOnlyList<Threshold> Find()
    {
        var found = new Dictionary<(int, StepAxis, bool, int), Threshold>();
        foreach (IReadOnlyList<(string, string)> panel in Panels)
        {
            foreach (StepAxis axis in axes)
            {
                foreach (bool rising in (bool[])[true, false])
                {
                    foreach (Threshold threshold in Sweep(panel, axis, rising)) found.TryAdd((threshold.Output, axis, rising, (int)Math.Round(threshold.After / (8 * axis.Margin))), threshold);
                }
            }
        }

        return [.. found.Values];
    }

    /// <summary>Every position of the first selector, with all axes at their start, and with each other axis at one of its ends.</summary>
    public IReadOnlyList<IReadOnlyList<(string Name, string Value)>> Panels => _panels ??= [.. Laid()];

    private IEnumerable<IReadOnlyList<(string Name, string Value)>> Laid()
    {
        Control? selector = Array.Find(_model.Controls, c => c.Positions.Length > 0);
        (string, string)[][] positions = selector is null ? [[]] : [.. selector.Positions.Select(p => ((string, string)[])[(selector.Name, p)])];
        foreach ((string, string)[] position in positions.Select(p => (Position: p, Reactions: Reactions(p))).Where(p => p.Reactions > 0).OrderByDescending(p => p.Reactions).Select(p => p.Position))
        {
            yield return [.. position, .. Starts()];
            foreach (StepAxis axis in axes)
            {
                foreach (double end in (double[])[axis.Low, axis.High]) yield return [.. position, .. Starts().Where(s => s.Name != axis.Word), (axis.Word, axis.Text(end))];
            }
        }
    }

    private IEnumerable<(string Name, string Value)> Starts() => axes.Select(a => (a.Word, a.Text(a.Start)));

    /// <summary>How many outputs care for any axis in a position of the selector: automatic has most of them.</summary>
    private int Reactions((string, string)[] position)
    {
        double[] start = Wanted([.. position, .. Starts()]);
        double[][] others = [.. axes.SelectMany(a => ((double[])[a.Low, a.High]).Select(end => Wanted([.. position, .. Starts().Where(s => s.Name != a.Word), (a.Word, a.Text(end))])))];
        return Enumerable.Range(0, start.Length).Count(o => others.Any(x => Changed(o, start[o], x[o])));
    }

    private double[] Wanted(IReadOnlyList<(string, string)> words) => Outputs(simulator.Settle(Make(words), []));

    private IEnumerable<Threshold> Sweep(IReadOnlyList<(string Name, string Value)> panel, StepAxis axis, bool rising)
    {
        (string, string)[] others = [.. panel.Where(w => w.Name != axis.Word)];
        double from = rising ? axis.Low : axis.High, to = rising ? axis.High : axis.Low;
        Settled state = simulator.Settle(Make([.. others, (axis.Word, axis.Text(from))]), []);
        double at = from;
        for (int i = 1; i <= Points; i++)
        {
            double next = from + ((to - from) * i / Points);
            Settled then = At(others, axis, next, state);
            double[] old = Outputs(state), now = Outputs(then);
            for (int o = 0; o < old.Length; o++)
            {
                if (!Changed(o, old[o], now[o])) continue;
                (double before, double after) = Narrow(others, axis, o, at, next, state);
                yield return new(o, axis, rising, before, after, others);
            }

            (state, at) = (then, next);
        }
    }

    /// <summary>Halves the stretch in which an output changes, always coming from the same side.</summary>
    private (double Before, double After) Narrow((string, string)[] others, StepAxis axis, int output, double before, double after, Settled state)
    {
        double old = Outputs(state)[output];
        while (Math.Abs(after - before) > axis.Resolution)
        {
            double middle = (before + after) / 2;
            Settled then = At(others, axis, middle, state);
            if (Changed(output, old, Outputs(then)[output])) after = middle;
            else (before, state) = (middle, then);
        }

        return (before, after);
    }

    private Settled At((string, string)[] others, StepAxis axis, double value, Settled from) => simulator.Settle(Make([.. others, (axis.Word, axis.Text(value))]), [], from);

    private Setting Make(IReadOnlyList<(string, string)> words) =>
        Setting.TryMake(_model, words, out string? problem) ?? throw new InvalidOperationException($"a step of the test does not fit its own sheet: {problem}");

    private double[] Outputs(Settled settled) => [.. _module.Outputs.Select(o => settled.Variable(_model, _model.Variables[o.Variable].Name))];

    /// <summary>A switch that changes, or volts that jump by a person's step; servos follow without thresholds.</summary>
    private bool Changed(int output, double a, double b) => _module.Outputs[output].Kind switch
    {
        OutputKind.Switch => Math.Abs(a - b) > 0.5,
        OutputKind.Volts => Math.Abs(a - b) > 0.8,
        _ => false,
    };
}
