namespace Ventwright.Workshop;

/// <summary>The sheets that come with the program: the folder <c>sheets</c> beside it or above it.</summary>
public static class SheetShelf
{
    /// <summary>Path of a shipped sheet by its file name, or null.</summary>
    public static string? Find(string name) => Array.Find([.. All()], p => Path.GetFileName(p) == name);

    /// <summary>Paths of the shipped sheets, by name.</summary>
    public static IReadOnlyList<string> All()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string sheets = Path.Combine(folder.FullName, "sheets");
            if (Directory.Exists(sheets)) return [.. Directory.EnumerateFiles(sheets, "*.yaml").Order(StringComparer.Ordinal)];
        }

        return [];
    }

    /// <summary>The title of a sheet, read from its line <c>unit:</c>; its file name where there is none.</summary>
    public static string TitleOf(string path)
    {
        const string key = "unit:";
        string? line = File.ReadLines(path).FirstOrDefault(l => l.StartsWith(key, StringComparison.Ordinal));
        return line is null ? Path.GetFileNameWithoutExtension(path) : line[key.Length..].Trim().Trim('"');
    }
}
