namespace Ventwright.Quantities;

/// <summary>What a dimension is called in a message, and a unit and an example to write instead.</summary>
internal static class DimensionWords
{
    /// <summary>For example "a voltage".</summary>
    public static string Noun(Dimension dimension) => Row(dimension).Noun;

    /// <summary>For example "12 V".</summary>
    public static string Example(Dimension dimension) => $"{Row(dimension).Number}{(Row(dimension).Unit.Length > 0 ? " " : "")}{Row(dimension).Unit}";

    /// <summary>The unit a person would most likely have meant, for example "V".</summary>
    public static string LikelyUnit(Dimension dimension) => Row(dimension).Unit;

    private static (string Noun, string Number, string Unit) Row(Dimension dimension) => dimension switch
    {
        Dimension.Volt => ("a voltage", "12", "V"),
        Dimension.Ampere => ("a current", "2.5", "A"),
        Dimension.Ohm => ("a resistance", "42", "ohm"),
        Dimension.Watt => ("a power", "55", "W"),
        Dimension.Second => ("a time", "12", "s"),
        Dimension.Frequency => ("a frequency", "5", "Hz"),
        Dimension.Pressure => ("a pressure", "40", "kPa"),
        Dimension.Temperature => ("a temperature", "25", "degC"),
        Dimension.TemperatureDifference => ("a temperature difference", "1", "K"),
        Dimension.Length => ("a length", "4", "mm"),
        Dimension.Area => ("an area", "60", "cm2"),
        Dimension.Volume => ("a volume", "2", "l"),
        Dimension.VolumeFlow => ("a flow", "200", "m3/h"),
        Dimension.Conductance => ("a sonic conductance", "0.2", "dm3/(s.bar)"),
        Dimension.Fraction => ("a fraction", "50", "%"),
        Dimension.Mass => ("a mass", "0.9", "kg"),
        Dimension.Speed => ("a speed", "50", "km/h"),
        Dimension.Irradiance => ("an irradiance", "800", "W/m2"),
        Dimension.HeatConductance => ("a heat conductance", "50", "W/K"),
        Dimension.HeatCapacity => ("a heat capacity", "100", "kJ/K"),
        _ => ("a plain number", "42", ""),
    };
}
