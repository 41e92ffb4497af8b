using System.Text;
using System.Text.Json;

namespace Ventwright.EndToEnd.Tests;

public sealed class SensorCommandTests
{
    [Fact]
    public void Sensor_says_what_reads_wrong_and_what_that_changes()
    {
        Answer answer = Running.Run("sensor", Running.Automatic, "RT1", "--ice", "29.9kohm", "--at", "21C=10.7kohm", "--boiling", "0.64kohm", "--altitude", "400m");
        Assert.Equal(1, answer.Code);
        Assert.Contains("out of tolerance: it reads", answer.Out, StringComparison.Ordinal);
        Assert.Contains("would settle cabin", answer.Out, StringComparison.Ordinal);
        Assert.Contains("caution: Boiling water and steam scald", answer.Out, StringComparison.Ordinal);
        JsonElement json = Running.Run("sensor", Running.Automatic, "RT1", "--ice", "29.9kohm", "--at", "21C=10.7kohm", "--json").Json();
        Assert.Equal((1, 2), (json.GetProperty("v").GetInt32(), json.GetProperty("curve").GetProperty("constants").GetInt32()));
        Assert.Equal("regulation", json.GetProperty("consequences")[0].GetProperty("kind").GetString());
    }

    [Fact]
    public void A_good_sensor_is_exit_zero()
    {
        // The sheet's own curve, r25 10 kohm and Beta 3950, worked out at 0, 25 and 50 degC.
        Answer answer = Running.Run("sensor", Running.Automatic, "RT1", "--ice", "33620ohm", "--at", "25C=10kohm", "--at", "50C=3588ohm", "--thermometer", "0.2K", "--json");
        Assert.Equal(0, answer.Code);
        Assert.Equal("good", answer.Json().GetProperty("verdict").GetString());
    }

    [Fact]
    public void Written_curve_goes_to_another_file_and_the_sheet_stays()
    {
        string target = Path.Combine(Path.GetTempPath(), $"ventwright-{Guid.NewGuid():N}.yaml");
        string before = File.ReadAllText(Running.Automatic);
        try
        {
            Answer answer = Running.Run("sensor", Running.Automatic, "RT2", "--ice", "31kohm", "--at", "70F=11.5kohm", "--write", "--out", target, "--us");
            Assert.Contains("r25: 10 kohm, beta: 3950 ->", answer.Out, StringComparison.Ordinal);
            Assert.Contains("degF", answer.Out, StringComparison.Ordinal);
            Assert.Equal(before, File.ReadAllText(Running.Automatic));
            string[] old = before.Split('\n'), now = File.ReadAllText(target).Split('\n');
            Assert.Single(old.Zip(now), p => p.First != p.Second);
            Assert.NotEqual(2, Running.Run("check", target).Code);
        }
        finally
        {
            File.Delete(target);
        }
    }

