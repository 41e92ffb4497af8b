using System.Text;

namespace Ventwright.Model.Sheet.Text;

/// <summary>
/// Reads the text of a sheet (YAML) into nodes with their places. Whatever is wrong with file or text becomes a <see cref="Problem"/>; no
/// exception comes out. Limits: <see cref="LargestBytes"/> and <see cref="DeepestNesting"/>. Anchors, aliases, tags and further documents are
/// refused: a sheet says everything where it stands.
/// </summary>
public static class SheetText
{
    /// <summary>Largest file, 4 MB.</summary>
    public const int LargestBytes = 4 * 1024 * 1024;

    /// <summary>Deepest nesting of lists and groups.</summary>
    public const int DeepestNesting = 64;

    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file; its name in messages is as given here.</param>
    /// <param name="problems">Takes what is wrong.</param>
    /// <returns>The outermost map, or null when there is none to use.</returns>
    public static SheetMap? ReadFile(string path, ProblemList problems)
    {
        string? text = LoadFile(path, problems);
        return text is null ? null : Read(path, text, problems);
    }

    /// <summary>Reads a stream of UTF-8 text, up to <see cref="LargestBytes"/>. The stream is left open.</summary>
    /// <inheritdoc cref="Read(string, string, ProblemList, string)"/>
    public static SheetMap? Read(string file, Stream stream, ProblemList problems)
    {
        string? text = Load(file, stream, problems);
        return text is null ? null : Read(file, text, problems);
    }

    /// <summary>Reads text.</summary>
    /// <param name="file">Name for messages.</param>
    /// <param name="text">The sheet.</param>
    /// <param name="problems">Takes what is wrong.</param>
    /// <param name="listOf">Where the text may be a bare list: the key that it is given under; null for a sheet, which has keys of its own.</param>
    /// <returns>The outermost map, or null when there is none to use. A map that is given although there are errors lacks what was wrong.</returns>
    public static SheetMap? Read(string file, string text, ProblemList problems, string? listOf = null)
    {
        if (text.Length > LargestBytes) return TooLarge(file, problems);
        if (text.StartsWith('\uFEFF')) text = text[1..];
        int bad = IndexOfUnprintable(text);
        if (bad < 0) return new YamlReader(file, text, problems, listOf).Read();
        string found = text[bad] == '\0' ? "a zero byte: this is not a text file" : $"an invisible control character (U+{(int)text[bad]:X4})";
        problems.Error("not-text", Place(file, text, bad), found, "save the sheet as plain UTF-8 text");
        return null;
    }

    /// <summary>Loads the text of a file without reading its meaning, for <see cref="Problem.Render"/>; null with a problem when it cannot be had.</summary>
    public static string? LoadFile(string path, ProblemList problems)
    {
        Mark whole = Mark.WholeFile(path);
        try
        {
            if (Directory.Exists(path))
            {
                problems.Error("not-a-file", whole, "this is a folder, not a sheet", "give the name of the sheet file in it");
                return null;
            }

            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            return Load(path, stream, problems);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            problems.Error("no-file", whole, "there is no such file", "check the name and the folder");
        }
        catch (UnauthorizedAccessException)
        {
            problems.Error("no-access", whole, "the file may not be read", "check its permissions");
        }
        catch (Exception e) when (e is IOException or ArgumentException or NotSupportedException)
        {
            problems.Error("unreadable", whole, $"the file cannot be read: {e.Message}");
        }

        return null;
    }

    private static string? Load(string file, Stream stream, ProblemList problems)
    {
        byte[]? bytes = ReadBytes(stream);
        if (bytes is null)
        {
            TooLarge(file, problems);
            return null;
        }

        if (bytes is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..])
        {
            problems.Error("not-text", Mark.WholeFile(file), "the file is UTF-16 text", "save the sheet as plain UTF-8 text");
            return null;
        }

        try
        {
            return StrictUtf8.GetString(bytes);
        }
        catch (DecoderFallbackException e)
        {
            string before = Encoding.UTF8.GetString(bytes, 0, Math.Clamp(e.Index, 0, bytes.Length));
            Mark at = Place(file, before, before.Length);
            problems.Error("not-text", at, "a byte here is not UTF-8 text", "save the sheet as plain UTF-8 text");
            return null;
        }
    }

    /// <summary>All bytes, or null as soon as there are too many.</summary>
    private static byte[]? ReadBytes(Stream stream)
    {
        if (stream.CanSeek && stream.Length - stream.Position > LargestBytes) return null;
        using var copy = new MemoryStream();
        byte[] block = new byte[64 * 1024];
        for (int count; (count = stream.Read(block)) > 0;)
        {
            copy.Write(block, 0, count);
            if (copy.Length > LargestBytes) return null;
        }

        return copy.ToArray();
    }

    private static SheetMap? TooLarge(string file, ProblemList problems)
    {
        problems.Error("too-large", Mark.WholeFile(file), "the file is larger than 4 MB", "is this really a sheet?");
        return null;
    }

    private static int IndexOfUnprintable(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (char.IsControl(text[i]) && text[i] is not ('\t' or '\n' or '\r')) return i;
        }

        return -1;
    }

    private static Mark Place(string file, string text, int index)
    {
        ReadOnlySpan<char> before = text.AsSpan(0, index);
        return new Mark(file, before.Count('\n') + 1, index - before.LastIndexOf('\n'));
    }
}
