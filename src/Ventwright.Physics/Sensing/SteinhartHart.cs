namespace Ventwright.Physics.Sensing;

/// <summary>
/// Resistance of a thermistor against temperature: 1/T = A + B ln R + C (ln R)^3 (J. S. Steinhart and S. R. Hart, Deep-Sea Research 15, 1968, 497-503; volume
/// and pages from memory). With C = 0 it is the Beta form, with Beta = 1/B.
/// </summary>
/// <param name="A">1/K.</param>
/// <param name="B">1/K for each unit of ln(R/ohm).</param>
/// <param name="C">1/K for each unit of its cube.</param>
public readonly record struct SteinhartHart(double A, double B, double C)
{
    /// <summary>25 degC in kelvins, at which the resistance of a thermistor is named.</summary>
    public const double NameTemperature = 298.15;

    /// <summary>The Beta form.</summary>
    /// <param name="r25Ohm">Resistance at 25 degC, ohm.</param>
    /// <param name="betaK">Beta, K.</param>
    public static SteinhartHart OfBeta(double r25Ohm, double betaK) => new((1 / NameTemperature) - (Math.Log(r25Ohm) / betaK), 1 / betaK, 0);

    /// <summary>Temperature in kelvins at a resistance in ohms.</summary>
    public double Kelvin(double ohms)
    {
        double l = Math.Log(ohms);
        return 1 / (A + (B * l) + (C * l * l * l));
    }

    /// <summary>Slope of 1/T against ln R at a resistance in ohms, 1/K.</summary>
    public double Slope(double ohms)
    {
        double l = Math.Log(ohms);
        return B + (3 * C * l * l);
    }

    /// <summary>Resistance in ohms at a temperature in kelvins; the root of the cubic that rises with 1/T, by Newton's method from the linear part.</summary>
    public double Ohms(double kelvin)
    {
        double wanted = 1 / kelvin, l = C == 0 ? (wanted - A) / B : 9.2;
        for (int i = 0; i < 60 && C != 0; i++)
        {
            double slope = B + (3 * C * l * l), step = (A + (B * l) + (C * l * l * l) - wanted) / slope;
            l = Math.Clamp(l - step, -10, 30);
            if (Math.Abs(step) < 1e-14) break;
        }

        return Math.Exp(l);
    }

    /// <summary>Whether temperature falls with resistance all the way between two resistances, as it must for a thermistor.</summary>
    public bool Falls(double lowOhms, double highOhms) => Slope(lowOhms) > 0 && Slope(highOhms) > 0 && Slope(Math.Sqrt(lowOhms * highOhms)) > 0;
}
