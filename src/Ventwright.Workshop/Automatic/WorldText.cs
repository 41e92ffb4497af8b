using Ventwright.Bench.Car;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;

namespace Ventwright.Workshop.Automatic;

/// <summary>What a drive goes through, as it is written and kept: it can be read again when the files that it came from are gone.</summary>
/// <param name="Scenario">Key of a shipped scenario, or the name of an own one.</param>
/// <param name="Own">The own scenario's YAML; null for a shipped one.</param>
/// <param name="Car">The own car's YAML; null for the car that is driven unless told.</param>
public sealed record WorldText(string Scenario, string? Own = null, string? Car = null)
{
    private const int MostCharacters = 100_000;

    /// <summary>Name of the scenario; its key where it cannot be read.</summary>
    public string Title
    {
        get
        {
            try
            {
                return World().Name;
            }
            catch (RefusedException)
            {
                return Scenario;
            }
        }
    }

    /// <summary>The scenario.</summary>
    /// <exception cref="RefusedException">It cannot be read; the message tells each problem with line and column.</exception>
    public Scenario World() => Own is null ? DriveWork.World(Scenario) : Read("the scenario", Own, p => ScenarioFile.Parse(Scenario, Own, p));

    /// <summary>The car.</summary>
    /// <exception cref="RefusedException">It cannot be read; the message tells each problem with line and column.</exception>
    public CarBody Body() => Car is null ? DriveWork.Car() : Read("the car", Car, p => ScenarioFile.ParseCar("car", Car, p));

    private static T Read<T>(string what, string text, Func<ProblemList, T?> read)
        where T : class
    {
        if (text.Length > MostCharacters) throw new RefusedException($"{what} has {text.Length} characters; up to {MostCharacters} are read");
        var problems = new ProblemList();
        return read(problems) ?? throw new RefusedException($"{what} cannot be used:\n{string.Join('\n', problems.Sorted)}");
    }
}
