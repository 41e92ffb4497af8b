using System.Globalization;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Simulation.Spice;

namespace Ventwright.Reference.Tests.Electric;

/// <summary>The nets of both shipped sheets against ngspice on the exported netlist, within 1 mV or 0.1 %.</summary>
public sealed class NetsAgainstNgspiceTests
{
    private const double LeastVolts = 1e-3, Share = 1e-3;
    private const int FaultyUnits = 80, LeastCompared = 60;

    [Theory]
    [InlineData("single-blower-manual.yaml")]
    [InlineData("twin-blower-automatic.yaml")]
    public void Sound_unit_agrees_in_every_combination_of_selector_positions(string sheet)
    {
        Simulator simulator = Load(sheet);
        List<string> wrong = [];
        foreach (Setting setting in Combinations(simulator.Model)) Compare(simulator, setting, [], wrong);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(40)));
    }

    [Theory]
    [InlineData("single-blower-manual.yaml", 11)]
    [InlineData("twin-blower-automatic.yaml", 12)]
    public void Unit_with_one_or_two_faults_agrees_in_random_settings(string sheet, int seed)
    {
        Simulator simulator = Load(sheet);
        UnitModel model = simulator.Model;
#pragma warning disable CA5394 // A fixed seed is wanted, not secrecy.
        var random = new Random(seed);
        Setting[] settings = [.. Combinations(model)];
        List<string> wrong = [];
        int compared = 0;
        for (int i = 0; i < FaultyUnits; i++)
        {
            Fault first = model.Faults[random.Next(model.Faults.Length)], second = model.Faults[random.Next(model.Faults.Length)];
            Fault[] faults = i % 2 == 0 || first.Family == second.Family ? [first] : [first, second];
            if (Compare(simulator, settings[random.Next(settings.Length)], faults, wrong)) compared++;
        }
#pragma warning restore CA5394

        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(40)));
        Assert.True(compared >= LeastCompared, $"only {compared} of {FaultyUnits} came to rest and could be compared");
    }

    [Fact]
    public void Supply_at_its_current_limit_agrees()
    {
        Simulator simulator = Limited(4);
        List<string> wrong = [];
        foreach (Setting setting in Combinations(simulator.Model)) Compare(simulator, setting, [], wrong);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(40)));
        Setting full = Setting.TryMake(simulator.Model, [("mode", "vent"), ("fan", "3")], out _)!;
        Assert.Contains(" 4\n", SpiceExport.Write(simulator, full, [], out _), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("single-blower-manual.yaml", "feed blower.plus=9 V", "feed blower.minus=0 V", "absent XB=yes", "supply=off")]
    [InlineData("twin-blower-automatic.yaml", "mode=auto", "warmth=0", "stand-in RT1=3 kohm", "coolant=85 degC")]
    [InlineData("twin-blower-automatic.yaml", "mode=high", "warmth=1", "unplug X1=yes", "feed mod.1=12 V")]
    public void Parts_fed_directly_stood_in_for_or_unplugged_agree(string sheet, params string[] words)
    {
        Simulator simulator = Load(sheet);
        Setting? setting = Setting.TryMake(simulator.Model, words.Select(w => (w.Split('=')[0], w.Split('=')[1])), out string? problem);
        Assert.True(setting is not null, problem);
        List<string> wrong = [];
        Assert.True(Compare(simulator, setting, [], wrong));
        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Take(40)));
    }

    private static Simulator Limited(int ampere)
    {
        string path = Path.Combine(Root(), "sheets", "single-blower-manual.yaml");
        string text = File.ReadAllText(path).Replace("source: 20 mohm }", $"source: 20 mohm, limit: {ampere} A }}", StringComparison.Ordinal);
        var problems = new ProblemList();
        return new(SheetFile.Read(path, text, problems) ?? throw new InvalidDataException(string.Join('\n', problems.Sorted)));
    }

    /// <summary>Adds what differs; false if the unit never comes to rest, so that there is nothing to compare.</summary>
    private static bool Compare(Simulator simulator, Setting setting, Fault[] faults, List<string> wrong)
    {
        string name = $"[{setting.Key}] {string.Join(" + ", faults.Select(f => f.Id))}";
        Settled settled = simulator.Settle(setting, faults);
        if (settled.Verdict == Verdict.Oscillates) return false;
        if (settled.Verdict == Verdict.NotSolved)
        {
            wrong.Add($"{name}: {settled.Note}");
            return false;
        }

        string netlist = SpiceExport.Write(simulator, setting, faults, settled, out IReadOnlyDictionary<string, string> nodes);
        (Dictionary<string, double> volts, string said) = Ngspice.Run(netlist);
        foreach ((string net, string node) in nodes)
        {
            double here = settled.Volts[Array.IndexOf(simulator.Model.Nets, net)];
            if (!volts.TryGetValue(node, out double there)) wrong.Add($"{name}: ngspice gives nothing for {net}: {said.Trim()}");
            else if (!(Math.Abs(here - there) <= Math.Max(LeastVolts, Share * Math.Abs(there))))
                wrong.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: {net} is {here:0.00000} V here, {there:0.00000} V in ngspice"));
        }

        return true;
    }

    private static IEnumerable<Setting> Combinations(UnitModel model)
    {
        IEnumerable<(string, string)[]> all = [[]];
        foreach (Control control in model.Controls.Where(c => c.Positions.Length > 0))
            all = [.. all.SelectMany(words => control.Positions.Select(p => ((string, string)[])[.. words, (control.Name, p)]))];
        foreach ((string, string)[] words in all)
        {
            Setting? setting = Setting.TryMake(model, words, out string? problem);
            Assert.True(setting is not null, problem);
            yield return setting;
        }
    }

    private static Simulator Load(string sheet)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Load(Path.Combine(Root(), "sheets", sheet), problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted));
        return new(model);
    }

    private static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the folder with Ventwright.slnx was not found above the tests");
    }
}
