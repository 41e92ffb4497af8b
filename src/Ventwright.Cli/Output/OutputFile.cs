using Ventwright.Cli.Commands;

namespace Ventwright.Cli.Output;

/// <summary>Files that a person asked for by an option.</summary>
internal static class OutputFile
{
    /// <summary>Writes lines to a file.</summary>
    /// <exception cref="BadInputException">It cannot be written there.</exception>
    public static void Write(string path, IEnumerable<string> lines)
    {
        try
        {
            File.WriteAllLines(path, lines);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new BadInputException($"{path} cannot be written: {e.Message}");
        }
    }
}
