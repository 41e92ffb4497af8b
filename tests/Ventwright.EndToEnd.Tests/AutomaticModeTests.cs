using System.Text.Json;

namespace Ventwright.EndToEnd.Tests;

/// <summary>Automatic mode through the command line: drives, the step test, the slow car.</summary>
public sealed class AutomaticModeTests
{
    [Fact]
    public void A_drive_tells_comfort_and_what_a_fault_changes_first()
    {
        Answer answer = Running.Run("drive", Running.Automatic, "--scenario", "pull-down", "--minutes", "10", "--fault", "aspirator:hose-off", "--json");
        Assert.Equal(0, answer.Code);
        JsonElement drive = answer.Json();
        Assert.Equal(1, drive.GetProperty("v").GetInt32());
        Assert.True(drive.GetProperty("sound").GetBoolean());
        Assert.InRange(drive.GetProperty("imbalanceW").GetDouble(), 0, 1e-5);
        Assert.NotEmpty(drive.GetProperty("deviations").EnumerateArray());
        JsonElement cabin = drive.GetProperty("series").EnumerateArray().First(s => s.GetProperty("id").GetString() == "cabin" && s.GetProperty("group").GetString() == "temperatures");
        Assert.Equal(601, cabin.GetProperty("values").GetArrayLength());
        Assert.InRange(cabin.GetProperty("values")[600].GetDouble(), 15, 40);
    }

