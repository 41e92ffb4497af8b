using System.CommandLine;
using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Cli.Commands;

/// <summary><c>drive SHEET</c>: the unit in the simulated car, its automatic mode closed round the cabin.</summary>
internal static class DriveCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("drive", "Drives the simulated unit in a simulated car: what automatic mode makes of a hot soak, a cold morning, the sun.");
        var input = new SheetInput(command);
        var car = new CarOptions(command);
        var minutes = new Option<string?>("--minutes") { Description = "How long, instead of the scenario's own length." };
        var every = new Option<string?>("--every") { Description = "Seconds between the kept moments, 1 if not told." };
        var csv = new Option<string?>("--csv") { Description = "Writes everything that was kept to this file." };
        foreach (Option option in (Option[])[minutes, every, csv]) command.Options.Add(option);
        var hands = new SettingOptions(command);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            Scenario world = car.Scenario(parsed)!;
            CarBody body = car.Car(parsed);
            var options = new DriveOptions
            {
                Faults = hands.Faults(model, parsed),
                Hands = hands.Words(model, parsed),
                Seconds = Positive("--minutes", parsed.GetValue(minutes)) is { } length ? length * 60 : null,
                Every = Positive("--every", parsed.GetValue(every)) ?? 1,
            };
            var simulator = new Simulator(model);
            DriveRecord drive = Go(simulator, world, body, options);
            DriveRecord? sound = options.Faults.Count > 0 ? Go(simulator, world, body, options with { Faults = [] }) : null;
            if (parsed.GetValue(csv) is { } path) WriteCsv(path, drive, input.Units(parsed));
            if (input.AsJson(parsed)) WriteJson(drive, sound, input.Units(parsed));
            else WriteText(drive, sound, input.Units(parsed));
            return drive.Sound ? ExitCodes.Fine : ExitCodes.No;
        });
        return command;
    }

    private static DriveRecord Go(Simulator simulator, Scenario world, CarBody body, DriveOptions options) =>
        Drive.Run(simulator, world, body, options, out string? problem, Progress.Share($"driving: {world.Name}")) ?? throw new BadInputException(problem ?? "the drive cannot be run");

    private static double? Positive(string option, string? text)
    {
        if (text is null) return null;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value > 0 && value < 1e5
            ? value : throw new BadInputException($"{option} wants a number above 0, not '{text}'");
    }

    private static void WriteText(DriveRecord drive, DriveRecord? sound, UnitSystem units)
    {
        Screen.Line($"{drive.Scenario.Name}{(drive.Faults.Count > 0 ? $", with {string.Join(" and ", drive.Faults)}" : ", sound unit")}");
        if (!drive.Sound) Screen.Line("A network found no solution on the way: what follows it means nothing.");
        Series[] shown = [.. drive.Series.Where(s => s.Group != SeriesGroup.Signals && Moves(s) && !(s.Group == SeriesGroup.Temperatures && s.Id is not ("cabin" or "wanted" or "blown" or "coolant" or "evaporator")))];
        int step = Math.Max(1, drive.Seconds.Length / 15);
        Screen.Table(["min", .. shown.Select(s => s.Id)], Enumerable.Range(0, drive.Seconds.Length).Where(i => i % step == 0).Select(i => (string[])
            [(drive.Seconds[i] / 60).ToString("0.#", CultureInfo.InvariantCulture), .. shown.Select(s => Cell(s, i, units))]));
        WriteComfort("This drive", drive.Comfort, units);
        if (sound is not null)
        {
            WriteComfort("Sound unit", sound.Comfort, units);
            Screen.Line();
            IReadOnlyList<Deviation> deviations = Deviation.Between(sound, drive);
            if (deviations.Count == 0) Screen.Line("Nothing differs from a sound unit that a person would notice.");
            else DriveView.Deviations(deviations, "here", units);
        }

        if (drive.Unmoved.Count > 0) Screen.Line($"Left as the sheet has them, since the car does not know them: {string.Join(", ", drive.Unmoved)}.");
    }

    private static void WriteComfort(string who, Comfort comfort, UnitSystem units)
    {
        string Kelvin(double k) => QuantityText.Format(k, Dimension.TemperatureDifference, units);
        string reached = comfort.ReachedS is { } s ? $"near what was asked for after {s / 60:0.0} min" : "never near what was asked for";
        string hunting = comfort.Reversals is { } r ? $", servos turn round {r:0.0} times a minute" : "";
        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{who}: {reached}, overshoot {Kelvin(comfort.Overshoot)}; in the last third {Kelvin(Math.Abs(comfort.Offset))} too {(comfort.Offset > 0 ? "warm" : "cold")}, swing {Kelvin(comfort.Swing)}{hunting}."));
    }

    private static bool Moves(Series series) => series.Values.Max() - series.Values.Min() > 1e-3 || series.Group == SeriesGroup.Temperatures;

    private static string Cell(Series series, int at, UnitSystem units) => DriveWords.Of(series, series.Values[at], units);

    private static void WriteCsv(string path, DriveRecord drive, UnitSystem units)
    {
        var lines = new List<string> { "seconds," + string.Join(',', drive.Series.Select(s => $"{s.Group.ToString().ToLowerInvariant()}.{s.Id}{Suffix(s, units)}")) };
        for (int i = 0; i < drive.Seconds.Length; i++)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{drive.Seconds[i]:0.###},") + string.Join(',', drive.Series.Select(s => Number(Export(s, s.Values[i], units)))));
        OutputFile.Write(path, lines);
    }

    private static string Suffix(Series series, UnitSystem units) => series.Dimension == Dimension.Temperature ? $" ({QuantityText.Unit(Dimension.Temperature, units)})" : "";

    private static string Number(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? "";

    private static double? Export(Series series, double value, UnitSystem units) =>
        Json.Number(series.Dimension == Dimension.Temperature ? QuantityText.ToUnit(value, Dimension.Temperature, units) : value);

    private static void WriteJson(DriveRecord drive, DriveRecord? sound, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Scenario = drive.Scenario.Key,
        drive.Faults,
        drive.Sound,
        drive.Unmoved,
        ImbalanceW = Json.Number(drive.WorstImbalanceW),
        Comfort = ComfortJson(drive.Comfort),
        SoundUnit = sound is null ? null : ComfortJson(sound.Comfort),
        Deviations = sound is null ? null : DriveView.Json(Deviation.Between(sound, drive)),
        drive.Seconds,
        Series = drive.Series.Select(s => new
        {
            s.Id,
            s.Name,
            Group = s.Group.ToString().ToLowerInvariant(),
            Unit = s.Dimension == Dimension.Temperature ? QuantityText.Unit(Dimension.Temperature, units) : "",
            Values = s.Values.Select(v => Export(s, v, units)),
        }),
    });

    private static object ComfortJson(Comfort c) => new
    {
        ReachedSeconds = c.ReachedS,
        OvershootK = Json.Number(c.Overshoot),
        MeanErrorK = Json.Number(c.MeanError),
        OffsetK = Json.Number(c.Offset),
        SwingK = Json.Number(c.Swing),
        ReversalsPerMinute = c.Reversals is { } r ? Json.Number(r) : null,
    };
}
