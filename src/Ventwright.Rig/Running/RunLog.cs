using System.Text;
using Ventwright.Model.Kernel;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Running;

/// <summary>The log of a run: a CSV file with a row for each round, handed to the system before the next round begins.</summary>
internal sealed class RunLog : IDisposable
{
    private readonly StreamWriter? _to;
    private readonly RunTable _table;
    private bool _hasHeads;

    /// <summary>Opens the file, or keeps no log.</summary>
    /// <exception cref="RigException">It cannot be written.</exception>
    public RunLog(RigDefinition rig, UnitModel model, RunOptions options)
    {
        string? path = options.LogPath;
        _table = new(rig, model, options.Panel);
        try
        {
            _to = path is null ? null : new(new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read), new UTF8Encoding(false)) { NewLine = "\n", AutoFlush = true };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new RigException(RigTrouble.NotPossible, path!, $"the log cannot be written: {e.Message.TrimEnd('.')}; give another name", e);
        }
    }

    /// <summary>Writes a row.</summary>
    /// <exception cref="IOException">The disk is full or gone.</exception>
    public void Write(RunSample sample)
    {
        if (_to is null) return;
        IReadOnlyList<string> row = _table.Row(sample);
        if (!_hasHeads) _to.WriteLine(RunTable.Line(_table.Heads));
        _hasHeads = true;
        _to.WriteLine(RunTable.Line(row));
    }

    /// <inheritdoc/>
    public void Dispose() => _to?.Dispose();
}
