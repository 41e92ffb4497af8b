using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Web.Cards;

/// <summary>How to set the panel for a group of checks, as one heading.</summary>
internal static class SettingTitle
{
    /// <summary>What to do, in one sentence without its full stop.</summary>
    public static string Of(UnitModel model, Setting setting, Preferences preferences)
    {
        string[] steps = [.. setting.Words.Select(w => SettingWords.Text(model, w.Key, w.Value)).Where(t => t.Length > 0)];
        if (steps.Length == 0) return "As it stands at the start";
        return preferences.Show(string.Join(", ", steps.Take(1).Concat(steps.Skip(1).Select(s => char.ToLowerInvariant(s[0]) + s[1..]))));
    }
}
