using System.Globalization;
using Ventwright.Bench.StandIns;
using Ventwright.Physics.Sensing;
using Ventwright.Quantities;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Cli.Output;

/// <summary>Stand-ins for people and for programs.</summary>
internal static class StandInView
{
    /// <summary>Writes one for people.</summary>
    public static void Write(StandIn standIn, Drawer drawer, UnitSystem units)
    {
        Screen.Line($"{standIn.Part} {standIn.Name}");
        switch (standIn)
        {
            case SensorStandIn sensor:
                Sensor(sensor, drawer, units);
                break;
            case PositionStandIn position:
                Position(position, drawer);
                break;
            case SwitchStandIn contact:
                Screen.Line(contact.Closed ? $"closed: {contact.Nets.A} joined with {contact.Nets.B}" : $"open: nothing between {contact.Nets.A} and {contact.Nets.B}");
                break;
            case VacuumStandIn vacuum:
                Screen.Table(["hose", "depression", "by the sheet's tolerance"], vacuum.Hoses.Select(h => (string[])[h.Hose, h.Pascal == 0 ? "open to the air" : SensorWords.Both(h.Pascal), h.LowPa < h.HighPa ? $"{SensorWords.Both(h.LowPa)} .. {SensorWords.Both(h.HighPa)}" : ""]));
                break;
        }

        foreach (string step in standIn.Steps) Screen.Line($"  - {step}");
        foreach (string caution in standIn.Cautions) Screen.Line($"  caution: {caution}");
        if (standIn.Word is { } word) Screen.Line($"for the model: {(word.Name.StartsWith("stand-in ", StringComparison.Ordinal) ? $"--stand-in {word.Name[9..]}={word.Value.Replace(" ", "", StringComparison.Ordinal)}" : $"--{word.Name} {word.Value}")}");
        Screen.Line();
    }

