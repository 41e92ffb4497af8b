using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Web;
using Ventwright.Web.Cards;

namespace Ventwright.Tests.Web;

/// <summary>Numbers and preferences at the edge of the app. The program's own words; no outside source.</summary>
public sealed class PreferencesTests
{
    [Theory]
    [InlineData("2.31 V at volts(mod.7)", "2,31 V at volts(mod.7)")]
    [InlineData("-0.5 V", "-0,5 V")]
    [InlineData("10.5 V .. 13.6 V", "10,5 V .. 13,6 V")]
    [InlineData("feed.left at mod.16.", "feed.left at mod.16.")]
    public void Numbers_get_a_comma_and_names_keep_their_point(string plain, string shown)
    {
        var german = new Preferences { Comma = true };
        Assert.Equal(shown, german.Show(plain));
        Assert.Equal(plain, german.Typed(shown));
        Assert.Equal(plain, new Preferences().Show(plain));
    }

    [Theory]
    [InlineData("2.31", "V", "2.31 V")]
    [InlineData(" 2.31 mV ", "V", "2.31 mV")]
    [InlineData("OL", "ohm", "OL")]
    [InlineData("NaN", "V", "NaN")]
    [InlineData("", "V", "")]
    public void The_unit_beside_the_field_is_taken_where_none_was_typed(string typed, string unit, string expected) => Assert.Equal(expected, CheckUnits.WithUnit(typed, unit));

    [Fact]
    public void Offered_units_are_ones_that_the_reader_knows()
    {
        foreach (ObservableKind kind in Enum.GetValues<ObservableKind>())
        {
            foreach (UnitSystem system in Enum.GetValues<UnitSystem>())
            {
                foreach (string unit in CheckUnits.For(kind, system)) Assert.True(QuantityText.TryParse($"1 {unit}", new Observable(kind, "x").Dimension(), out _, out string? problem), problem);
            }
        }
    }

    [Fact]
    public void Preferences_come_back_from_their_cookies()
    {
        var chosen = new Preferences { Theme = "dark", Units = UnitSystem.US, Comma = true, LargeTouch = true, Name = "Åse; drop", OwnDrawer = "1.2 kohm 1 %\n470 ohm" };
        var cookies = chosen.Cookies().ToDictionary(c => c.Key, c => c.Value);
        Assert.Equal(chosen, Preferences.FromCookies(cookies.GetValueOrDefault));
        Assert.Equal(new Preferences(), Preferences.FromCookies(_ => "nonsense\u0001\"") with { Name = "" });
    }
}
