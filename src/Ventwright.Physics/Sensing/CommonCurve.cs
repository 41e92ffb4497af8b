namespace Ventwright.Physics.Sensing;

/// <summary>
/// The commonest curve of thermistors on sale (B25/85 3977 K), in the extended form 1/T = A1 + B1 x + C1 x^2 + D1 x^3 with x = ln(R/R25) and constants from
/// the makers' sheets as public code quotes them. It stands for how real sensors bend away from the Beta form.
/// </summary>
public static class CommonCurve
{
    private const double A1 = 3.354016e-3, B1 = 2.569850e-4, C1 = 2.620131e-6, D1 = 6.383091e-8, R25 = 10000;

    /// <summary>Temperature in kelvins at a resistance in ohms.</summary>
    public static double Kelvin(double ohms)
    {
        double x = Math.Log(ohms / R25);
        return 1 / (A1 + (x * (B1 + (x * (C1 + (x * D1))))));
    }

    /// <summary>Resistance in ohms at a temperature in kelvins.</summary>
    public static double Ohms(double kelvin)
    {
        double x = 0;
        for (int i = 0; i < 60; i++)
        {
            double step = (A1 + (x * (B1 + (x * (C1 + (x * D1))))) - (1 / kelvin)) / (B1 + (x * ((2 * C1) + (3 * x * D1))));
            x -= step;
            if (Math.Abs(step) < 1e-14) break;
        }

        return R25 * Math.Exp(x);
    }
}
