using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;

namespace Ventwright.Workshop.Rigs;

/// <summary>A rig file that came with the program.</summary>
/// <param name="File">Name of the file.</param>
/// <param name="Name">Name of the rig, as the file has it.</param>
/// <param name="Text">The file.</param>
public sealed record ShelfRig(string File, string Name, string Text);

/// <summary>The rig files that come with the program: the folder <c>rigs</c> beside it or above it.</summary>
public static class RigShelf
{
    /// <summary>Rigs that fit a unit: everything that they are wired to is on its sheet.</summary>
    public static IReadOnlyList<ShelfRig> Fitting(UnitModel model)
    {
        var fitting = new List<ShelfRig>();
        foreach (string path in All())
        {
            string text = File.ReadAllText(path);
            if (RigFile.Read(Path.GetFileName(path), text, model, new ProblemList()) is { } rig) fitting.Add(new(Path.GetFileName(path), rig.Name, text));
        }

        return fitting;
    }

    private static string[] All()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string rigs = Path.Combine(folder.FullName, "rigs");
            if (Directory.Exists(rigs)) return [.. Directory.EnumerateFiles(rigs, "*.yaml").Order(StringComparer.Ordinal)];
        }

        return [];
    }
}
