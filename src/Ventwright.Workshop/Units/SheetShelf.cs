namespace Ventwright.Workshop;

/// <summary>The sheets that come with the program: the folder <c>sheets</c> beside it or above it.</summary>
public static class SheetShelf
{
    private const string TitleKey = "unit:";

    /// <summary>The folder, or null where the program has none.</summary>
    public static string? Folder
    {
        get
        {
            for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            {
                string sheets = Path.Combine(folder.FullName, "sheets");
                if (Directory.Exists(sheets)) return sheets;
            }

            return null;
        }
    }

    /// <summary>Path of a shipped sheet by its file name, or null.</summary>
    public static string? Find(string name) => Array.Find([.. All()], p => Path.GetFileName(p) == name);

    /// <summary>Paths of the shipped sheets, by name.</summary>
    public static IReadOnlyList<string> All() => Folder is { } folder ? [.. Directory.EnumerateFiles(folder, "*.yaml").Order(StringComparer.Ordinal)] : [];

    /// <summary>The title of a sheet, read from its line <c>unit:</c>; its file name where there is none.</summary>
    public static string TitleOf(string path) => Title(File.ReadLines(path)) ?? Path.GetFileNameWithoutExtension(path);

    /// <summary>The title of a sheet's text, read from its line <c>unit:</c>, or null.</summary>
    public static string? TitleIn(string text) => Title(text.Split('\n'));

    private static string? Title(IEnumerable<string> lines)
    {
        string? title = lines.FirstOrDefault(l => l.StartsWith(TitleKey, StringComparison.Ordinal))?[TitleKey.Length..].Trim().Trim('"');
        return string.IsNullOrEmpty(title) ? null : title;
    }
}
