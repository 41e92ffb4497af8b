using Ventwright.Model.Kernel;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Simulation;

namespace Ventwright.Rig.Wiring;

/// <summary>
/// Holds every channel against what the model expects: first with all outputs in their safe state, supply and pump off; then, once a person has confirmed
/// that, with the supply on and the panel as it stands, where channels that were mixed up show.
/// </summary>
public sealed class WiringCheck
{
    /// <summary>How far a workshop may be from the temperature that the sheet takes, K (common practice, no source).</summary>
    private const double WorkshopSpreadK = 12;

    /// <summary>Volts below which a wire that nothing holds is no cause for alarm.</summary>
    private const double FloatsBelow = 1.5;

    private readonly RigBench _rig;
    private readonly Simulator _simulator;

    /// <summary>Makes the check of a rig.</summary>
    public WiringCheck(RigBench rig) => (_rig, _simulator) = (rig, new Simulator(rig.Model));

    /// <summary>Puts all outputs into their safe state and looks at every channel. The answer is what <see cref="RigBench.Confirm"/> wants.</summary>
    public async Task<WiringReport> OffAsync(CancellationToken cancel)
    {
        SafeReport safe = await _rig.MakeSafeAsync("the wiring is being checked");
        var rows = new List<WiringRow>();
        foreach (OutputDefinition output in _rig.Definition.Outputs) rows.Add(await OutputRowAsync(output, safe, cancel));
        (string, string)[] off = [("supply", "off"), ("pump", "off"), .. StandIns()];
        rows.AddRange(await InputRowsAsync(off, isLive: false, cancel));
        var report = new WiringReport(IsLive: false, rows);
        _rig.Checked(report);
        return report;
    }

    /// <summary>Switches supply and pump on, waits for the unit to come to rest, looks at every input, and puts everything back into its safe state.</summary>
    /// <param name="panel">How the controls stand, as name and text; what is not named stands as the sheet has it.</param>
    /// <param name="rest">How long to wait.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="RigException">The first check was not confirmed, or the rig has trouble.</exception>
    public async Task<WiringReport> LiveAsync(IReadOnlyList<(string Name, string Value)> panel, TimeSpan rest, CancellationToken cancel)
    {
        UnitModel model = _rig.Model;
        try
        {
            var words = new List<(string, string)>(panel);
            foreach (OutputDefinition output in _rig.Definition.Outputs)
            {
                bool isPower = output.Wired.Role is OutputRole.Supply or OutputRole.Pump;
                double value = !isPower ? output.Safe : output.Kind == ChannelKind.Relay ? 1 : model.Parameters[model.Electric[model.SupplyBranch].Parameter];
                OutputChange change = await _rig.SetAsync(output, value, cancel);
                if (output.Wired.Role != OutputRole.Supply) words.AddRange(output.Wired.Words(model, output.Kind, change.Given));
            }

            if (!_rig.IsVirtual) await Task.Delay(rest, cancel);
            return new(IsLive: true, await InputRowsAsync(words, isLive: true, cancel));
        }
        finally
        {
            await _rig.MakeSafeAsync("the live check of the wiring is over");
        }
    }

    private IEnumerable<(string, string)> StandIns() =>
        _rig.Definition.Outputs.Where(o => o.Wired.Role == OutputRole.StandIn).SelectMany(o => o.Wired.Words(_rig.Model, o.Kind, o.Safe));

    private async Task<WiringRow> OutputRowAsync(OutputDefinition output, SafeReport safe, CancellationToken cancel)
    {
        string wiredTo = output.Wired.JoinsTo is { } to ? $"{output.Wired.Name} to {to}" : output.Wired.Name;
        // What the device can set nearest to the safe value, with a hundredth for what its own rounding does.
        double nearest = output.Law.ToValue(output.Law.ToRaw(output.Safe));
        double half = double.IsInfinity(nearest) ? 0 : (0.01 * Math.Abs(nearest)) + 1e-3;
        WiringRow row = new(output, wiredTo, nearest - half, nearest + half, double.NaN, WiringVerdict.NoAnswer, "");
        if (safe.Unreached.FirstOrDefault(u => u.Output == output) is { Reason: { } reason }) return row with { Look = reason };
        try
        {
            double found = await _rig.ReadBackAsync(output, cancel);
            if (double.IsNaN(found)) return row with { Verdict = WiringVerdict.CannotTell, Look = "set; its device cannot be asked whether it took it" };
            bool isRight = found == nearest || (found >= row.Low && found <= row.High);
            return row with
            {
                Found = found,
                Verdict = isRight ? WiringVerdict.Agrees : WiringVerdict.Off,
                Look = isRight ? "" : "it does not keep its safe state: is the point of the device in the rig file right, does something else set it too?",
            };
        }
        catch (RigException e)
        {
            return row with { Look = e.Message };
        }
    }

