using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <summary>What can only be judged once the whole sheet is read: loose ends, hoses without source, flaps that nobody moves.</summary>
internal sealed class SheetChecks(ModelBuilder unit, ProblemList problems, HashSet<string> spare)
{
    /// <summary>Runs all checks.</summary>
    public void Run()
    {
        LooseEnds("net", unit.NetUses.Select(u => (u.Net, u.Part, u.At)), [ModelBuilder.Ground, ModelBuilder.Battery]);
        LooseEnds("hose", unit.HoseUses.Select(u => (u.Hose, u.Part, u.At)), [ModelBuilder.Atmosphere]);
        UnmovedFlaps();
        HosesWithoutSource();
        StatedNames();
    }

    private void LooseEnds(string what, IEnumerable<(string Name, int Part, Mark At)> uses, string[] always)
    {
        var byName = uses.GroupBy(u => u.Name, StringComparer.Ordinal).ToArray();
        string[] joined = [.. byName.Where(g => g.Select(u => u.Part).Distinct().Count() > 1).Select(g => g.Key), .. always];
        foreach (var group in byName)
        {
            if (group.Select(u => u.Part).Distinct().Count() > 1 || always.Contains(group.Key, StringComparer.Ordinal) || spare.Contains(group.Key)) continue;
            (string name, int part, Mark at) = group.First();
            string? near = NearMiss.Suggest(name, joined);
            string owner = part >= 0 ? unit.Parts[part].Id : "nothing";
            problems.Error(
                $"loose-{what}", at, $"no {what} `{name}` besides here: only {owner} joins it",
                near is null ? $"join something to it, or list it under `spare:`" : $"did you mean `{near}`? else list it under `spare:`");
        }
    }

    private void UnmovedFlaps()
    {
        foreach (Variable flap in unit.Variables.Where(v => v.Law == VariableLaw.Linkage && v.Input < 0))
            problems.Error("flap-unmoved", unit.Parts[flap.Part].At, $"nobody moves the flap {flap.Name}", $"give an actuator, servo or lever `moves: {flap.Name}`");
    }

    private void HosesWithoutSource()
    {
        var reached = new HashSet<int>(unit.VacuumSources.Select(s => s.Hose));
        for (bool grown = reached.Count > 0; grown;)
        {
            grown = false;
            foreach (VacuumBranch b in unit.Vacuum.Where(b => b.A != 0 && b.B != 0 && reached.Contains(b.A) != reached.Contains(b.B)))
                grown |= reached.Add(b.A) | reached.Add(b.B);
        }

        string[] names = [.. unit.HoseNames];
        foreach (var use in unit.HoseUses.DistinctBy(u => u.Hose))
        {
            int hose = Array.IndexOf(names, use.Hose);
            if (hose > 0 && !reached.Contains(hose) && !spare.Contains(use.Hose))
                problems.Error("hose-without-source", use.At, $"no source of vacuum reaches the hose `{use.Hose}`", "follow it back to a vacuum-source, or list it under `spare:`");
        }
    }

    private void StatedNames()
    {
        foreach (StatedRow row in unit.Stated)
        {
            if (unit.UnknownTarget(row.What) is { } unknown) problems.Error("unknown-name", row.At, unknown.Message, unknown.Hint);
            foreach ((string name, _) in row.Settings)
            {
                if (unit.FindVariable(name) >= 0 || name is "supply" or "pump") continue;
                string? near = NearMiss.Suggest(name, unit.VariableNames);
                problems.Error("unknown-name", row.At, $"no control or condition `{name}`", near is null ? null : $"did you mean `{near}`?");
            }
        }
    }
}