    [Fact]
    public void A_drive_writes_all_it_kept_as_csv()
    {
        string path = Path.Combine(Path.GetTempPath(), $"drive-{Guid.NewGuid():N}.csv");
        try
        {
            Answer answer = Running.Run("drive", Running.Manual, "--scenario", "mild-day", "--minutes", "2", "--every", "10", "--csv", path, "--us");
            Assert.Equal(0, answer.Code);
            string[] lines = File.ReadAllLines(path);
            Assert.Equal(14, lines.Length);
            Assert.Contains("temperatures.cabin (degF)", lines[0], StringComparison.Ordinal);
            Assert.Equal(lines[0].Split(',').Length, lines[^1].Split(',').Length);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Theory]
    [InlineData("drive", "--scenario", "nowhere")]
    [InlineData("drive", "--minutes", "-3")]
    [InlineData("drive", "--every", "fast")]
    [InlineData("drive", "--set", "mode=nothing")]
    [InlineData("drive", "--csv", "/proc/none/drive.csv")]
    [InlineData("slow-car", "--scenario", "nowhere")]
    [InlineData("slow-car", "--car", "nowhere.yaml")]
    public void Bad_input_is_told_and_nothing_is_thrown(string command, string option, string value)
    {
        Answer answer = Running.Run(command, Running.Automatic, option, value, "--minutes".Equals(option, StringComparison.Ordinal) || command == "slow-car" ? "--json" : "--minutes=1");
        Assert.Equal(2, answer.Code);
        Assert.DoesNotContain("   at ", answer.Out + answer.Error, StringComparison.Ordinal);
        Assert.True((answer.Out + answer.Error).Length > 20);
    }

    [Theory]
    [InlineData("steps")]
    [InlineData("slow-car")]
    public void A_unit_without_a_module_has_no_automatic_mode(string command)
    {
        Answer answer = Running.Run(command, Running.Manual);
        Assert.Equal(2, answer.Code);
        Assert.Contains("no module", answer.Out + answer.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_slow_car_says_that_a_sound_module_regulates_and_one_with_a_dead_input_does_not()
    {
        Answer sound = Running.Run("slow-car", Running.Automatic, "--simulate", "--json");
        Assert.Equal(0, sound.Code);
        Assert.True(sound.Json().GetProperty("regulates").GetBoolean());
        Assert.InRange(sound.Json().GetProperty("turns").GetArrayLength(), 15, 25);

        string path = Path.Combine(Path.GetTempPath(), $"slow-{Guid.NewGuid():N}.yaml");
        try
        {
            Answer dead = Running.Run("slow-car", Running.Automatic, "--simulate", "--fault", "mod.5:dead", "--json", "--readings", path);
            Assert.Equal(1, dead.Code);
            Assert.False(dead.Json().GetProperty("regulates").GetBoolean());
            string[] rows = File.ReadAllLines(path);
            Assert.True(rows.Length > 50);
            // What was seen can be weighed like any readings; a few rows are enough to see that they are understood.
            File.WriteAllLines(path, rows[^5..]);
            Answer found = Running.Run("find", Running.Automatic, path, "--json");
            Assert.Equal(0, found.Code);
            Assert.NotEmpty(found.Json().GetProperty("suspects").EnumerateArray());
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void The_slow_car_can_be_answered_line_by_line_and_left()
    {
        // Standard input ends at once: the drive is judged as far as it came, which is not at all.
        Answer answer = Running.Run("slow-car", Running.Automatic);
        Assert.Equal(1, answer.Code);
        Assert.Contains("Turn 1", answer.Out, StringComparison.Ordinal);
        Assert.Contains("Caution", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void The_slow_car_of_a_session_goes_on_where_it_was_left()
    {
        string folder = Directory.CreateTempSubdirectory("ventwright-slow-").FullName, store = Path.Combine(folder, "store.db");
        try
        {
            string id = Running.Run("bench", "new", Running.Automatic, "--store", store, "--json").Json().GetProperty("id").GetString()!;
            string[] go = ["slow-car", "--session", id, "--store", store];
            string cold = string.Join('\n', "0.02 V", "0.02 V", "11.9 V", "11.9 V", "clicks", "");
            Assert.Contains("Turn 3", Running.RunTyping(cold + cold, go).Out, StringComparison.Ordinal);
            Answer back = Running.RunTyping("back\n" + cold, go);
            Assert.Equal(1, back.Code);
            Assert.StartsWith("Turn 3", back.Out[back.Out.IndexOf("Turn", StringComparison.Ordinal)..], StringComparison.Ordinal);
            Assert.Contains("Turn 2", back.Out, StringComparison.Ordinal);
            JsonElement kept = Running.Run("bench", "list", "--store", store, "--json").Json().GetProperty("sessions")[0];
            Assert.Equal(1 + (3 * 5), kept.GetProperty("entries").GetInt32());
            Assert.Equal(10, Running.Run("bench", "export", id, "--store", store).Out.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);

            foreach (string[] wrong in (string[][])[["slow-car"], [.. go, "--simulate"], [.. go, "--scenario", "mild-day"], ["slow-car", Running.Automatic, .. go[1..]], ["slow-car", Running.Automatic, "--begin"]])
                Assert.Equal(2, Running.Run(wrong).Code);
            Answer anew = Running.Run([.. go, "--begin", "--scenario", "mild-day"]);
            Assert.Contains("Turn 1", anew.Out, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void The_step_test_says_what_to_set_and_what_must_happen_within_which_time()
    {
        Answer answer = Running.Run("steps", Running.Automatic, "--json");
        Assert.Equal(0, answer.Code);
        JsonElement test = answer.Json();
        Assert.InRange(test.GetProperty("steps").GetArrayLength(), 5, 25);
        Assert.InRange(test.GetProperty("shownShare").GetDouble(), 0.85, 1);
        Assert.Contains(test.GetProperty("steps").EnumerateArray(), s => s.GetProperty("set").EnumerateObject().Any(w => w.Name.StartsWith("stand-in RT1", StringComparison.Ordinal)));
        Assert.Contains(test.GetProperty("steps").EnumerateArray(), s => s.GetProperty("looks").EnumerateArray().Any(l => l.GetProperty("withinS").GetDouble() > 0));
    }

    [Fact]
    public void What_has_hysteresis_depends_on_the_way_there()
    {
        string Clutch(string before) => Running.Run(
            "expect", Running.Automatic, "--set", "mode=auto", "--stand-in", "RT1=5 kohm", "--stand-in", "RT3=29 kohm", "--after", $"stand-in RT3={before}", "--at", "sound(K3)", "--json")
            .Json().GetProperty("checks")[0].GetProperty("word").GetString()!;
        Assert.Equal("silent", Clutch("45 kohm"));
        Assert.Equal("clicks", Clutch("15 kohm"));
    }
}
