using Ventwright.Model.Rules;

namespace Ventwright.Model.Kernel;

/// <summary>How the module turns the voltage of a pin into a signal.</summary>
public enum InputReads
{
    /// <summary>Share of a reference net, 0..1.</summary>
    Fraction,

    /// <summary>Volts to the module's ground.</summary>
    Volts,

    /// <summary>Degrees Celsius through a thermistor's nominal curve and the nominal pull-up.</summary>
    Sensor,

    /// <summary>1 when the pin is above a voltage, else 0.</summary>
    Level,

    /// <summary>Index of a word, picked by which of several pins is above a voltage.</summary>
    Word,
}

/// <summary>An input of the module.</summary>
/// <param name="Name">Signal name.</param>
/// <param name="Part">Index of the pin's part.</param>
/// <param name="Signal">Index of the signal that it gives.</param>
/// <param name="Reads">How the pin is read.</param>
/// <param name="Pins">Net of the pin; for words one net a word, in the order of <paramref name="Words"/>.</param>
/// <param name="Reference">Net that fractions are taken of, or -1.</param>
/// <param name="Parameter">
/// First of its parameters: force (signal value, NaN = none), threshold (V), nominal pull-up (ohm), offset added to the fraction.
/// </param>
/// <param name="Curve">Nominal curve of the sensor, or null.</param>
/// <param name="Words">Words of a word input; the last is the one for "none of the pins".</param>
/// <param name="DeadParameters">For words: per pin the parameter that is 1 when the module no longer sees it.</param>
/// <param name="SlowRiseS">Time constant in seconds with which the signal follows a rising pin; 0 = at once. Falls are followed at once. At rest it has no effect.</param>
public sealed record ModuleInput(
    string Name, int Part, int Signal, InputReads Reads, int[] Pins, int Reference, int Parameter, ThermistorCurve? Curve, string[] Words,
    int[] DeadParameters, double SlowRiseS = 0);

/// <summary>A signal worked out from others.</summary>
/// <param name="Name">Signal name.</param>
/// <param name="Signal">Index of the signal.</param>
/// <param name="Rule">Its expression, compiled.</param>
/// <param name="Text">Its expression in words.</param>
public sealed record ModuleSignal(string Name, int Signal, CompiledRule Rule, string Text);

/// <summary>What an output of the module does.</summary>
public enum OutputKind
{
    /// <summary>Joins its pin with ground (sinks) or supply (sources) while its condition holds. Value 0 or 1.</summary>
    Switch,

    /// <summary>Puts a voltage on its pin. Value in volts.</summary>
    Volts,

    /// <summary>Drives a servo until its feedback is where it should be. Value -1, 0 or 1.</summary>
    Seek,
}

/// <summary>An output of the module.</summary>
/// <param name="Name">Name: its pin, or the servo that it drives.</param>
/// <param name="Part">Index of the output's part.</param>
/// <param name="Kind">What it does.</param>
/// <param name="Variable">Variable that it sets.</param>
/// <param name="Value">Condition, volts, or the place to seek (0..1).</param>
/// <param name="Until">For a switch: once on, it stays on until this holds; null = while the condition holds.</param>
/// <param name="WaitsFor">The output stays at rest until this holds; null = no wait.</param>
/// <param name="Reads">For a servo: index of the signal with its feedback (0..1).</param>
/// <param name="DeadBand">For a servo: error below which the module stops driving.</param>
/// <param name="Servo">For a servo: its position's variable.</param>
/// <param name="Text">Its rule in words.</param>
/// <param name="ShiftParameter">Parameter with the share by which its thresholds are off, or -1.</param>
/// <param name="AfterS">For a switch: seconds that its condition must hold before it comes on. At rest it has no effect.</param>
public sealed record ModuleOutput(
    string Name, int Part, OutputKind Kind, int Variable, CompiledRule Value, CompiledRule? Until, CompiledRule? WaitsFor, int Reads,
    double DeadBand, int Servo, string Text, double AfterS = 0, int ShiftParameter = -1);

/// <summary>The module's rules: inputs, signals in the order in which they are worked out, outputs.</summary>
/// <param name="Part">Index of the module's part.</param>
/// <param name="SignalNames">Name of each signal.</param>
/// <param name="Inputs">Inputs.</param>
/// <param name="Signals">Worked-out signals, each after those it needs.</param>
/// <param name="Outputs">Outputs.</param>
/// <param name="Ground">Net of the module's ground.</param>
/// <param name="Powered">Variable that is 1 while the module has supply.</param>
/// <param name="SamplesPerSecond">How often it samples in time-domain runs.</param>
/// <param name="SetPoint">Index of the signal with the temperature asked for (degC), or -1.</param>
public sealed record ModuleProgram(
    int Part, string[] SignalNames, ModuleInput[] Inputs, ModuleSignal[] Signals, ModuleOutput[] Outputs, int Ground, int Powered,
    double SamplesPerSecond, int SetPoint = -1);
