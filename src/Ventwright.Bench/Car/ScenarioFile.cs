using System.Reflection;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Quantities;

namespace Ventwright.Bench.Car;

/// <summary>Reads scenarios and cars from YAML: those that come with the program, by name, or a person's own files.</summary>
public static class ScenarioFile
{
    private const string Folder = "Ventwright.Bench.Car.Data.";

    /// <summary>Short names of the scenarios that come with the program.</summary>
    public static IReadOnlyList<string> Shipped { get; } =
        [.. typeof(ScenarioFile).Assembly.GetManifestResourceNames().Where(n => n.StartsWith(Folder + "scenario-", StringComparison.Ordinal))
            .Select(n => n[(Folder.Length + 9)..^5]).Order(StringComparer.Ordinal)];

    /// <summary>A scenario by its short name or its path.</summary>
    /// <param name="nameOrPath">Short name, or path of a YAML file.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static Scenario? Load(string nameOrPath, ProblemList problems)
    {
        bool shipped = Shipped.Contains(nameOrPath, StringComparer.Ordinal);
        SheetMap? root = shipped ? SheetText.Read(nameOrPath, Text($"scenario-{nameOrPath}.yaml"), problems) : SheetText.ReadFile(nameOrPath, problems);
        return root is null ? null : Read(shipped ? nameOrPath : Path.GetFileNameWithoutExtension(nameOrPath), root, problems);
    }

    /// <summary>A scenario from its text.</summary>
    /// <param name="name">Stands for the file's name in problems, and is the scenario's key.</param>
    /// <param name="text">The YAML.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static Scenario? Parse(string name, string text, ProblemList problems) => SheetText.Read(name, text, problems) is { } root ? Read(name, root, problems) : null;

    /// <summary>A car from its text.</summary>
    /// <param name="name">Stands for the file's name in problems.</param>
    /// <param name="text">The YAML.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static CarBody? ParseCar(string name, string text, ProblemList problems) => SheetText.Read(name, text, problems) is { } root ? CarFile.Read(root, problems) : null;

    /// <summary>A car from a file, or the one that comes with the program.</summary>
    /// <param name="path">Path of a YAML file, or null.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static CarBody? LoadCar(string? path, ProblemList problems)
    {
        SheetMap? root = path is null ? SheetText.Read("car", Text("car.yaml"), problems) : SheetText.ReadFile(path, problems);
        return root is null ? null : CarFile.Read(root, problems);
    }

    /// <summary>The text of a scenario that comes with the program, to begin an own one with.</summary>
    /// <param name="key">Its short name.</param>
    public static string TextOf(string key) => Text($"scenario-{key}.yaml");

    /// <summary>The text of the car that comes with the program.</summary>
    public static string CarText => Text("car.yaml");

    private static Scenario? Read(string key, SheetMap root, ProblemList problems)
    {
        var keys = new MapReader(root, problems);
        keys.Number("scenario", true);
        string name = keys.Text("name", true) ?? key;
        double length = keys.Quantity("length", Dimension.Second, 1800, Allowed.Positive), comfort = keys.Quantity("comfort", Dimension.Temperature, 295.15);
        MapReader? start = keys.Reader("start", true);
        double cabin = start?.Quantity("cabin", Dimension.Temperature, 293.15) ?? 293.15;
        double trim = start?.Quantity("trim", Dimension.Temperature, cabin) ?? cabin, coolant = start?.Quantity("coolant", Dimension.Temperature, cabin) ?? cabin;
        start?.Done();
        List<Moment> moments = Moments(keys, problems);
        keys.Done();
        return problems.HasErrors ? null : new(key, name, length, cabin, trim, coolant, comfort, moments);
    }

    private static List<Moment> Moments(MapReader keys, ProblemList problems)
    {
        List<Moment> moments = [];
        var weather = new Weather(293.15, 0.5, 0, 800 / 60.0, 0, 1);
        var turns = new Dictionary<string, Turn>(StringComparer.Ordinal);
        foreach (SheetNode node in keys.List("moments", true)?.Items ?? [])
        {
            if (ValueReader.Map(node, "moments", problems) is not { } map) continue;
            var row = new MapReader(map, problems);
            double at = row.Quantity("at", Dimension.Second, 0, Allowed.NotNegative);
            if (moments.Count > 0 && at <= moments[^1].Seconds) problems.Error("moment-order", row.Mark, "this moment is not later than the one before it");
            weather = new(
                row.Quantity("outside", Dimension.Temperature, weather.OutsideK), row.Quantity("humidity", Dimension.Fraction, weather.Humidity),
                row.Quantity("sun", Dimension.Irradiance, weather.Sun), row.Quantity("engine", Dimension.Frequency, weather.EngineHz),
                row.Quantity("speed", Dimension.Speed, weather.Speed), row.Whole("people") ?? weather.People);
            foreach (SheetEntry entry in row.Map("panel")?.Entries ?? [])
            {
                if (ValueReader.Names(entry.Value, entry.Key, problems) is { Count: > 0 } names) turns[entry.Key] = new(entry.Key, [.. names.Select(n => n.Text)]);
            }

            row.Done();
            moments.Add(new(moments.Count == 0 ? 0 : at, weather, [.. turns.Values]));
        }

        if (moments.Count == 0) problems.Error("no-moments", keys.Mark, "the scenario has no moments", "write moments: [{ at: 0 s, outside: 20 degC }]");
        return moments;
    }

    private static string Text(string file)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(Folder + file) ?? throw new InvalidOperationException($"{file} is missing from the program");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
