namespace Ventwright.Model.Kernel;

/// <summary>What an exchanger in the air's way does.</summary>
public enum ExchangerRole
{
    /// <summary>Takes heat and water out of the air while refrigerant evaporates in it.</summary>
    Evaporator,

    /// <summary>Gives the coolant's heat to the air.</summary>
    Heater,
}

/// <summary>An exchanger in the air's way.</summary>
/// <param name="Role">What it does.</param>
/// <param name="Branch">Air branch that it stands in.</param>
public sealed record Exchanger(ExchangerRole Role, int Branch);

/// <summary>A path that draws air over a sensor.</summary>
/// <param name="Branch">Air branch, counted positive from where the sensor should feel the air.</param>
/// <param name="Sensor">Index of the sensor's part.</param>
public sealed record Aspirator(int Branch, int Sensor);

/// <summary>A valve in the heater's coolant line.</summary>
/// <param name="Part">Index of its part.</param>
/// <param name="Variable">Variable with its travel: 0 at rest, 1 pulled.</param>
/// <param name="OpenWhenPulled">True if it is pulled open, false if it is pulled shut.</param>
/// <param name="PassingParameter">Parameter with the share of the flow that passes when it is shut, 0 in a sound one.</param>
public sealed record WaterValveInfo(int Part, int Variable, bool OpenWhenPulled, int PassingParameter);
