using System.Globalization;

namespace Ventwright.Model.Sheet.Text;

/// <summary>A place in a text file.</summary>
/// <param name="File">File name as the person gave it.</param>
/// <param name="Line">Line from 1; 0 means the file as a whole.</param>
/// <param name="Column">Column from 1.</param>
public readonly record struct Mark(string File, int Line, int Column)
{
    /// <summary>A mark for a file as a whole.</summary>
    public static Mark WholeFile(string file) => new(file, 0, 0);

    /// <summary>The place some characters further on the same line.</summary>
    public Mark Plus(int columns) => this with { Column = Column + columns };

    /// <summary><c>file:line:column</c>, or the file alone.</summary>
    public override string ToString() => Line == 0 ? File : string.Create(CultureInfo.InvariantCulture, $"{File}:{Line}:{Column}");
}

/// <summary>How bad a problem is.</summary>
public enum Severity
{
    /// <summary>The sheet cannot be used.</summary>
    Error,

    /// <summary>The sheet can be used, but something is probably not meant so.</summary>
    Warning,
}

/// <summary>Something wrong in a sheet, told to the person who wrote it.</summary>
/// <param name="Code">Short fixed name of the kind of problem, such as <c>unknown-key</c>.</param>
/// <param name="At">Where it is.</param>
/// <param name="Message">What is wrong.</param>
/// <param name="Hint">What to do, or null.</param>
/// <param name="Also">A second place that has to do with it, or null.</param>
/// <param name="Severity">Error unless said otherwise.</param>
public sealed record Problem(
    string Code, Mark At, string Message, string? Hint = null, Mark? Also = null, Severity Severity = Severity.Error)
{
    /// <summary><c>file:line:column: message; hint</c> on one line.</summary>
    public override string ToString()
    {
        string warning = Severity == Severity.Warning ? "warning: " : "";
        string hint = Hint is null ? "" : $"; {Hint}";
        string also = Also is null ? "" : $" (see also {Also})";
        return $"{At}: {warning}{Message}{hint}{also}";
    }

    /// <summary>
    /// The problem with the line it is on and a caret under the place. Without the line when the text does not have it. Long lines are cut.
    /// </summary>
    /// <param name="sheetText">The text of the file that <see cref="At"/> names.</param>
    public string Render(string sheetText)
    {
        const int before = 60, width = 120;
        string? line = Line(sheetText, At.Line);
        if (line is null) return ToString();
        int column = Math.Clamp(At.Column - 1, 0, line.Length);
        int start = column > width - 20 ? column - before : 0;
        string shown = line.Substring(start, Math.Min(width, line.Length - start));
        string blank = string.Concat(line.AsSpan(start, column - start).ToString().Select(c => c == '\t' ? '\t' : ' '));
        return $"{this}\n  {shown}\n  {blank}^";
    }

    private static string? Line(string text, int number)
    {
        int at = 1;
        foreach (ReadOnlySpan<char> line in text.AsSpan().EnumerateLines())
        {
            if (at++ == number) return line.ToString();
        }

        return null;
    }
}
