using Ventwright.Workshop.Sensors;

namespace Ventwright.Workshop;

/// <content>Points of sensors and sweeps of tracks; <see cref="SensorPoints"/> and <see cref="Sweeps"/> check them first.</content>
public sealed partial class OpenSession
{
    internal SessionEvent Keep(SensorPointBody body, string? by) => Keep(SessionEventKind.SensorPoint, body, by);

    internal SessionEvent Keep(SweepBody body, string? by) => Keep(SessionEventKind.Sweep, body, by);
}
