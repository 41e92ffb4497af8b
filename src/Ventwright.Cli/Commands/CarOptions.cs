using System.CommandLine;
using Ventwright.Bench.Car;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Cli.Commands;

/// <summary>The options that say which car is driven, and through what: <c>--scenario</c> and <c>--car</c>.</summary>
internal sealed class CarOptions
{
    private readonly Option<string?> _scenario;
    private readonly Option<string?> _car = new("--car") { Description = "A file that describes the car; a mid-size saloon if none." };

    /// <summary>Adds the options to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="text">What the scenario does there, ending before the list of those that are known.</param>
    /// <param name="usual">Scenario unless told, or null for none.</param>
    public CarOptions(Command command, string text = "", string? usual = "pull-down")
    {
        _scenario = new("--scenario") { Description = $"{text}{string.Join(", ", ScenarioFile.Shipped)}, or a file.", DefaultValueFactory = _ => usual };
        command.Options.Add(_scenario);
        command.Options.Add(_car);
    }

    /// <summary>The scenario, or null where none was asked for.</summary>
    /// <exception cref="BadInputException">It cannot be used; the message tells each problem.</exception>
    public Scenario? Scenario(ParseResult parsed) => parsed.GetValue(_scenario) is { } name ? Read(p => ScenarioFile.Load(name, p), "the scenario") : null;

    /// <summary>Whether a scenario or a car was named, rather than left to what is usual.</summary>
    public bool IsTold(ParseResult parsed) => parsed.GetResult(_scenario) is { Implicit: false } || parsed.GetResult(_car) is { Implicit: false };

    /// <summary>Scenario and car as they are kept.</summary>
    /// <exception cref="BadInputException">One of them cannot be used; the message tells each problem.</exception>
    public WorldText Text(ParseResult parsed)
    {
        string name = parsed.GetValue(_scenario)!;
        (Scenario world, _) = (Scenario(parsed)!, Car(parsed));
        return new(world.Key, ScenarioFile.Shipped.Contains(name, StringComparer.Ordinal) ? null : File.ReadAllText(name), parsed.GetValue(_car) is { } path ? File.ReadAllText(path) : null);
    }

    /// <summary>The car.</summary>
    /// <exception cref="BadInputException">Its file cannot be used; the message tells each problem.</exception>
    public CarBody Car(ParseResult parsed) => Read(p => ScenarioFile.LoadCar(parsed.GetValue(_car), p), "the car");

    private static T Read<T>(Func<ProblemList, T?> read, string what)
        where T : class
    {
        var problems = new ProblemList();
        return read(problems) ?? throw new BadInputException($"{what} cannot be used:\n{string.Join('\n', problems.Sorted)}");
    }
}
