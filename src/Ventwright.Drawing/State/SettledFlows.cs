using System.Runtime.CompilerServices;
using Ventwright.Simulation;

namespace Ventwright.Drawing;

/// <summary>Signed flows of air branches. What a check at a vent shows knows no air that runs back, and nothing of a blower's wheel.</summary>
internal static class SettledFlows
{
    /// <summary>Flow of each air branch from A to B, m3/s.</summary>
    [UnsafeAccessor(UnsafeAccessorKind.Method, Name = "get_AirFlow")]
    public static extern double[] AirFlow(Settled settled);
}
