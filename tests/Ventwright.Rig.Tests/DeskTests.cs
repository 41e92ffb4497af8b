using Ventwright.Rig.Channels;
using Ventwright.Rig.Running;
using Ventwright.Rig.Virtual;
using Ventwright.Rig.Wiring;
using Ventwright.Simulation;

namespace Ventwright.Rig.Tests;

/// <summary>A rig as a screen works with it.</summary>
public class DeskTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task OpenCheckConfirmRunStopAndAgain()
    {
        int changes = 0;
        await using var desk = new RigDesk(keeps: 10);
        desk.Changed += () => Interlocked.Increment(ref changes);
        await Assert.ThrowsAsync<RigException>(() => desk.CheckAsync(Cancel));
        var unit = new VirtualUnit(new Simulator(Rigs.Model));
        await desk.OpenAsync(RigBench.Virtual(Rigs.Small, unit), Cancel);
        var held = ScriptedSurroundings.Holding(Rigs.Small, Rigs.Model, [("RT1", "12 kohm")]);
        var options = new RunOptions { Period = TimeSpan.FromMilliseconds(10), WatchdogAfter = TimeSpan.FromSeconds(60) };
        Assert.Equal(RigTrouble.NotConfirmed, (await Assert.ThrowsAsync<RigException>(() => desk.StartAsync(held, options))).Trouble);

        for (int i = 0; i < 2; i++)
        {
            WiringReport report = await desk.CheckAsync(Cancel);
            desk.Confirm(report);
            RigRun run = await desk.StartAsync(held, options);
            await Assert.ThrowsAsync<RigException>(() => desk.StartAsync(held, options));
            await Waiting.UntilAsync(() => run.Statistics.Rounds >= 20, run);
            Assert.Equal(10, desk.Recent.Count);
            SafeReport? safe = await desk.StopAsync("the red button");
            Assert.True(safe!.IsSafe);
            RunReport ended = await run.Completion;
            Assert.Equal((false, "the red button"), (ended.IsFault, ended.Why));
            Assert.Equal(0, desk.Rig!.Given["power"]);
        }

        Assert.True(changes > 40);
        await desk.CloseAsync();
        Assert.Null(desk.Rig);
    }
}
