using Ventwright.Model.Kernel;

namespace Ventwright.Model.Build;

/// <summary>Adds a point for every net and hose, at the place where it is easiest to reach.</summary>
internal static class NodePoints
{
    /// <summary>Adds the points.</summary>
    public static void Add(ModelBuilder unit)
    {
        foreach (var net in unit.NetUses.Where(u => u.Net != ModelBuilder.Ground).GroupBy(u => u.Net, StringComparer.Ordinal))
            AddPoint(unit, ObservableKind.Volts, net.Key, net.Select(u => u.Part), 0.3);
        foreach (var hose in unit.HoseUses.Where(u => u.Hose != ModelBuilder.Atmosphere).GroupBy(u => u.Hose, StringComparer.Ordinal))
            AddPoint(unit, ObservableKind.Vacuum, hose.Key, hose.Select(u => u.Part), 0.6);
    }

    private static void AddPoint(ModelBuilder unit, ObservableKind kind, string name, IEnumerable<int> parts, double minutes)
    {
        int part = parts.Where(p => p >= 0).Distinct().MinBy(p => unit.Places[unit.Parts[p].Place].Minutes);
        unit.Points.Add(new(new(kind, name), part, unit.Parts[part].Place, PointState.Running, minutes));
    }
}
