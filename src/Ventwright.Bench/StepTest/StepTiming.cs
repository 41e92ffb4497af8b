using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;

namespace Ventwright.Bench.StepTest;

/// <summary>How long a sound unit takes from one step to the next, by the model in time.</summary>
internal static class StepTiming
{
    private const double Longest = 90, Look = 0.25;

    /// <summary>Seconds after which each check shows what it shows at rest, from how the unit stood before; and whether it must be switched off and on to get there.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="from">Setting before.</param>
    /// <param name="setting">Setting now.</param>
    /// <param name="looks">Checks.</param>
    public static (double[] Seconds, bool Restart) Of(Simulator simulator, Setting from, Setting setting, IReadOnlyList<Observable> looks)
    {
        Settled rest = simulator.Settle(setting, []), start = simulator.Settle(setting.Before ?? from, []);
        var readout = new Readout(simulator, looks);
        Shown[] goal = readout.Read(setting, [], rest);
        double[] seconds = Watch(simulator, setting, readout, goal, start);
        // An input that rises slowly on purpose would keep a person waiting; a module that has just been switched on takes what it finds.
        if (seconds.Max(s => s) < Longest || setting.Before is not null) return (seconds, false);
        return (Watch(simulator, setting, readout, goal, null), true);
    }

    private static double[] Watch(Simulator simulator, Setting setting, Readout readout, Shown[] goal, Settled? start)
    {
        var run = new UnitRun(simulator, setting, [], start);
        double[] seconds = new double[goal.Length];
        for (double t = Look; t <= Longest; t += Look)
        {
            run.Advance(Look);
            Shown[] now = readout.Read(setting, [], run.Now());
            for (int i = 0; i < goal.Length; i++)
            {
                if (!Same(goal[i], now[i])) seconds[i] = t;
            }
        }

        return seconds;
    }

    private static bool Same(Shown goal, Shown now) => goal.Unsteady || goal.Word is not null
        ? string.Equals(goal.Word, now.Word, StringComparison.Ordinal)
        : Math.Abs(goal.Value - now.Value) <= 0.2 + (0.04 * Math.Abs(goal.Value));
}
