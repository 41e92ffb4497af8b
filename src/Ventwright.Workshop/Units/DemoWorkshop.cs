using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>
/// An invented workshop to look around in: a half-finished session on a unit with three faults in it, whose readings come from the simulated unit, and one that
/// was only just started.
/// </summary>
public static class DemoWorkshop
{
    private const string Automatic = "twin-blower-automatic.yaml", Manual = "single-blower-manual.yaml", By = "demo";

    /// <summary>Faults that are in the simulated unit.</summary>
    public static IReadOnlyList<string> Faults { get; } = ["Y3:coil-open", "M2:brushes-worn", "RT2:drifted@reads-8K-warm"];

    /// <summary>Checks that were made so far, in bench order.</summary>
    private static readonly (string Set, string At)[] Made =
    [
        ("mode=off", "volts(mod.1)"), ("mode=off", "volts(mod.3)"), ("mode=off", "volts(mod.5)"), ("mode=screen", "volts(mod.16)"),
        ("mode=screen", "airflow(screen-left)"), ("mode=screen", "position(FL3)"), ("mode=screen", "motion(M1)"), ("mode=screen", "amps(M2)"),
    ];

    /// <summary>Whether the sheets of the demo are there.</summary>
    public static bool IsThere => SheetShelf.Find(Automatic) is not null && SheetShelf.Find(Manual) is not null;

    /// <summary>Puts the demo into a workshop.</summary>
    /// <returns>The half-finished session.</returns>
    /// <exception cref="RefusedException">The sheets of the demo are missing.</exception>
    public static OpenSession Fill(SessionDesk desk)
    {
        StartOn(desk, Manual, "Tarn estate, manual unit (demo)");
        OpenSession session = desk.Open(StartOn(desk, Automatic, "Corvale saloon, automatic unit (demo)").Id);
        UnitModel model = session.Unit.Model;
        var predictor = new SheetPredictor(session.Unit.Simulator);
        var unit = new SimulatedUnit(session.Unit.Simulator, [.. Faults.Select(f => model.FindFault(f)!)], new Random(7), within: 0.5, misreads: 0);
        session.Say(SessionEventKind.Symptom, "Windscreen stays misted, the right side blows weakly", By);
        foreach ((string set, string at) in Made)
        {
            (string, string)[] words = [.. set.Split(' ').Select(w => w.Split('=')).Select(w => (w[0], w[1]))];
            Observable what = CheckNames.Parse(model, at);
            Outcome seen = unit.Observe(predictor, predictor.Check(SettingWords.Make(model, words), what));
            session.Read(words, at, ReadingWords.Written(model, what, seen), By);
        }

        return session;
    }

    private static BenchSession StartOn(SessionDesk desk, string sheet, string title)
    {
        string path = SheetShelf.Find(sheet) ?? throw new RefusedException($"the demo's sheet sheets/{sheet} is not beside the program");
        return desk.Start(title, path, File.ReadAllText(path));
    }
}
