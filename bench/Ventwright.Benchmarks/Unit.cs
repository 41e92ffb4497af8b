using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Benchmarks;

/// <summary>The unit that everything is measured on.</summary>
internal static class Unit
{
    public static string SheetPath { get; } = Path.Combine(Root(), "sheets", "twin-blower-automatic.yaml");

    /// <summary>Reads and compiles the sheet.</summary>
    public static UnitModel Compile()
    {
        var problems = new ProblemList();
        return SheetFile.Load(SheetPath, problems) ?? throw new InvalidDataException(string.Join('\n', problems.Sorted));
    }

    /// <summary>A setting from words such as <c>mode=screen, cabin=30 degC</c>.</summary>
    public static Setting Set(UnitModel model, string words)
    {
        var pairs = words.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(w => (w.Split('=')[0], w.Split('=')[1]));
        return Setting.TryMake(model, pairs, out string? problem) ?? throw new InvalidDataException(problem);
    }

    private static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the folder with Ventwright.slnx was not found above the benchmarks");
    }
}
