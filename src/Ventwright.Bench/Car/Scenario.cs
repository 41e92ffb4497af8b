using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;

namespace Ventwright.Bench.Car;

/// <summary>What the hands do at a moment of a scenario: a control and the positions to choose from; the first one that the unit's control has is taken.</summary>
/// <param name="Control">Name of the control.</param>
/// <param name="Positions">Positions or dial values, the best first.</param>
public sealed record Turn(string Control, IReadOnlyList<string> Positions);

/// <summary>A moment of a scenario, with everything that holds from then on.</summary>
/// <param name="Seconds">Time since the start, s.</param>
/// <param name="Weather">What the world does.</param>
/// <param name="Turns">What stands on the panel.</param>
public sealed record Moment(double Seconds, Weather Weather, IReadOnlyList<Turn> Turns);

/// <summary>What the world and the hands do in a drive. It knows neither car nor unit.</summary>
/// <param name="Key">Short name, as given on the command line.</param>
/// <param name="Name">Name in words.</param>
/// <param name="Seconds">Length, s.</param>
/// <param name="CabinK">Cabin air at the start, K.</param>
/// <param name="TrimK">Trim at the start, K.</param>
/// <param name="CoolantK">Coolant at the start, K.</param>
/// <param name="ComfortK">Temperature that is wanted where the unit's module does not say it, K.</param>
/// <param name="Moments">Moments in order; the first is at 0.</param>
public sealed record Scenario(string Key, string Name, double Seconds, double CabinK, double TrimK, double CoolantK, double ComfortK, IReadOnlyList<Moment> Moments)
{
    /// <summary>The moment that holds at a time.</summary>
    public Moment At(double seconds)
    {
        int i = Moments.Count - 1;
        while (i > 0 && Moments[i].Seconds > seconds + 1e-9) i--;
        return Moments[i];
    }

    /// <summary>The words of a setting that put the panel of a unit as a moment wants it; controls and positions that the unit does not have are left out.</summary>
    public static IEnumerable<(string Name, string Value)> Panel(UnitModel model, Moment moment)
    {
        foreach (Turn turn in moment.Turns)
        {
            Control? control = Array.Find(model.Controls, c => string.Equals(c.Name, turn.Control, StringComparison.Ordinal));
            if (control is null) continue;
            string? position = control.Positions.Length == 0 ? turn.Positions[0] : turn.Positions.FirstOrDefault(p => control.Positions.Contains(p, StringComparer.Ordinal));
            if (position is not null) yield return (control.Name, position);
        }
    }
}
