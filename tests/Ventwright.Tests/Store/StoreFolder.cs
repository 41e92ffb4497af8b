namespace Ventwright.Tests.Store;

/// <summary>A folder of its own for each test, gone afterwards.</summary>
public abstract class StoreFolder : IDisposable
{
    protected static readonly DateTimeOffset Noon = new(2031, 5, 4, 12, 0, 0, TimeSpan.FromHours(2));

    protected string Folder { get; } = Directory.CreateTempSubdirectory("ventwright ").FullName;

    protected string DatabasePath => Path.Combine(Folder, "ventwright.db");

    public void Dispose()
    {
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }
}
