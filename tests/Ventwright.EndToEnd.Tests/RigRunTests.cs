using System.Text.Json;

namespace Ventwright.EndToEnd.Tests;

/// <summary>Runs of a rig with the simulated car round it, in real time.</summary>
public sealed class RigRunTests
{
    private static readonly string Rig = Path.Combine(Path.GetDirectoryName(Running.Automatic)!, "..", "rigs", "twin-blower-car.yaml");

    [Fact]
    public void The_car_is_closed_round_a_virtual_rig_and_ends_safe()
    {
        Answer answer = Running.Run("rig", "run", Rig, Running.Automatic, "--virtual", "--set", "mode=auto", "--scenario", "pull-down", "--seconds", "4", "--confirm");
        Assert.Equal(0, answer.Code);
        Assert.Contains("cabin air", answer.Out, StringComparison.Ordinal);
        Assert.Contains("safe state", answer.Out, StringComparison.Ordinal);
        Assert.Contains("It goes as with a sound unit.", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_run_with_the_car_is_held_against_a_sound_unit()
    {
        string[] run = ["rig", "run", Rig, Running.Automatic, "--virtual", "--set", "mode=auto", "--fault", "F5:blown", "--confirm", "--json"];
        // They take as long as they last, so both at a time.
        Answer[] both = await Task.WhenAll(((string[][])[[], ["--must-agree"]]).Select(more => Task.Run(() => Running.Run([.. run, "--scenario", "pull-down", "--seconds", "32", .. more]))));
        Answer bad = both[0], strict = both[1];
        Assert.Equal(0, bad.Code);
        JsonElement sound = bad.Json().GetProperty("sound");
        Assert.False(sound.GetProperty("agrees").GetBoolean());
        Assert.StartsWith("Compressor clutch, from 0.", sound.GetProperty("first").GetString(), StringComparison.Ordinal);
        Assert.Equal("CL1", sound.GetProperty("deviations")[0].GetProperty("id").GetString());

        Assert.Equal(1, strict.Code);
        Assert.False(strict.Json().GetProperty("fault").GetBoolean());
        Answer held = Running.Run([.. run, "--hold", "RT1=30degC", "--seconds", "1"]);
        Assert.Equal(JsonValueKind.Null, held.Json().GetProperty("sound").ValueKind);
        Assert.Equal(2, Running.Run([.. run, "--hold", "RT1=30degC", "--seconds", "1", "--must-agree"]).Code);
    }
}
