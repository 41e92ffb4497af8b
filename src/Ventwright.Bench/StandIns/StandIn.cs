using Ventwright.Bench.Sensors;
using Ventwright.Physics.Sensing;

namespace Ventwright.Bench.StandIns;

/// <summary>What to put in place of a part so that the unit believes it is in a car.</summary>
/// <param name="Part">Id of the part.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Steps">What to do, in order.</param>
/// <param name="Cautions">What can hurt or break.</param>
/// <param name="Word">The word of a setting that tells the model the same, as name and text; null where there is none.</param>
public abstract record StandIn(string Part, string Name, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, (string Name, string Value)? Word);

/// <summary>A setting of a resistance box.</summary>
/// <param name="StepOhms">What one step of the decade is, ohm.</param>
/// <param name="Position">Where the decade stands, 0 to 9; the highest decade may need more.</param>
public readonly record struct BoxDecade(double StepOhms, int Position);

/// <summary>A potentiometer that makes a resistance or a share.</summary>
/// <param name="Ohms">Whole resistance of a suitable one, ohm.</param>
/// <param name="Turn">Where it stands, 0..1 of its turn.</param>
/// <param name="ForOnePercent">What one per cent of its turn changes: kelvins for a sensor, share of travel for a position.</param>
public readonly record struct PotentiometerSetting(double Ohms, double Turn, double ForOnePercent);

/// <summary>Resistors that stand in for a sensor.</summary>
/// <param name="Network">The resistors.</param>
/// <param name="ErrorK">How much too warm they read, K; negative is too cold.</param>
/// <param name="WorstK">The same with every resistor at the bad end of its tolerance: coldest and warmest, K.</param>
/// <param name="RootSumSquareK">What the tolerances add as root of the sum of squares, K.</param>
/// <param name="Watts">Power in each resistor, W.</param>
public sealed record ResistorChoice(ResistorNetwork Network, double ErrorK, (double Cold, double Warm) WorstK, double RootSumSquareK, IReadOnlyList<double> Watts);

/// <summary>What the module does to what stands in the sensor's place.</summary>
/// <param name="PinVolts">Volts over it, V.</param>
/// <param name="Amps">Current through it, A.</param>
/// <param name="Watts">Power in it, W.</param>
/// <param name="ModuleReadsKelvin">Temperature that the module then reads, K; NaN when it reads none.</param>
/// <param name="OhmsInPlace">What an ohmmeter would show across it fitted, supply off, ohm: the module lies in parallel.</param>
/// <param name="VoltmeterK">How much too warm the module reads while a 10 Mohm voltmeter hangs on it, K.</param>
/// <param name="SelfHeatingK">How much warmer than the air the real sensor would be by the module's current, K.</param>
public sealed record SensorLoad(double PinVolts, double Amps, double Watts, double ModuleReadsKelvin, double OhmsInPlace, double VoltmeterK, double SelfHeatingK);

/// <summary>A resistance in place of a temperature sensor.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Kelvin">Temperature that the unit shall believe, K.</param>
/// <param name="Ohms">Resistance to apply, ohm.</param>
/// <param name="CountsSelfHeating">Whether the sensor's own warming is in the resistance, the temperature then being that of the air.</param>
/// <param name="ForOnePercentK">Kelvins for one per cent of it; negative, since more ohms are colder.</param>
/// <param name="ForOneOhmK">Kelvins for one ohm.</param>
/// <param name="Box">Setting of a resistance box with steps of 1 ohm or finer.</param>
/// <param name="BoxErrorK">Error that its last step leaves, K.</param>
/// <param name="Pot">A potentiometer with its wiper joined to one end.</param>
/// <param name="Choices">Resistors out of the drawer, best first, the best of fewer among them; of those within 5 mK the fewer first.</param>
/// <param name="Load">What the module does to it.</param>
/// <param name="DissipationWPerK">Dissipation constant that the self-heating was worked out with, W/K.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Steps">What to do.</param>
/// <param name="Cautions">What can hurt or break.</param>
/// <param name="Word">The word of a setting.</param>
public sealed record SensorStandIn(
    SensorPart Sensor, double Kelvin, double Ohms, bool CountsSelfHeating, double ForOnePercentK, double ForOneOhmK, IReadOnlyList<BoxDecade> Box, double BoxErrorK, PotentiometerSetting Pot,
    IReadOnlyList<ResistorChoice> Choices, SensorLoad Load, double DissipationWPerK, string Name, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, (string Name, string Value)? Word)
    : StandIn(Sensor.Id, Name, Steps, Cautions, Word);

