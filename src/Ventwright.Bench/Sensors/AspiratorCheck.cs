using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.Sensors;

/// <summary>Air past a sensor in one setting.</summary>
/// <param name="Set">The setting, as name and text.</param>
/// <param name="AlsoIn">Further settings with the same air.</param>
/// <param name="Speed">Air speed in the opening as a band, m/s; its word is that of the airflow check.</param>
/// <param name="FlowM3PerS">Nominal flow, m3/s.</param>
/// <param name="WithoutHose">Air speed with the hose off, m/s.</param>
/// <param name="WordWithoutHose">The word for that.</param>
public sealed record AspiratorFlow(
    IReadOnlyList<(string Name, string Value)> Set, IReadOnlyList<IReadOnlyList<(string Name, string Value)>> AlsoIn, Band Speed, double FlowM3PerS, double WithoutHose, string WordWithoutHose)
{
    /// <summary>What a strip of tissue held over the grille does, for each word of airflow (common practice, no source).</summary>
    public static string Tissue(string word) => word switch
    {
        "none" => "hangs still",
        "weak" => "leans toward the grille",
        "fair" => "is drawn on and flutters",
        _ => "is drawn on and stays",
    };
}

/// <summary>Something that shows otherwise when the hose is off.</summary>
/// <param name="What">The check.</param>
/// <param name="Sound">What it shows with the hose on.</param>
/// <param name="Lost">What it shows with the hose off.</param>
public sealed record ChangedCheck(Observable What, Shown Sound, Shown Lost);

/// <summary>What the loss of the aspirator's hose does: the sensor sits in still air of the dash.</summary>
/// <param name="DashKelvin">Temperature of that air, K.</param>
/// <param name="CabinKelvin">Temperature that the sensor should feel, K.</param>
/// <param name="Set">The setting in which the unit was compared.</param>
/// <param name="Changed">What shows otherwise at once.</param>
/// <param name="Consequences">What changes if the air of the dash stays as much warmer than what the sensor should feel.</param>
public sealed record HoseLoss(
    double DashKelvin, double CabinKelvin, IReadOnlyList<(string Name, string Value)> Set, IReadOnlyList<ChangedCheck> Changed, IReadOnlyList<SensorConsequence> Consequences);

/// <summary>The air that an aspirator draws past its sensor.</summary>
/// <param name="Id">Id of the aspirator.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Sensor">Its sensor.</param>
/// <param name="AreaM2">Free area of the opening, m2.</param>
/// <param name="Flows">Its air in the settings that differ, most first.</param>
/// <param name="Loss">What the loss of its hose does.</param>
public sealed record AspiratorCheck(string Id, string Name, SensorPart Sensor, double AreaM2, IReadOnlyList<AspiratorFlow> Flows, HoseLoss Loss)
{
    /// <summary>Temperature of still air behind a dash when none is told, K (common practice, no source): 40 degC.</summary>
    public const double UsualDashKelvin = 313.15;

    private const int MostLike = 8;

    /// <summary>How to look at it.</summary>
    public static IReadOnlyList<string> Steps { get; } =
    [
        "Hold a strip of tissue paper, a finger wide and as long as a hand, by its upper end in front of the grille of the sensor, in each setting of the fan.",
        "With a vane or hot-wire anemometer, cover the whole grille with its head; a head larger than the grille reads low.",
        "Pull the hose off at the box and hold the tissue to its end as well: air there and none at the grille is a split or kinked hose.",
        "Look for fluff round the bead; brush it dry, never blow it with shop air.",
    ];