    private async Task<List<WiringRow>> InputRowsAsync(IEnumerable<(string, string)> words, bool isLive, CancellationToken cancel)
    {
        Setting setting = Setting.TryMake(_rig.Model, words, out string? problem) ?? throw new RigException(RigTrouble.NotPossible, _rig.Definition.Name, problem!);
        Observable[] checks = [.. _rig.Definition.Inputs.Select(i => i.Wired.Check).OfType<Observable>().Distinct()];
        Dictionary<Observable, Band> bands = Bands.Of(_simulator, setting, [], checks).ToDictionary(b => b.What);
        var rows = new List<WiringRow>();
        foreach (InputDefinition input in _rig.Definition.Inputs)
        {
            (double low, double high) = Expected(input, setting, bands);
            WiringRow row = new(input, input.Wired.ToString(), low, high, double.NaN, WiringVerdict.NoAnswer, "");
            try
            {
                double found = await _rig.ReadAsync(input, cancel);
                rows.Add(Judged(row with { Found = found }, input, isLive));
            }
            catch (RigException e)
            {
                rows.Add(row with { Look = e.Message });
            }
        }

        return rows;
    }

    /// <summary>The band that agrees: that of the model, widened by the input's own accuracy. NaN where the model has no answer.</summary>
    private (double Low, double High) Expected(InputDefinition input, Setting setting, Dictionary<Observable, Band> bands)
    {
        if (input.Wired.Condition is { } name)
        {
            Condition condition = Array.Find(_rig.Model.Conditions, c => c.Name == name)!;
            double kelvin = _simulator.Settle(setting, []).Variable(_rig.Model, _rig.Model.Variables[condition.Variable].Name);
            return (kelvin - WorkshopSpreadK - input.Accuracy, kelvin + WorkshopSpreadK + input.Accuracy);
        }

        if (input.Wired.Check is not { } check || bands[check] is not { Nominal.Unsteady: false } band || !double.IsFinite(band.Low)) return (double.NaN, double.NaN);
        if (input.Kind != ChannelKind.Switch) return (band.Low - input.Accuracy, band.High + input.Accuracy);
        return (band.Low > input.Above ? 1 : 0, band.High > input.Above ? 1 : 0);
    }

    private WiringRow Judged(WiringRow row, InputDefinition input, bool isLive)
    {
        if (!double.IsFinite(row.Found)) return row with { Verdict = WiringVerdict.Off, Look = "it is over its range: is the lead off, the wrong input used, or the calibration wrong?" };
        if (double.IsNaN(row.Low))
        {
            bool isQuiet = input.Wired.Check is null || isLive || Math.Abs(row.Found) < FloatsBelow;
            return isQuiet ? row with { Verdict = WiringVerdict.CannotTell, Look = input.Wired.Check is null ? "it is only logged" : "nothing holds this wire now" }
                : row with { Verdict = WiringVerdict.Off, Look = Advice(input, row, isLive) };
        }

        bool isRight = row.Found >= row.Low && row.Found <= row.High;
        return row with { Verdict = isRight ? WiringVerdict.Agrees : WiringVerdict.Off, Look = isRight ? "" : Advice(input, row, isLive) };
    }

    private string Advice(InputDefinition input, WiringRow row, bool isLive) => input.Kind switch
    {
        ChannelKind.Current when !isLive => "nothing flows now: zero the current sensor, then look at its calibration and at stray fields",
        ChannelKind.Pressure when !isLive => "the pump is off: zero the sensor, let the hose breathe, look at the calibration",
        ChannelKind.Temperature => "the sheet takes the workshop's temperature: is it the right sensor, the right type of sensor, does it lie near something warm?",
        _ when !isLive => $"there is a voltage although everything is off: is another supply connected, is the lead really on {row.WiredTo}{Joined(input)}?",
        _ => $"is the lead on {row.WiredTo}{Joined(input)}, or swapped with another one? Does the panel stand as the check takes it? If the wiring is right, the unit has a fault: that is what the bench is for",
    };

    /// <summary>The parts on the net, as somewhere to find it.</summary>
    private string Joined(InputDefinition input)
    {
        if (input.Wired.Check is not { Kind: ObservableKind.Volts } check) return "";
        int net = Array.IndexOf(_rig.Model.Nets, check.Target);
        string[] parts = [.. _rig.Model.Electric.Where(b => b.A == net || b.B == net).Select(b => _rig.Model.Parts[b.Part].Id).Distinct().Take(4)];
        return parts.Length == 0 ? "" : $" (joined there: {string.Join(", ", parts)})";
    }
}
