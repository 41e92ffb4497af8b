namespace Ventwright.Workshop;

/// <summary>How the blower's speed is set.</summary>
public enum FanBy
{
    /// <summary>A fan switch and a resistor pack.</summary>
    Switch,

    /// <summary>A control module and a transistor stage at each blower.</summary>
    Module,
}

/// <summary>How the blend flap is moved.</summary>
public enum BlendBy
{
    /// <summary>A lever and a cable.</summary>
    Cable,

    /// <summary>A servo motor that a module drives.</summary>
    Servo,

    /// <summary>Graded vacuum from a transducer that a module drives.</summary>
    Vacuum,
}

/// <summary>What a person says of a unit in plain words.</summary>
/// <param name="Title">What the unit is called.</param>
/// <param name="Blowers">1 or 2.</param>
/// <param name="Fan">How the blower's speed is set.</param>
/// <param name="Blend">How the blend flap is moved.</param>
/// <param name="Solenoids">0 to 5 solenoid valves; with none a rotary valve on the mode knob feeds the hoses.</param>
/// <param name="Clutch">Whether the unit switches a compressor clutch.</param>
/// <param name="OutsideSensor">Whether the module has a sensor for the air outside.</param>
/// <param name="CoolantSensor">Whether the module waits for warm coolant.</param>
/// <param name="WaterValve">Whether there is a vacuum water valve.</param>
public sealed record GuidedAnswers(
    string Title = "My unit", int Blowers = 1, FanBy Fan = FanBy.Switch, BlendBy Blend = BlendBy.Cable, int Solenoids = 0, bool Clutch = true, bool OutsideSensor = false,
    bool CoolantSensor = false, bool WaterValve = true)
{
    /// <summary>Most solenoids that there are blocks for.</summary>
    public const int MostSolenoids = 5;

    /// <summary>Whether the unit has a module: something that only a module can drive, or one of its sensors.</summary>
    public bool HasModule => Fan == FanBy.Module || Blend != BlendBy.Cable || OutsideSensor || CoolantSensor;
}

/// <summary>Writes a first sheet from answers, out of the blocks that come with the program.</summary>
public static class GuidedStart
{
    /// <summary>What solenoids are for, in the order in which a unit gets them.</summary>
    private static readonly (string Hose, string What, string Contact, string When)[] Uses =
    [
        ("recirc", "Recirculation", "sel.cool", "mode is cool"), ("face", "Face", "sel.vent", "(mode is vent) or (mode is cool)"), ("feet", "Feet", "sel.feet", "mode is feet"),
        ("screen", "Screen", "sel.screen", "mode is screen"), ("rear", "Rear", "sel.on", "not (mode is off)"),
    ];

    /// <summary>Whether the blocks are there.</summary>
    public static bool IsThere => Directory.Exists(BlocksFolder);

    private static string BlocksFolder => Path.Combine(SheetShelf.Folder ?? "", "blocks");

    /// <summary>Writes the sheet.</summary>
    /// <exception cref="RefusedException">An answer is out of range, or the blocks are missing.</exception>
    public static string Write(GuidedAnswers answers)
    {
        if (answers.Blowers is < 1 or > 2) throw new RefusedException("a first sheet has one or two blowers; add more in the text");
        if (answers.Solenoids is < 0 or > GuidedAnswers.MostSolenoids) throw new RefusedException($"a first sheet has up to {GuidedAnswers.MostSolenoids} solenoids; add more in the text");
        var sheet = new BlockText();
        foreach ((string block, (string, string)[] words) in Blocks(answers)) sheet.Add(Read(block), words);
        return sheet.Sheet(CleanTitle(answers.Title),
        [
            "A first sheet from answers. Everything in it is a guess at what such a unit usually has: go through it with the wiring diagram and the",
            "vacuum diagram, put in your own names, values and places, and copy the manual's pin table in as `stated:` rows.",
        ]);
    }

    private static IEnumerable<(string Block, (string, string)[] Words)> Blocks(GuidedAnswers a)
    {
        yield return ("frame", []);
        if (a.HasModule)
        {
            yield return ("module", []);
            yield return (a.OutsideSensor ? "demand-outside" : "demand-inside", []);
            yield return (a.CoolantSensor ? "blows-when-warm" : "blows-at-once", []);
        }

        if (a.Fan == FanBy.Switch) yield return ("fan-switch", []);
        for (int n = 1; n <= a.Blowers; n++) yield return (a.Fan == FanBy.Switch ? "blower-on-switch" : "blower-on-stage", Blower(a, n));
        if (a.Blowers == 2) yield return ("inlet-right", []);
        yield return (a.Blend switch { BlendBy.Cable => "blend-cable", BlendBy.Servo => "blend-servo", _ => "blend-vacuum" }, []);
        yield return ("vacuum", []);
        foreach (var block in Flaps(a)) yield return block;
        if (a.WaterValve) yield return ("water-valve", [("hose", a.Solenoids == 1 ? "recirc" : "face")]);
        if (a.Clutch) yield return ("clutch", []);
        if (a.Clutch) yield return (a.HasModule ? "clutch-on-module" : "clutch-on-knob", []);
        yield return ("box", []);
    }

    private static (string, string)[] Blower(GuidedAnswers a, int n)
    {
        string side = a.Blowers == 1 ? "blower" : n == 1 ? "left blower" : "right blower";
        return [("n", n.ToString(System.Globalization.CultureInfo.InvariantCulture)), ("side", side), ("Side", char.ToUpperInvariant(side[0]) + side[1..]), ("inlet", n == 1 ? "inlet" : "inlet-right")];
    }

    private static IEnumerable<(string, (string, string)[])> Flaps(GuidedAnswers a)
    {
        if (a.Solenoids == 0) yield return ("rotary-valve", []);
        for (int i = 0; i < a.Solenoids; i++)
        {
            var (hose, what, contact, when) = Uses[i];
            string n = (i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            yield return (a.HasModule ? "solenoid-on-module" : "solenoid-on-knob", [("n", n), ("hose", hose), ("What", what), ("contact", contact), ("when", when)]);
        }

        int flaps = a.Solenoids == 0 ? 3 : a.Solenoids;
        yield return ("flap-recirc", []);
        yield return (flaps >= 2 ? "flap-face" : "open-face", []);
        yield return (flaps >= 3 ? "flap-feet" : "open-feet", []);
        yield return (flaps >= 4 ? "flap-screen" : "open-screen", []);
        if (flaps >= 5) yield return ("flap-rear", []);
    }

    private static string CleanTitle(string title)
    {
        string clean = string.Concat(title.Where(c => !char.IsControl(c) && c is not ('"' or '\\'))).Trim();
        return clean.Length == 0 ? "My unit" : clean.Length > 100 ? clean[..100] : clean;
    }

    private static string Read(string block)
    {
        string path = Path.Combine(BlocksFolder, block + ".yaml");
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new RefusedException($"the building block {path} cannot be read: {e.Message} Put the folder sheets/blocks back beside the program.", e);
        }
    }
}
