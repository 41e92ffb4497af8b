using Ventwright.Physics.Sensing;

namespace Ventwright.Bench.Sensors;

/// <summary>How the temperature of a reading is known.</summary>
public enum BathKind
{
    /// <summary>Ice and water.</summary>
    Ice,

    /// <summary>Boiling water, by the air pressure.</summary>
    Boiling,

    /// <summary>Air or water beside a thermometer.</summary>
    Thermometer,
}

/// <summary>A known temperature to hold a sensor at: what it is, how well it is known, how to make it, and what goes wrong.</summary>
/// <param name="Kind">How it is known.</param>
/// <param name="Title">Name in words.</param>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="HalfWidthK">It lies within so many kelvins, apart from the thermometer's own error.</param>
/// <param name="ThermometerK">Accuracy of the thermometer, K; 0 for a fixed point.</param>
/// <param name="Steps">What to do, in order, with the pitfalls.</param>
/// <param name="Cautions">What can hurt.</param>
/// <param name="Source">Where temperature and practice come from.</param>
public sealed record Bath(
    BathKind Kind, string Title, double Kelvin, double HalfWidthK, double ThermometerK, IReadOnlyList<string> Steps, IReadOnlyList<string> Cautions, string Source)
{
    /// <summary>Ice point, K.</summary>
    public const double IcePoint = 273.15;

    /// <summary>The weather moves the air pressure about its mean by so much, Pa (common practice, no source).</summary>
    public const double WeatherPa = 2000;

    /// <summary>Uncertainty of a barometer reading of the place itself, Pa (common practice, no source).</summary>
    public const double BarometerPa = 200;

    /// <summary>Accuracy of a thermometer when none is told, K (common practice, no source).</summary>
    public const double UsualThermometerK = 0.5;

    /// <summary>A bath is not the same everywhere: half-width in K (common practice, no source).</summary>
    private const double UnevenK = 0.2;

    private const string Wet = "Keep water, mains electricity and the bench supply apart: no reading with wet hands at a live unit, sensor unplugged from the unit, heater switched off at the wall before you reach in.";
    private const string Maker = "The maker's own procedure for the sensor goes first; some sensors must not get wet: put those into a thin dry bag with the air pressed out.";

    private static readonly string[] Everywhere =
    [
        "Unplug the sensor and measure it alone; with the unit plugged in the meter reads the pull-up and the module as well.",
        "Short the meter's leads first and take what they show off a low reading.",
        "Wait until the reading has not moved for a minute; a bead in still air needs about five times 15 s, in a housing several minutes.",
        "Touch the meter to the leads only as long as the reading takes: its current warms the bead.",
    ];

    /// <summary>Ice and water.</summary>
    public static Bath Ice { get; } = new(
        BathKind.Ice, "ice bath", IcePoint, UnevenK, 0,
        [
            "Crush ice, fill a flask or cup with it and add just enough clean cold water to fill the gaps. Ice that swims on much water is not at 0 degC below the ice.",
            "Stir, put the sensor in the middle, off the wall and off the bottom, and stir again every minute.",
            "Pour off water and add ice when the ice no longer reaches the bottom. Salt, or ice straight from a deep freezer without melt water, makes it colder than 0 degC.",
            .. Everywhere,
        ],
        [Wet, Maker], "ice point; practice of public-health and hobby guidance, 0.1 K for a careful slush from memory");

    /// <summary>Boiling water.</summary>
    /// <param name="pascal">Air pressure of the place, Pa.</param>
    /// <param name="halfWidthPa">Half-width to which it is known, Pa.</param>
    /// <exception cref="ArgumentOutOfRangeException">No air pressure on land.</exception>
    public static Bath Boiling(double pascal, double halfWidthPa)
    {
        double spread = (BoilingPoint.Kelvin(pascal + halfWidthPa) - BoilingPoint.Kelvin(pascal - halfWidthPa)) / 2;
        return new(
            BathKind.Boiling, "boiling water", BoilingPoint.Kelvin(pascal), Math.Sqrt((spread * spread) + (UnevenK * UnevenK)), 0,
            [
                "Bring clean water to a rolling boil in an open pot: no lid, no salt.",
                "Hang the sensor in the middle of the water, off the bottom and the wall: the bottom is hotter than the water.",
                "Use the pressure of the place itself, not the one reduced to sea level that weather reports give; without a barometer take the altitude.",
                .. Everywhere,
            ],
            ["Boiling water and steam scald: gloves, eye protection, a steady pot, nobody else near it, lead and hands out of the steam.", Wet, Maker,
                "Do not boil a sensor that is not made for it: plastic housings, glued beads and cabin sensors in paper tubes often stand 60 to 80 degC at most."],
            "IAPWS-IF97 saturation; ICAO standard atmosphere where an altitude is given");
    }

    /// <summary>Air or water at a temperature that a thermometer shows.</summary>
    /// <param name="kelvin">What it shows, K.</param>
    /// <param name="thermometerK">Its accuracy, K.</param>
    public static Bath At(double kelvin, double thermometerK) => new(
        BathKind.Thermometer, kelvin > 308 ? "hot water" : "beside a thermometer", kelvin, UnevenK, thermometerK,
        [
            "Tie the thermometer's tip and the sensor together, without metal of the lead between them.",
            "Room: out of sun and draught, away from hands and lamps, a quarter of an hour after the last handling.",
            "Water: a large pot or flask, stirred all the time; take the heater away and read while it cools slowly.",
            "The thermometer's error goes straight into the result: try it in the ice bath and take what it shows there off every reading.",
            .. Everywhere,
        ],
        kelvin > 318 ? ["Water above 50 degC scalds within seconds: gloves, eye protection, a steady pot.", Wet, Maker] : [Wet, Maker], "common practice, no source");
}

/// <summary>A resistance of a sensor at a known temperature.</summary>
/// <param name="Bath">The temperature.</param>
/// <param name="Ohms">The resistance, ohm.</param>
public sealed record SensorReading(Bath Bath, double Ohms);

/// <summary>Accuracy of the ohmmeter.</summary>
/// <param name="Share">Half-width as a share of the reading, the same for all readings of the meter.</param>
/// <param name="Ohms">Half-width in ohms, each reading by itself: last digit, leads, contacts.</param>
public readonly record struct OhmmeterAccuracy(double Share, double Ohms)
{
    /// <summary>An ordinary meter: 0.5 % and 1 ohm (common practice, no source).</summary>
    public static OhmmeterAccuracy Usual { get; } = new(0.005, 1);
}
