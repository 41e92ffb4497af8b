namespace Ventwright.Workshop.Sensors;

/// <summary>A point of a sensor as it is kept: a resistance in a bath.</summary>
/// <param name="Part">Id of the sensor.</param>
/// <param name="Bath"><c>ice</c>, <c>boiling</c> or <c>thermometer</c>.</param>
/// <param name="At">What the thermometer showed, or altitude or air pressure for boiling water, as written; null for ice.</param>
/// <param name="Ohms">Resistance as written, or OL.</param>
/// <param name="Thermometer">Accuracy of the thermometer as written; null for the usual one.</param>
/// <param name="Meter">Accuracy of the ohmmeter as written; null for the usual one.</param>
public sealed record SensorPointBody(string Part, string Bath, string? At, string Ohms, string? Thermometer = null, string? Meter = null);

/// <summary>A sweep as it is kept: always the whole list.</summary>
/// <param name="Part">Id of the servo or potentiometer.</param>
/// <param name="Csv">The points with their heads, as <see cref="Bench.Sensors.SweepFile"/> reads them; empty for a list that was begun anew.</param>
/// <param name="Total">Resistance from end to end as written, or null.</param>
/// <param name="IsStep">Whether it only adds one reading, or begins anew; such entries have no line in the history.</param>
public sealed record SweepBody(string Part, string Csv, string? Total, bool IsStep);