    [Fact]
    public void Baths_can_be_asked_for_without_readings()
    {
        Answer answer = Running.Run("sensor", Running.Automatic, "RT1", "--how", "--altitude", "1609m");
        Assert.Equal(0, answer.Code);
        Assert.Contains("boiling water, 94.6 degC", answer.Out, StringComparison.Ordinal);
        Assert.Contains("Crush ice", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Stand_ins_of_all_kinds_in_one_call()
    {
        Answer answer = Running.Run("standin", Running.Automatic, "RT1=30C", "M3=0.4", "PS1=closed", "A1=pulled", "--json");
        Assert.Equal(0, answer.Code);
        JsonElement[] made = [.. answer.Json().GetProperty("standIns").EnumerateArray()];
        Assert.Equal(["sensor", "position", "switch", "vacuum"], made.Select(m => m.GetProperty("kind").GetString()));
        Assert.Equal(8037, made[0].GetProperty("ohms").GetDouble(), 1.0);
        Assert.Equal(30, made[3].GetProperty("hoses")[0].GetProperty("kPa").GetDouble(), 1e-6);
        Assert.Contains("caution:", Running.Run("standin", Running.Automatic, "A1=0.5").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_drawer_in_a_file_is_used()
    {
        Answer answer = Running.RunWith(Encoding.UTF8.GetBytes("8.2 kohm, 1 %, 1\n390 kohm, 1 %, 1\n"), "standin", Running.Automatic, "RT1=30C", "--drawer", "FILE");
        Assert.Equal(0, answer.Code);
        Assert.Contains("8.20 kohm || 390 kohm", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Sweep_finds_a_dead_spot()
    {
        var csv = new StringBuilder("position,ohms\n");
        for (int i = 0; i <= 20; i++) csv.Append(FormattableString.Invariant($"{i / 20.0},{(i == 9 ? "OL" : (i * 250).ToString(System.Globalization.CultureInfo.InvariantCulture))}\n"));
        string path = Path.Combine(Path.GetTempPath(), $"ventwright-{Guid.NewGuid():N}.csv");
        File.WriteAllText(path, csv.ToString());
        try
        {
            Answer bad = Running.Run("sweep", Running.Automatic, "M3", "--points", path), json = Running.Run("sweep", Running.Automatic, "M3", "--points", path, "--json");
            Assert.Equal((1, 1), (bad.Code, json.Code));
            Assert.Contains("bad: dead spots", bad.Out, StringComparison.Ordinal);
            Assert.Equal(0.4, json.Json().GetProperty("dead")[0].GetProperty("from").GetDouble(), 1e-6);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Aspirator_says_what_to_see_and_judges_what_was_seen()
    {
        Answer answer = Running.Run("aspirator", Running.Automatic, "--set", "mode=high", "--seen", "none", "--dash-air", "35C");
        Assert.Equal(1, answer.Code);
        Assert.Contains("hose that is off", answer.Out, StringComparison.Ordinal);
        Assert.Contains("35.0 degC", answer.Out, StringComparison.Ordinal);
        Assert.Equal(0, Running.Run("aspirator", Running.Automatic, "--set", "mode=high", "--seen", "strong").Code);
    }

    [Theory]
    [InlineData("5 K apart", "sensor", "A", "RT1", "--ice", "32kohm")]
    [InlineData("give readings", "sensor", "A", "RT1")]
    [InlineData("no unit", "sensor", "A", "RT1", "--ice", "32")]
    [InlineData("--boiling wants", "sensor", "A", "RT1", "--boiling", "0.7kohm")]
    [InlineData("from -500 m", "sensor", "A", "RT1", "--boiling", "0.7kohm", "--altitude", "90000m")]
    [InlineData("no air pressure", "sensor", "A", "RT1", "--boiling", "0.7kohm", "--pressure", "9bar")]
    [InlineData("not a thermistor", "sensor", "A", "K1", "--ice", "32kohm")]
    [InlineData("wants name=value", "sensor", "A", "RT1", "--at", "32kohm")]
    [InlineData("--out goes with", "sensor", "A", "RT1", "--ice", "32kohm", "--at", "21C=12kohm", "--out", "x.yaml")]
    [InlineData("runs backwards", "sensor", "A", "RT1", "--ice", "32kohm", "--at", "21C=12kohm", "--range", "40C..0C")]
    [InlineData("did you mean 'RT1'", "standin", "A", "RT11=30C")]
    [InlineData("no series", "standin", "A", "RT1=30C", "--drawer", "E11")]
    [InlineData("1, 2 or 3", "standin", "A", "RT1=30C", "--most", "4")]
    [InlineData("no such file", "sweep", "A", "M3", "--points", "nowhere.csv")]
    [InlineData("one of none", "aspirator", "A", "--seen", "gale")]
    [InlineData("no aspirator", "aspirator", "M")]
    [InlineData("no thermistor", "sensor", "M", "RT1", "--ice", "32kohm")]
    public void Bad_input_is_one_message_and_exit_two(string says, params string[] args)
    {
        Answer answer = Running.Run([.. args.Select(a => a == "A" ? Running.Automatic : a == "M" ? Running.Manual : a)]);
        Assert.Equal(2, answer.Code);
        Assert.Contains(says, answer.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", answer.Error, StringComparison.Ordinal);
    }
}
