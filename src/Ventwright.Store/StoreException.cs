using Microsoft.Data.Sqlite;

namespace Ventwright.Store;

/// <summary>The workshop's database cannot do what was asked. The message is for the person: what, where, what to do.</summary>
public sealed class StoreException : Exception
{
    /// <summary>Makes the exception with no more than a general message.</summary>
    public StoreException() : base("The workshop's database could not be used.")
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, in which file, and what to do about it.</param>
    public StoreException(string message) : base(message)
    {
    }

    /// <summary>Makes the exception.</summary>
    /// <param name="message">What is wrong, in which file, and what to do about it.</param>
    /// <param name="innerException">What the file system or the database engine said.</param>
    public StoreException(string message, Exception innerException) : base(message, innerException)
    {
    }

    /// <summary>Words for what the database engine reported; the codes are those of sqlite.org/rescode.html.</summary>
    internal static StoreException From(SqliteException e, string path) => new(
        e.SqliteErrorCode switch
        {
            SQLitePCL.raw.SQLITE_NOTADB =>
                $"{path} is not a Ventwright database, or it is damaged from its first byte. Move the file away or name another one.",
            SQLitePCL.raw.SQLITE_CORRUPT =>
                $"{path} is damaged. Copy the file to a safe place, then put a backup in its stead.",
            SQLitePCL.raw.SQLITE_BUSY or SQLitePCL.raw.SQLITE_LOCKED =>
                $"{path} is in use by another program that does not let go of it. Close that program, then try again.",
            SQLitePCL.raw.SQLITE_FULL =>
                $"There is no room left on the disk for {path}; nothing was written. Make room, then try again.",
            SQLitePCL.raw.SQLITE_CANTOPEN or SQLitePCL.raw.SQLITE_READONLY or SQLitePCL.raw.SQLITE_PERM =>
                $"{path} cannot be written. {WritableHint}",
            _ => $"{path}: the database engine reports '{e.Message}'. Check the disk, then try again.",
        },
        e);

    /// <summary>Words for a folder or file that the system does not let the program write.</summary>
    internal static StoreException NotWritable(string path, Exception e) =>
        new($"{path} cannot be written: {e.Message} {WritableHint}", e);

    private const string WritableHint =
        "Give yourself write permission for the file and its folder, or name another folder in the environment variable VENTWRIGHT_HOME.";
}
