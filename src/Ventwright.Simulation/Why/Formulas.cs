using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Why;

/// <summary>Names and sources of the laws; docs/physics.md has them at length.</summary>
internal static class Formulas
{
    private const string Practice = "common practice, no source", Figures = "common practice, no source; its figures are the sheet's";

    public static Formula Balance { get; } = new("nodal analysis at DC", "the currents at every net add up to nothing", "Kirchhoff's laws; docs/physics.md");

    public static Formula Restriction { get; } = new(
        "ISO 6358 restriction", "m = C rho0 p1 sqrt(T0/T), choked; below that times sqrt(1 - ((p2/p1 - b)/(1 - b))^2)", "ISO 6358; docs/physics/vacuum.md");

    public static Formula Pump { get; } = new("held depression", "the source holds its hose at its depression", Practice);

    public static Formula Air { get; } = new("orifice equation and fan laws", "q = sign(x) sqrt(|x|/k), k = rho/(2 (Cd A)^2), fan pressure as speed squared", "common practice; docs/physics/air.md");

    public static Formula Meter { get; } = new("ohms on the dead network", "volts that one ampere makes, parallel paths included", "Ohm's law; docs/physics.md");

    public static Formula LeakUp { get; } = new("isothermal leak-up", "V dp/dt = R T m, closed form over 60 s from 50 kPa", "ISO 6358; docs/physics/vacuum.md");

    public static Formula Fall { get; } = new("isothermal leak-up", "V dp/dt = R T m over 60 s, V and m of all that is connected", "ISO 6358; docs/physics/vacuum.md");

    public static Formula Travel { get; } = new("servo travel", "travel time over the speed that its motor reaches at rated volts", Practice);

    public static Formula Rule { get; } = new("rule", "the module's rule as the sheet has it", "the sheet");

    public static Formula Of(ElectricLaw law) => law switch
    {
        ElectricLaw.Ohmic => new("Ohm's law", "i = v / R", "Ohm's law"),
        ElectricLaw.Source => new("source behind a resistance", "i = (v - E) / Rs, up to a current limit", "Thevenin's equivalent"),
        ElectricLaw.Diode => new("diode", "conducts one way above its forward drop: i = (v - Vf) / Ron", Practice),
        ElectricLaw.Lamp => new("filament", "R = Rhot (c + (1 - c) v / Vn), c = 0.12", Practice),
        ElectricLaw.Motor => new("permanent-magnet motor", "v = i R + k w, i = i0 + ic w2", "docs/physics.md; stalled current common practice, no source"),
        ElectricLaw.Thermistor => new("thermistor", "R = R25 exp(B (1/T - 1/T25)), or the sheet's table with ln R straight in 1/T", "IEC 60539-1 (from memory)"),
        _ => new("transistor stage", "holds its load at gain x control - offset, never above feed - i Ron", Practice),
    };

    public static Formula? Of(VariableLaw law) => law switch
    {
        VariableLaw.Coil => new("coil with hysteresis", "pulls in above its pull-in volts, lets go below its drop-out volts, else stays", Figures),
        VariableLaw.Threshold => new("two thresholds", "switches at its thresholds, between them it stays", Figures),
        VariableLaw.Travel => new("diaphragm travel", "(depression - starts) / (full - starts)", Figures),
        VariableLaw.Linkage => new("linkage", "offset + gain x mover, from 0 to 1", Figures),
        VariableLaw.Servo => new("servo", "runs while its motor has volts, until the module stops it or it meets a stop", Figures),
        VariableLaw.Speed => Of(ElectricLaw.Motor),
        VariableLaw.Fuse => new("fuse", "blows for good above 1.35 times its rating", Practice),
        VariableLaw.Graded => new("vacuum transducer", "gain x current + offset", Figures),
        VariableLaw.Powered => new("supply of the module", "wakes and sleeps at two voltages, between them it stays", Figures),
        _ => null,
    };

    public static Formula Of(InputReads reads) => reads switch
    {
        InputReads.Sensor => new("divider and sensor curve", "R = pull-up x share / (1 - share), then the sensor's nominal curve", "voltage divider; IEC 60539-1 (from memory)"),
        InputReads.Fraction => new("share of the reference", "pin over reference", "voltage divider"),
        InputReads.Volts => new("volts of the pin", "pin over the module's ground", "the sheet"),
        InputReads.Level => new("level", "yes above a voltage", "the sheet"),
        _ => new("which pin is live", "the word of the first pin above a voltage", "the sheet"),
    };
}
