namespace Ventwright.Cli.Commands;

/// <summary>What the program's exit code says.</summary>
internal static class ExitCodes
{
    /// <summary>All is fine.</summary>
    public const int Fine = 0;

    /// <summary>The question was understood and the answer is no, such as a sheet that disagrees with its manual.</summary>
    public const int No = 1;

    /// <summary>The input cannot be used.</summary>
    public const int BadInput = 2;

    /// <summary>The program itself failed.</summary>
    public const int Internal = 3;
}
