using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Web.Scene;

/// <summary>Something on the sheet that can be found by name.</summary>
/// <param name="Name">Id of a part, or name of a net or hose.</param>
/// <param name="Title">Name in words.</param>
/// <param name="What">What it is.</param>
internal sealed record Finding(string Name, string Title, string What);

/// <summary>Finds parts, pins, nets and hoses, and the checks that can be made at them.</summary>
internal static class SceneSearch
{
    /// <summary>As many as a plug of a module has pins.</summary>
    private const int MostChecks = 24;

    private const int Most = 8;

    /// <summary>The best matches for what was typed; nothing is hidden from it.</summary>
    public static IReadOnlyList<Finding> Find(UnitModel model, string typed)
    {
        string text = typed.Trim();
        if (text.Length == 0) return [];
        IEnumerable<Finding> all = model.Parts.Select(p => new Finding(p.Id, SettingWords.PartName(model, p.Id), p.Kind.Replace('-', ' ')))
            .Concat(model.Nets.Select(n => new Finding(n, n, "net or pin"))).Concat(model.Hoses.Select(h => new Finding(h, h, "hose")));
        return [.. all.Where(f => f.Title.Contains(text, StringComparison.OrdinalIgnoreCase))
            .OrderBy(f => string.Equals(f.Name, text, StringComparison.OrdinalIgnoreCase) ? 0 : f.Title.StartsWith(text, StringComparison.OrdinalIgnoreCase) ? 1 : 2)
            .ThenBy(f => f.Title.Length).Take(Most)];
    }

    /// <summary>Checks at a part, net or hose in a setting: its own points and those of the nets and hoses that it joins.</summary>
    public static IReadOnlyList<Point> Checks(UnitOnSheet unit, Setting setting, string name)
    {
        UnitModel model = unit.Model;
        int part = model.PartIndex(name);
        HashSet<string> nodes = [name];
        if (part >= 0)
        {
            nodes.UnionWith(model.Electric.Where(b => b.Part == part).SelectMany(b => (int[])[b.A, b.B]).Select(n => model.Nets[n]));
            nodes.UnionWith(model.Vacuum.Where(b => b.Part == part).SelectMany(b => (int[])[b.A, b.B]).Select(h => model.Hoses[h]));
        }

        return [.. unit.PointsIn(setting).Where(p => p.Part == part || p.What.Target == name || (p.What.Kind is ObservableKind.Volts or ObservableKind.Vacuum && nodes.Contains(p.What.Target)))
            .OrderBy(p => p.What.Target == name ? 0 : p.Part == part ? 1 : 2).Take(MostChecks)];
    }
}