/// <summary>Two resistors that stand in for a feedback.</summary>
/// <param name="Divider">The two.</param>
/// <param name="Reads">Position that the module reads through them, 0..1; by the divider alone where no module reads it.</param>
/// <param name="WorstReads">The divider's share with both at opposite ends of their tolerances.</param>
public sealed record DividerChoice(ResistorDivider Divider, double Reads, (double Low, double High) WorstReads);

/// <summary>A divider in place of a track with a wiper.</summary>
/// <param name="Track">The track.</param>
/// <param name="Position">Position that the unit shall believe, 0..1.</param>
/// <param name="LowerOhms">Ohms from the low end to the tap with the sheet's track, ohm.</param>
/// <param name="UpperOhms">Ohms from the tap to the high end, ohm.</param>
/// <param name="Pot">A potentiometer in its place.</param>
/// <param name="Choices">Two resistors out of the drawer, best first; empty at the very ends.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Steps">What to do.</param>
/// <param name="Cautions">What can hurt or break.</param>
/// <param name="Word">The word of a setting.</param>
public sealed record PositionStandIn(
    TrackPart Track, double Position, double LowerOhms, double UpperOhms, PotentiometerSetting Pot, IReadOnlyList<DividerChoice> Choices,
    string Name, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, (string Name, string Value)? Word)
    : StandIn(Track.Id, Name, Steps, Cautions, Word);

/// <summary>A bridge, or nothing, in place of a switch.</summary>
/// <param name="Part">Id of the switch.</param>
/// <param name="Closed">Whether it is bridged.</param>
/// <param name="Nets">Its two nets.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Steps">What to do.</param>
/// <param name="Cautions">What can hurt or break.</param>
/// <param name="Word">The word of a setting.</param>
public sealed record SwitchStandIn(
    string Part, bool Closed, (string A, string B) Nets, string Name, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, (string Name, string Value)? Word)
    : StandIn(Part, Name, Steps, Cautions, Word);

/// <summary>Depression on one hose.</summary>
/// <param name="Hose">The hose.</param>
/// <param name="Pascal">Depression below ambient, Pa; 0 is open to the air.</param>
/// <param name="LowPa">Least by the sheet's tolerance, Pa.</param>
/// <param name="HighPa">Most, Pa.</param>
public readonly record struct HoseDepression(string Hose, double Pascal, double LowPa, double HighPa);

/// <summary>A hand pump in place of the unit's vacuum.</summary>
/// <param name="Part">Id of the part.</param>
/// <param name="Hoses">What to apply to which hose.</param>
/// <param name="Position">Position that it brings about, 0..1; NaN for a source.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Steps">What to do.</param>
/// <param name="Cautions">What can hurt or break.</param>
/// <param name="Word">The word of a setting.</param>
public sealed record VacuumStandIn(
    string Part, IReadOnlyList<HoseDepression> Hoses, double Position, string Name, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, (string Name, string Value)? Word)
    : StandIn(Part, Name, Steps, Cautions, Word);

/// <summary>What is taken for granted when a stand-in is worked out.</summary>
/// <param name="DissipationWPerK">Dissipation constant of a sensor's bead, W/K; 1.5 mW/K is a small leaded bead in still air (component sheets).</param>
/// <param name="CountSelfHeating">Whether a temperature is that of the air round the sensor, its own warming to be added.</param>
/// <param name="MostResistors">Most resistors to join, 1 to 3.</param>
/// <param name="Choices">How many choices to give.</param>
/// <param name="Set">Controls and conditions of the unit while it is stood in for.</param>
public sealed record StandInOptions(
    double DissipationWPerK = 1.5e-3, bool CountSelfHeating = false, int MostResistors = 3, int Choices = 5, IReadOnlyList<(string Name, string Value)>? Set = null);
