using Ventwright.Model.Kernel;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation;

/// <summary>
/// What a reservoir and all that hangs on it lose once the supply of vacuum is taken off: one isothermal volume behind the sum of its leaks (ISO 6358, closed form).
/// Hoses are wide beside leaks, so that the connected ones have one pressure; what the unit moves meanwhile is left out.
/// </summary>
internal static class VacuumFall
{
    /// <summary>A hose belongs to the volume while it holds at least this share of the depression; else air comes in through it.</summary>
    private const double Holds = 0.5;
    private const double LeastPa = 100;

    /// <summary>Depression lost after a time, Pa.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="settled">The unit at rest with its supply of vacuum.</param>
    /// <param name="hose">Hose with the gauge.</param>
    /// <param name="seconds">Time, s.</param>
    public static double Pa(UnitModel model, Settled settled, int hose, double seconds)
    {
        double start = settled.DepressionPa[hose];
        if (!(start > LeastPa)) return 0;
        var side = new VacuumSide(model);
        side.Refresh(settled.Parameters, settled.Variables, pump: true);
        bool[] held = Connected(model, settled, side, hose, start);
        double volume = held.Select((h, i) => h ? model.HoseVolumes[i] : 0).Sum(), conductance = 0, ratio = 0;
        for (int i = 0; i < model.Vacuum.Length; i++)
        {
            double leak = Leak(model, settled, side, held, i, start);
            conductance += leak;
            ratio += leak * side.Ratio[i];
        }

        if (conductance <= 0 || volume <= 0) return 0;
        return start - VacuumVolume.LeakUpDepressionPa(start, VacuumVolume.RatePerS(conductance, volume), ratio / conductance, model.AmbientPa, seconds);
    }

    /// <summary>The hose and all that hold with it; check valves and pumps end the volume.</summary>
    private static bool[] Connected(UnitModel model, Settled settled, VacuumSide side, int hose, double start)
    {
        bool[] held = new bool[model.Hoses.Length];
        held[hose] = true;
        for (bool grows = true; grows;)
        {
            grows = false;
            for (int i = 0; i < model.Vacuum.Length; i++)
            {
                VacuumBranch branch = model.Vacuum[i];
                if (branch.OneWay || side.Conductance[i] <= 0 || held[branch.A] == held[branch.B]) continue;
                int other = held[branch.A] ? branch.B : branch.A;
                if (other == 0 || double.IsFinite(side.Fixed[other]) || settled.DepressionPa[other] < Holds * start) continue;
                grows = held[other] = true;
            }
        }

        return held;
    }

    /// <summary>Sonic conductance, from the atmosphere, that lets as much in as a branch does at the start.</summary>
    private static double Leak(UnitModel model, Settled settled, VacuumSide side, bool[] held, int index, double start)
    {
        VacuumBranch branch = model.Vacuum[index];
        double conductance = side.Conductance[index];
        if (conductance <= 0 || held[branch.A] == held[branch.B] || (branch.OneWay && held[branch.A])) return 0;
        int outside = held[branch.A] ? branch.B : branch.A;
        // Past a check valve, and where the pump was, there is air once the supply is off.
        if (outside == 0 || branch.OneWay || double.IsFinite(side.Fixed[outside])) return conductance;
        double ratio = side.Ratio[index], inside = model.AmbientPa - start;
        double flow = Iso6358.FlowKgPerS(conductance, ratio, model.AmbientPa - settled.DepressionPa[outside], inside);
        return conductance * Math.Max(0, flow) / Iso6358.FlowKgPerS(conductance, ratio, model.AmbientPa, inside);
    }
}
