using System.Diagnostics;
using Ventwright.Rig.Running;

namespace Ventwright.Rig.Tests;

/// <summary>Waits for what another thread or program does, and says so when it never comes.</summary>
internal static class Waiting
{
    /// <summary>Longer than the slowest computer needs.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(120);

    /// <summary>Waits until something is so.</summary>
    /// <param name="isSo">What to wait for.</param>
    /// <param name="run">A run that must go on for it, or null.</param>
    public static async Task UntilAsync(Func<bool> isSo, RigRun? run = null)
    {
        var watch = Stopwatch.StartNew();
        while (!isSo())
        {
            if (run is { Completion.IsCompleted: true } && !isSo()) Assert.Fail($"the run ended: {(await run.Completion).Why}");
            if (watch.Elapsed > Patience) Assert.Fail($"it did not come about within {Patience.TotalSeconds} s");
            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
    }
}
