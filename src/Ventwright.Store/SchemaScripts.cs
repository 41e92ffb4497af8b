using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Ventwright.Store;

/// <summary>
/// The numbered scripts that make the tables. A database says in <c>user_version</c> how many of them it has had, and in
/// <c>application_id</c> that it is this program's.
/// </summary>
internal static class SchemaScripts
{
    /// <summary>The bytes "VtWr", so that another program's database is not mistaken for an empty one of ours.</summary>
    internal const long ApplicationId = 0x56745772;

    private static readonly string[] Scripts = Load();

    /// <summary>The version that this program writes.</summary>
    internal static int Latest => Scripts.Length;

    /// <summary>Throws when the database belongs to another program or to a newer version of this one; changes nothing.</summary>
    /// <exception cref="StoreException">The database is not for this program.</exception>
    internal static void Check(SqliteConnection connection, string path)
    {
        long version = Version(connection);
        long tables = connection.ExecuteScalar<long>("SELECT COUNT(*) FROM sqlite_schema");
        bool ours = connection.ExecuteScalar<long>("PRAGMA application_id") == ApplicationId;
        if (!ours && (tables > 0 || version != 0))
        {
            throw new StoreException($"{path} is a database of another program. Name another file or folder for Ventwright's own.");
        }

        if (version > Latest)
        {
            throw new StoreException(
                $"{path} was written by a newer Ventwright (database version {version}; this program knows versions up to {Latest}). "
                + "Use the newer program, or name another folder in the environment variable VENTWRIGHT_HOME.");
        }
    }

    /// <summary>Brings the database up to a version, all or nothing. Programs that open the file at the same time wait their turn.</summary>
    internal static void Upgrade(SqliteConnection connection, string path, int to)
    {
        // Not deferred: the write lock comes first, so that what is checked is still true when the scripts run.
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        Check(connection, path);
        for (long version = Version(connection); version < to; version++)
        {
            connection.Execute(Scripts[version], transaction: transaction);
            connection.Execute($"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {version + 1}", transaction: transaction);
        }

        transaction.Commit();
    }

    private static long Version(SqliteConnection connection) => connection.ExecuteScalar<long>("PRAGMA user_version");

    private static string[] Load()
    {
        var assembly = typeof(SchemaScripts).Assembly;
        string[] names = [.. assembly.GetManifestResourceNames().Order(StringComparer.Ordinal)];
        for (int i = 0; i < names.Length; i++)
        {
            if (int.Parse(names[i].AsSpan(0, 4), CultureInfo.InvariantCulture) != i + 1)
            {
                throw new InvalidOperationException($"Schema script {i + 1} is missing: found {names[i]} in its place.");
            }
        }

        return [.. names.Select(name =>
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            return reader.ReadToEnd();
        })];
    }
}
