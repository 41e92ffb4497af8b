using System.Text;
using Spectre.Console;

namespace Ventwright.Cli.Output;

/// <summary>Standard output: buffered text, and tables that fit the terminal.</summary>
internal static class Screen
{
    private const int WidthOfFiles = 180, LeastWidth = 60;

    /// <summary>Where everything is written; flushed when the program ends, or by <see cref="Flush"/>.</summary>
    public static TextWriter Out { get; } = new StreamWriter(Console.OpenStandardOutput(), new UTF8Encoding(false), 1 << 14) { NewLine = "\n" };

    /// <summary>Writes a line.</summary>
    public static void Line(string text = "") => Out.WriteLine(text);

    /// <summary>Hands everything over to the terminal.</summary>
    public static void Flush() => Out.Flush();

    /// <summary>Whether a failed write means that the other end of a pipe was closed (EPIPE 32, or 109 and 232 on Windows).</summary>
    public static bool IsPipeBroken(IOException e) => (e.HResult & 0xFFFF) is 32 or 109 or 232;

    /// <summary>Writes a table.</summary>
    /// <param name="heads">Column heads.</param>
    /// <param name="rows">Cells, one for each column.</param>
    public static void Table(IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<string>> rows)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (string head in heads) table.AddColumn(new TableColumn(new Text(head)));
        foreach (IReadOnlyList<string> row in rows) table.AddRow(row.Select(cell => new Text(cell)));
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = AnsiSupport.No,
            ColorSystem = ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(Out),
        });
        console.Profile.Width = Console.IsOutputRedirected ? WidthOfFiles : Math.Max(LeastWidth, Console.WindowWidth);
        console.Write(table);
    }
}