    private static void Sensor(SensorStandIn s, Drawer drawer, UnitSystem units)
    {
        Screen.Line(Text($"{SensorWords.Degrees(s.Kelvin, units)}: apply {SensorWords.Ohms(s.Ohms)}{(s.CountsSelfHeating ? ", the sensor's own warming counted in" : "")}; 1 % is {SensorWords.Signed(s.ForOnePercentK, units)}, 1 ohm is {SensorWords.Small(s.ForOneOhmK, units)}"));
        Screen.Line($"resistance box: {string.Join(", ", s.Box.Select(b => $"{b.Position} x {QuantityText.Format(b.StepOhms, Dimension.Ohm, UnitSystem.Metric)}"))} ({SensorWords.Small(s.BoxErrorK, units)} off)");
        Screen.Line(Text($"potentiometer: {QuantityText.Format(s.Pot.Ohms, Dimension.Ohm, UnitSystem.Metric)}, wiper joined to one end, at {s.Pot.Turn * 100:0} % of its turn, set by ohmmeter; 1 % of the turn is {SensorWords.Difference(s.Pot.ForOnePercent, units)}"));
        Screen.Table(
            [$"out of {drawer.Name}", "together", "reads", "worst case", "root sum square", "largest power"],
            s.Choices.Select(c => (string[])
            [
                SensorWords.Joined(c.Network), SensorWords.Ohms(c.Network.Ohms), SensorWords.Small(c.ErrorK, units), $"{SensorWords.Small(c.WorstK.Cold, units)} .. {SensorWords.Small(c.WorstK.Warm, units)}", $"+- {SensorWords.Difference(c.RootSumSquareK, units)}",
                QuantityText.Format(c.Watts.Max(), Dimension.Watt, UnitSystem.Metric),
            ]));
        SensorLoad load = s.Load;
        string reads = double.IsNaN(load.ModuleReadsKelvin) ? "no module reads it in this setting" : $"the module reads {SensorWords.Degrees(load.ModuleReadsKelvin, units)}";
        Screen.Line(Text($"in place: {QuantityText.Format(load.PinVolts, Dimension.Volt, UnitSystem.Metric)} over it, {QuantityText.Format(load.Amps, Dimension.Ampere, UnitSystem.Metric)}, {QuantityText.Format(load.Watts, Dimension.Watt, UnitSystem.Metric)}; {reads}"));
        Screen.Line($"an ohmmeter across it with the supply off shows {SensorWords.Ohms(load.OhmsInPlace)} once it is fitted; a 10 Mohm voltmeter left on it makes {SensorWords.Small(load.VoltmeterK, units)}");
        Screen.Line(Text($"the real sensor warms itself by {SensorWords.Difference(load.SelfHeatingK, units)} at {s.DissipationWPerK * 1000:0.##} mW/K (common practice for a small bead in still air: 1.5 mW/K)"));
    }

    private static void Position(PositionStandIn p, Drawer drawer)
    {
        Screen.Line(Text($"position {p.Position:0.###}: {SensorWords.Ohms(p.LowerOhms)} from {p.Track.LowNet} to the tap, {SensorWords.Ohms(p.UpperOhms)} from the tap to {p.Track.HighNet}"));
        Screen.Line(Text($"potentiometer: {QuantityText.Format(p.Pot.Ohms, Dimension.Ohm, UnitSystem.Metric)} in place of the track, at {p.Pot.Turn * 100:0.#} % of its turn"));
        if (p.Choices.Count == 0) return;
        Screen.Table(
            [$"out of {drawer.Name}: lower", "upper", "together", "module reads", "by tolerance"],
            p.Choices.Select(c => (string[])
            [
                SensorWords.Ohms(c.Divider.Lower.Ohms), SensorWords.Ohms(c.Divider.Upper.Ohms), SensorWords.Ohms(c.Divider.TotalOhms), Text($"{c.Reads:0.0000}"), Text($"{c.WorstReads.Low:0.000} .. {c.WorstReads.High:0.000}"),
            ]));
    }

    /// <summary>One for other programs.</summary>
    public static object Json(StandIn standIn, UnitSystem units) => standIn switch
    {
        SensorStandIn s => SensorJson(s, units),
        PositionStandIn p => new
        {
            Kind = "position",
            p.Part,
            p.Name,
            p.Position,
            Lower = Output.Json.Number(p.LowerOhms),
            Upper = Output.Json.Number(p.UpperOhms),
            Potentiometer = new { Ohms = p.Pot.Ohms, Turn = Output.Json.Number(p.Pot.Turn) },
            Choices = p.Choices.Select(c => new
            {
                Lower = Output.Json.Number(c.Divider.Lower.Ohms),
                Upper = Output.Json.Number(c.Divider.Upper.Ohms),
                Reads = Output.Json.Number(c.Reads),
                Low = Output.Json.Number(c.WorstReads.Low),
                High = Output.Json.Number(c.WorstReads.High),
            }),
            p.Steps,
            p.Cautions,
        },
        SwitchStandIn w => new { Kind = "switch", w.Part, w.Name, w.Closed, Nets = (string[])[w.Nets.A, w.Nets.B], w.Steps, w.Cautions },
        VacuumStandIn v => new
        {
            Kind = "vacuum",
            v.Part,
            v.Name,
            Position = Output.Json.Number(v.Position),
            Hoses = v.Hoses.Select(h => new { h.Hose, KPa = Output.Json.Number(h.Pascal / 1000), InHg = Output.Json.Number(QuantityText.ToUnit(h.Pascal, Dimension.Pressure, UnitSystem.US)), LowKPa = Output.Json.Number(h.LowPa / 1000), HighKPa = Output.Json.Number(h.HighPa / 1000) }),
            v.Steps,
            v.Cautions,
        },
        _ => new { Kind = "other", standIn.Part, standIn.Name },
    };

    private static object SensorJson(SensorStandIn s, UnitSystem units) => new
    {
        Kind = "sensor",
        s.Part,
        s.Name,
        At = SensorView.T(s.Kelvin, units),
        Ohms = Output.Json.Number(s.Ohms),
        SelfHeatingCounted = s.CountsSelfHeating,
        ForOnePercent = SensorView.K(s.ForOnePercentK, units),
        ForOneOhm = SensorView.K(s.ForOneOhmK, units),
        Box = s.Box.Select(b => new { Step = b.StepOhms, b.Position }),
        BoxError = SensorView.K(s.BoxErrorK, units),
        Potentiometer = new { Ohms = s.Pot.Ohms, Turn = Output.Json.Number(s.Pot.Turn), ForOnePercent = SensorView.K(s.Pot.ForOnePercent, units) },
        Choices = s.Choices.Select(c => new
        {
            Joined = SensorWords.Joined(c.Network),
            Joint = Word(c.Network.Joint),
            Values = c.Network.Values,
            Ohms = Output.Json.Number(c.Network.Ohms),
            Error = SensorView.K(c.ErrorK, units),
            WorstCold = SensorView.K(c.WorstK.Cold, units),
            WorstWarm = SensorView.K(c.WorstK.Warm, units),
            RootSumSquare = SensorView.K(c.RootSumSquareK, units),
            Watts = c.Watts.Select(Output.Json.Number),
        }),
        Load = new
        {
            Volts = Output.Json.Number(s.Load.PinVolts),
            Amps = Output.Json.Number(s.Load.Amps),
            Watts = Output.Json.Number(s.Load.Watts),
            ModuleReads = SensorView.T(s.Load.ModuleReadsKelvin, units),
            OhmsInPlace = Output.Json.Number(s.Load.OhmsInPlace),
            Voltmeter = SensorView.K(s.Load.VoltmeterK, units),
            SelfHeating = SensorView.K(s.Load.SelfHeatingK, units),
            DissipationWPerK = s.DissipationWPerK,
        },
        s.Steps,
        s.Cautions,
    };

    private static string Word(ResistorJoint joint) => joint switch
    {
        ResistorJoint.Single => "single",
        ResistorJoint.Series => "series",
        ResistorJoint.Parallel => "parallel",
        ResistorJoint.SeriesWithPair => "series-with-pair",
        _ => "parallel-with-row",
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
