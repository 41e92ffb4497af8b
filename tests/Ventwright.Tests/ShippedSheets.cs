using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Tests;

/// <summary>The sheets that come with the program, and a short way to ask them something.</summary>
internal static class ShippedSheets
{
    public static Simulator Automatic { get; } = new(Load("twin-blower-automatic.yaml"));

    public static Simulator Manual { get; } = new(Load("single-blower-manual.yaml"));

    /// <summary>The folder with the solution.</summary>
    public static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the folder with Ventwright.slnx was not found above the tests");
    }

    /// <summary>A setting from words such as <c>mode=screen, cabin=30 degC</c>.</summary>
    public static Setting Set(Simulator unit, string words)
    {
        var pairs = words.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(w => w.Split('=')).Select(p => (p[0], p[1]));
        Setting? setting = Setting.TryMake(unit.Model, pairs, out string? problem);
        Assert.True(setting is not null, problem);
        return setting;
    }

    /// <summary>What a sound unit shows at a check.</summary>
    public static Shown Look(Simulator unit, string words, string check)
    {
        Assert.True(Observable.TryParse(check, out Observable what, out string? problem), problem);
        Setting setting = Set(unit, words);
        Settled settled = unit.Settle(setting, []);
        Assert.Equal(Verdict.Settled, settled.Verdict);
        return Readings.Read(unit, setting, [], settled, what);
    }

    /// <summary>Units with every part at random within its tolerance, without end; the same ones for the same seed.</summary>
    public static IEnumerable<Simulator> Drawn(Simulator unit, int seed)
    {
        var random = new Random(seed);
        while (true) yield return new(ToleranceSample.Drawn(unit.Model, random));
    }

    private static UnitModel Load(string name)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Load(Path.Combine(Root(), "sheets", name), problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted));
        return model;
    }
}
