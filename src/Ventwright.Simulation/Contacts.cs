using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>
/// What the contacts of a pulled plug look like: a contact with a film that makes ohms is green, white or burnt (common practice, no source). A pin that is open is
/// broken where nobody sees it, so it looks clean.
/// </summary>
internal static class Contacts
{
    private const string Clean = "clean";
    private const double FilmOhms = 0.5, MostFilmOhms = 10e3;

    /// <summary>Answers: clean, corroded at each of the pins, in several places.</summary>
    public static string[] Words(UnitModel model, int part) => [Clean, .. Pins(model, part).Select(p => At(PinOf(p))), At("several")];

    /// <summary>What is seen with some values of the parts: 0 for clean, the number of the corroded pin, one more than there are pins for several.</summary>
    public static Shown Look(UnitModel model, double[] parameters, int part)
    {
        ElectricBranch[] pins = [.. Pins(model, part)];
        int[] seen = [.. Enumerable.Range(0, pins.Length).Where(i => parameters[pins[i].Parameter] is >= FilmOhms and <= MostFilmOhms)];
        return seen.Length switch
        {
            0 => new(0, Clean),
            1 => new(seen[0] + 1, At(PinOf(pins[seen[0]]))),
            _ => new(pins.Length + 1, At("several")),
        };
    }

    private static IEnumerable<ElectricBranch> Pins(UnitModel model, int part) => model.Electric.Where(b => b.Part == part);

    private static string At(string where) => Readings.CorrodedAt + where;

    private static string PinOf(ElectricBranch pin) => pin.Name["pin ".Length..];
}
