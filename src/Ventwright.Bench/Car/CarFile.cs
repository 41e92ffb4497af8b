using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Quantities;

namespace Ventwright.Bench.Car;

/// <summary>Reads a car: only what differs from a mid-size saloon needs to be in its file.</summary>
internal static class CarFile
{
    /// <summary>Reads the car.</summary>
    public static CarBody? Read(SheetMap root, ProblemList problems)
    {
        var keys = new MapReader(root, problems);
        var usual = new CarBody();
        keys.Number("car", true);
        var car = usual with
        {
            Name = keys.Text("name") ?? usual.Name,
            AirCapacity = Of(keys, "air", Dimension.HeatCapacity, usual.AirCapacity),
            TrimCapacity = Of(keys, "trim", Dimension.HeatCapacity, usual.TrimCapacity),
            AirToTrim = Of(keys, "air-to-trim", Dimension.HeatConductance, usual.AirToTrim),
            ShellStanding = Of(keys, "shell", Dimension.HeatConductance, usual.ShellStanding),
            TrimToOutside = Of(keys, "trim-to-outside", Dimension.HeatConductance, usual.TrimToOutside),
            SunArea = Of(keys, "sun-area", Dimension.Area, usual.SunArea),
            PersonHeat = Of(keys, "person", Dimension.Watt, usual.PersonHeat),
            OutsideSoak = keys.Quantity("outside-soak", Dimension.TemperatureDifference, usual.OutsideSoak),
            CoolantCapacity = Of(keys, "coolant", Dimension.HeatCapacity, usual.CoolantCapacity),
            ThermostatOpens = keys.Quantity("thermostat-opens", Dimension.Temperature, usual.ThermostatOpens),
            ThermostatFull = keys.Quantity("thermostat-full", Dimension.Temperature, usual.ThermostatFull),
            Radiator = Of(keys, "radiator", Dimension.HeatConductance, usual.Radiator),
            HeaterSize = Of(keys, "heater", Dimension.HeatConductance, usual.HeaterSize),
            EvaporatorSize = Of(keys, "evaporator", Dimension.HeatConductance, usual.EvaporatorSize),
            EvaporatorCapacity = Of(keys, "evaporator-metal", Dimension.HeatCapacity, usual.EvaporatorCapacity),
            RatedCooling = Of(keys, "cooling", Dimension.Watt, usual.RatedCooling),
        };
        if (car.ThermostatFull <= car.ThermostatOpens) problems.Error("thermostat", keys.MarkOf("thermostat-full"), "the thermostat must be fully open above where it starts to open");
        keys.Done();
        return problems.HasErrors ? null : car;
    }

    private static double Of(MapReader keys, string key, Dimension dimension, double usual) => keys.Quantity(key, dimension, usual, Allowed.Positive);
}
