using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>How much of the air has been through the heater core, carried along the streams: each space has the mix of what flows into it.</summary>
internal static class AirWarmth
{
    private const int MostSweeps = 100;
    private const double Near = 1e-3;

    /// <summary>Share of the air in each space, and of what leaves each branch, that came through the heater core, 0..1.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="flows">Flow of each branch from A to B, m3/s.</param>
    public static (double[] Spaces, double[] Branches) Of(UnitModel model, double[] flows)
    {
        double[] spaces = new double[model.Spaces.Length], branches = new double[flows.Length];
        HashSet<int> heaters = [.. model.Exchangers.Where(e => e.Role == ExchangerRole.Heater).Select(e => e.Branch)];
        double change = heaters.Count == 0 ? 0 : 1;
        for (int sweep = 0; sweep < MostSweeps && change > Near; sweep++)
        {
            for (int b = 0; b < flows.Length; b++) branches[b] = heaters.Contains(b) ? 1 : spaces[flows[b] >= 0 ? model.Air[b].A : model.Air[b].B];
            change = 0;
            for (int space = 0; space < spaces.Length; space++)
            {
                double mixed = model.OpenSpaces[space] ? 0 : Mix(model, flows, branches, space);
                change = Math.Max(change, Math.Abs(mixed - spaces[space]));
                spaces[space] = mixed;
            }
        }

        return (spaces, branches);
    }

    private static double Mix(UnitModel model, double[] flows, double[] branches, int space)
    {
        (double all, double warm) = (0, 0);
        for (int b = 0; b < flows.Length; b++)
        {
            if (flows[b] == 0 || (flows[b] > 0 ? model.Air[b].B : model.Air[b].A) != space) continue;
            all += Math.Abs(flows[b]);
            warm += Math.Abs(flows[b]) * branches[b];
        }

        return all > 0 ? warm / all : 0;
    }
}
