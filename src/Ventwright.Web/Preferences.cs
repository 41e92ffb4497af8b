using Ventwright.Quantities;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Web;

/// <summary>What a person chose for this browser. Kept in its cookies.</summary>
public sealed record Preferences
{
    /// <summary><c>auto</c>, <c>light</c> or <c>dark</c>.</summary>
    public string Theme { get; init; } = "auto";

    /// <summary>Metric or US units.</summary>
    public UnitSystem Units { get; init; } = UnitSystem.Metric;

    /// <summary>Whether numbers are written with a decimal comma.</summary>
    public bool Comma { get; init; }

    /// <summary>Whether targets are extra large and the number pad always there.</summary>
    public bool LargeTouch { get; init; }

    /// <summary>Name under which entries are kept.</summary>
    public string Name { get; init; } = "";

    /// <summary>The drawer that stand-ins are made from: a series, or the person's own.</summary>
    public string Drawer { get; init; } = "E24";

    /// <summary>The person's own resistors, one on each line.</summary>
    public string OwnDrawer { get; init; } = "";

    /// <summary>Who enters.</summary>
    public string By => Name.Length == 0 ? "bench" : Name;

    /// <summary>Reads them from cookies; what makes no sense is left at its default.</summary>
    public static Preferences FromCookies(Func<string, string?> cookie) => new()
    {
        Theme = cookie("vw-theme") is "light" or "dark" ? cookie("vw-theme")! : "auto",
        Units = cookie("vw-units") == "us" ? UnitSystem.US : UnitSystem.Metric,
        Comma = cookie("vw-comma") == "yes",
        LargeTouch = cookie("vw-touch") == "large",
        Name = Clean(Uri.UnescapeDataString(cookie("vw-name") ?? "")),
        Drawer = StandIns.Drawers.FirstOrDefault(d => d == cookie("vw-drawer")) ?? "E24",
        OwnDrawer = Uri.UnescapeDataString(cookie("vw-own-drawer") ?? "") is var own && own.Any(c => char.IsControl(c) && c is not ('\n' or '\r' or '\t')) ? "" : own,
    };

    /// <summary>The cookies that keep them, by name.</summary>
    public IEnumerable<KeyValuePair<string, string>> Cookies() =>
    [
        new("vw-theme", Theme), new("vw-units", Units == UnitSystem.US ? "us" : "metric"), new("vw-comma", Comma ? "yes" : "no"),
        new("vw-touch", LargeTouch ? "large" : "normal"), new("vw-name", Uri.EscapeDataString(Name)),
        new("vw-drawer", Drawer), new("vw-own-drawer", Uri.EscapeDataString(OwnDrawer)),
    ];

    /// <summary>Whether a drawer is small enough to be kept: browsers keep cookies of up to 4096 characters.</summary>
    public static bool IsKept(string ownDrawer) => Uri.EscapeDataString(ownDrawer).Length <= 3900;

    /// <summary>A name without control characters, at most 40 long.</summary>
    public static string Clean(string name)
    {
        string clean = string.Concat(name.Where(c => !char.IsControl(c))).Trim();
        return clean.Length > 40 ? clean[..40] : clean;
    }

    /// <summary>Text with numbers as this person writes them: a decimal comma where that is wanted.</summary>
    public string Show(string text) => Comma ? Numbers.WithComma(text) : text;

    /// <summary>Typed text as the program reads it: a decimal comma becomes a point.</summary>
    public string Typed(string text) => Comma ? Numbers.WithPoint(text) : text;
}
