using Ventwright.Physics.Sensing;

namespace Ventwright.Tests.Sensing;

public class CurveTests
{
    [Fact]
    public void Common_curve_gives_the_published_resistances()
    {
        foreach ((double kelvin, double ohms) in Published.Thermistor("common-10k"))
        {
            Assert.Equal(ohms, CommonCurve.Ohms(kelvin), ohms * 2e-4);
            Assert.Equal(kelvin, CommonCurve.Kelvin(CommonCurve.Ohms(kelvin)), 1e-9);
        }
    }

    [Fact]
    public void Beta_form_gives_the_table_of_a_public_project()
    {
        var curve = SteinhartHart.OfBeta(10000, 3974);
        foreach ((double kelvin, double ohms) in Published.Thermistor("beta-3974")) Assert.Equal(ohms, curve.Ohms(kelvin), 1.0);
    }

    /// <summary>Wiki on component markings: 10 kohm, B 3950 is 2486 ohm at 60 degC, within 0.2 %.</summary>
    [Fact]
    public void Beta_form_at_one_published_point() => Assert.Equal(2486, SteinhartHart.OfBeta(10000, 3950).Ohms(333.15), 2486 * 0.002);

    [Fact]
    public void Steinhart_hart_gives_the_published_resistances_and_comes_back()
    {
        var curve = new SteinhartHart(1.129148e-3, 2.34125e-4, 8.76741e-8);
        foreach ((double kelvin, double ohms) in Published.Thermistor("steinhart-hart"))
        {
            Assert.Equal(ohms, curve.Ohms(kelvin), ohms * 5e-4);
            Assert.Equal(kelvin, curve.Kelvin(curve.Ohms(kelvin)), 1e-9);
        }
    }

    /// <summary>Trade article: over a span of 100 K with a middle point the method fits to about 0.02 K.</summary>
    [Fact]
    public void Three_points_fit_the_common_curve_over_a_hundred_kelvins_to_some_hundredths()
    {
        CalibrationPoint[] points = [.. new[] { 273.15, 318.15, 373.15 }.Select(k => new CalibrationPoint(k, CommonCurve.Ohms(k), 0.01, 1e-4))];
        ThermistorFit fit = ThermistorFit.Fit(points, 3);
        Assert.All(points, p => Assert.Equal(p.Kelvin, fit.Curve.Kelvin(p.Ohms), 1e-6));
        Assert.All(Enumerable.Range(0, 101), i => Assert.InRange(fit.Curve.Kelvin(CommonCurve.Ohms(273.15 + i)) - 273.15 - i, -0.03, 0.03));
    }

    /// <summary>The table is not exactly of this form: the fit through 0, 50 and 100 degC leaves 0.07 K at 25 degC.</summary>
    [Fact]
    public void Three_points_of_a_kernel_table_give_the_others_to_a_tenth_of_a_kelvin()
    {
        var table = Published.Thermistor("table-a").Where(p => p.Kelvin is > 270 and < 375).ToArray();
        ThermistorFit fit = ThermistorFit.Fit([.. new[] { 0, 2, 4 }.Select(i => new CalibrationPoint(table[i].Kelvin, table[i].Ohms, 0.01, 1e-4))], 3);
        Assert.All(table, p => Assert.Equal(p.Kelvin, fit.Curve.Kelvin(p.Ohms), 0.1));
    }

    /// <summary>Common 10 kohm curve: R25 10000 and R85 1070.3 are Beta 3977 K, within 1 K (IEC 60539-1 definition, from memory).</summary>
    [Fact]
    public void Two_points_give_the_beta_of_the_data_sheet()
    {
        ThermistorFit fit = ThermistorFit.Fit([new(298.15, 10000, 0.05, 1e-3), new(358.15, 1070.3, 0.05, 1e-3)], 2);
        Assert.Equal(3977, fit.Beta().BetaK, 1.0);
        Assert.Equal(0, fit.Freedom);
        Assert.True(double.IsNaN(fit.Probability));
    }

    /// <summary>A sensor on the common curve read through B 3977 shows +0.77, -0.31, +0.39 K at 0, 50, 100 degC (worked out from the published constants).</summary>
    [Fact]
    public void Beta_form_misses_a_real_curve_by_what_the_constants_say()
    {
        var beta = SteinhartHart.OfBeta(10000, 3977);
        double Error(double celsius) => beta.Kelvin(CommonCurve.Ohms(celsius + 273.15)) - celsius - 273.15;
        Assert.Equal(0.77, Error(0), 0.01);
        Assert.Equal(-0.31, Error(50), 0.01);
        Assert.Equal(0.39, Error(100), 0.01);
    }

    [Fact]
    public void Bend_of_two_constants_is_nothing_at_the_readings_and_something_between()
    {
        ThermistorFit fit = ThermistorFit.Fit([new(273.15, 33000, 0.05, 1e-3), new(373.15, 680, 0.05, 1e-3)], 2);
        Assert.Equal(0, fit.BendK(273.15), 1e-6);
        Assert.Equal(0, fit.BendK(373.15), 1e-6);
        Assert.InRange(Math.Abs(fit.BendK(323.15)), 0.3, 1.5);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        Assert.Throws<ArgumentException>(() => ThermistorFit.Fit([new(273.15, 33000, 0.1, 1e-3)], 2));
        Assert.Throws<ArgumentException>(() => ThermistorFit.Fit([new(273.15, 33000, 0.1, 1e-3), new(298.15, 33000, 0.1, 1e-3)], 2));
        Assert.Throws<ArgumentException>(() => ThermistorFit.Fit([new(273.15, 33000, 0, 0), new(298.15, 10000, 0, 0)], 2));
    }

    [Fact]
    public void An_error_that_all_readings_share_is_not_averaged_away()
    {
        CalibrationPoint[] Points(double gain, double own) => [.. Enumerable.Range(0, 9).Select(i => new CalibrationPoint(273.15 + (i * 5), CommonCurve.Ohms(273.15 + (i * 5)), 0.001, own, gain))];
        double shared = ThermistorFit.Fit(Points(0.01, 1e-5), 2).UncertaintyK(293.15), single = ThermistorFit.Fit(Points(1e-9, 0.01), 2).UncertaintyK(293.15);
        Assert.Equal(0.01 / 0.0455, shared, 0.02); // 1 % of a slope of -4.5 %/K
        Assert.InRange(single, 0.2 * shared, 0.5 * shared);
    }
}