    /// <summary>Cautions.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Fingers, tissue, hair and sleeves away from open blower wheels; guard an open outlet with a mesh.",
        "A blower draws tens of amperes on the bench: fused leads, thick enough.",
        "No flame or glowing stick to make smoke near foam, cleaner fumes or refrigerant.",
    ];

    /// <summary>Ids of all aspirators of a unit.</summary>
    public static IReadOnlyList<string> All(UnitModel model) => [.. model.Parts.Where(p => p.Kind == "aspirator").Select(p => p.Id)];

    /// <summary>The sensor whose air an aspirator draws; null when the sheet names none.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="id">Id of the aspirator.</param>
    public static string? SensorOf(UnitModel model, string id) =>
        Array.Find(model.Aspirators, a => model.Parts[model.Air[a.Branch].Part].Id == id) is { } aspirator ? model.Parts[aspirator.Sensor].Id : null;

    /// <summary>A setting with every control that it does not name where the sheet has it, so that nothing is tried.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="set">Controls and conditions that are told.</param>
    public static IReadOnlyList<(string Name, string Value)> AsItStands(UnitModel model, IReadOnlyList<(string Name, string Value)> set) =>
    [
        .. set,
        .. model.Controls.Where(c => set.All(s => s.Name != c.Name))
            .Select(c => (c.Name, c.Positions.Length > 0 ? c.Positions[(int)model.Variables[c.Variable].Start] : model.Variables[c.Variable].Start.ToString("R", CultureInfo.InvariantCulture))),
    ];

    /// <summary>Works it out.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="id">Id of the aspirator.</param>
    /// <param name="sensorId">Id of its sensor.</param>
    /// <param name="dashKelvin">Temperature of still air behind the dash, K.</param>
    /// <param name="set">Controls and conditions that are held.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static AspiratorCheck? TryMake(Simulator simulator, string id, string sensorId, double dashKelvin, IReadOnlyList<(string Name, string Value)> set, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        UnitModel model = simulator.Model;
        int part = model.PartIndex(id);
        if (part < 0 || model.Parts[part].Kind != "aspirator")
        {
            IReadOnlyList<string> all = All(model);
            problem = all.Count == 0 ? "this sheet has no aspirator" : $"'{id}' is no aspirator; this sheet has {string.Join(", ", all)}";
            return null;
        }

        if (SensorPart.TryFind(model, sensorId, out problem) is not { } sensor || Setting.TryMake(model, set, out problem) is null) return null;
        AirBranch air = model.Air[model.AirBranchOf[part]];
        double area = model.Parameters[air.Parameter];
        IReadOnlyList<AspiratorFlow> flows = FlowsOf(simulator, new(ObservableKind.Airflow, id), area, set);
        return new(id, model.Parts[part].Name, sensor, area, flows, Lost(simulator, sensor, dashKelvin, set));
    }

    private static AspiratorFlow[] FlowsOf(Simulator simulator, Observable what, double area, IReadOnlyList<(string Name, string Value)> held)
    {
        UnitModel model = simulator.Model;
        var alike = new List<(double Speed, List<IReadOnlyList<(string, string)>> Sets)>();
        foreach (IReadOnlyList<(string, string)> set in ControlPoint.Settings(model, held))
        {
            Setting setting = Setting.TryMake(model, set, out _)!;
            double speed = Readings.Read(simulator, setting, [], simulator.Settle(setting, []), what).Value;
            int same = alike.FindIndex(a => Math.Abs(a.Speed - speed) <= 0.02 + (0.02 * a.Speed));
            if (same < 0) alike.Add((speed, [set]));
            else alike[same].Sets.Add(set);
        }

        Fault? off = model.FindFault($"{what.Target}:hose-off");
        return [.. alike.OrderByDescending(a => a.Speed).Take(MostLike).Select(a => Flow(simulator, what, area, a.Sets, off))];
    }

    private static AspiratorFlow Flow(Simulator simulator, Observable what, double area, List<IReadOnlyList<(string, string)>> sets, Fault? off)
    {
        Setting setting = Setting.TryMake(simulator.Model, sets[0], out _)!;
        Band band = Bands.Of(simulator, setting, [], [what])[0];
        Fault[] faults = off is null ? [] : [off];
        Shown without = Readings.Read(simulator, setting, faults, simulator.Settle(setting, faults), what);
        return new(sets[0], [.. sets.Skip(1)], band, band.Nominal.Value * area, without.Value, without.Word ?? "");
    }

    private static HoseLoss Lost(Simulator simulator, SensorPart sensor, double dashKelvin, IReadOnlyList<(string Name, string Value)> held)
    {
        UnitModel model = simulator.Model;
        double above = dashKelvin - sensor.UsualKelvin;
        var search = new ConsequenceSearch(simulator, sensor, held);
        IReadOnlyList<SensorConsequence> found = search.Find(k => sensor.Curve.Ohms(k + above), sensor.UsualKelvin - 30, sensor.UsualKelvin + 30);
        IReadOnlyList<(string, string)> set = found.FirstOrDefault(f => f.Kind == ConsequenceKind.Regulation)?.Set ?? held;
        Observable[] looks = [.. model.Points.Where(p => p.When == PointState.Running && p.What.Kind is ObservableKind.Position or ObservableKind.Motion or ObservableKind.Airflow or ObservableKind.Light).Select(p => p.What).Distinct()];
        Shown[] Look(double kelvin)
        {
            Setting setting = Setting.TryMake(model, [.. set, sensor.StandIn(sensor.Curve.Ohms(kelvin))], out _)!;
            return new Readout(simulator, looks).Read(setting, [], simulator.Settle(setting, []));
        }

        Shown[] sound = Look(sensor.UsualKelvin), lost = Look(dashKelvin);
        ChangedCheck[] changed = [.. looks.Select((l, i) => new ChangedCheck(l, sound[i], lost[i])).Where(c => c.Sound.Word != c.Lost.Word)];
        return new(dashKelvin, sensor.UsualKelvin, set, changed, found);
    }
}
