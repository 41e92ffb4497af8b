using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Drawing;

/// <summary>Reads nets, hoses, streams and parts off a settled unit.</summary>
internal sealed class StateReader(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, UnitSystem units)
{
    private const double LiveVolts = 1, LoadAmps = 5e-3, VacuumPa = 5e3;
    private readonly UnitModel _model = simulator.Model;
    private readonly UnitFacts _facts = new(simulator.Model);
    private readonly bool _solved = settled.Verdict != Verdict.NotSolved;
    private readonly HashSet<string> _gone = [.. setting.Words.Keys.Where(k => k.StartsWith("absent ", StringComparison.Ordinal) || k.StartsWith("unplug ", StringComparison.Ordinal)).Select(k => k[7..].Trim())];
    private readonly Conductors _joined = new(new(simulator.Model));
    private readonly int[] _loads = [.. Enumerable.Range(0, simulator.Model.Parts.Length).Where(p => IsLoad(simulator.Model.Parts[p].Kind) && simulator.Model.MainBranch[p] >= 0)];
    private NetState[] _nets = [];
    private HoseState[] _hoses = [];
    private AirState[] _air = [];

    public DrawingState Read()
    {
        _nets = [.. _model.Nets.Select(Net)];
        _hoses = [.. _model.Hoses.Select(Hose)];
        double[] flows = _solved ? SettledFlows.AirFlow(settled) : new double[_model.Air.Length];
        (double[] spaces, double[] branches) = AirWarmth.Of(_model, flows);
        _air = [.. _model.Air.Select((b, i) => new AirState(i, flows[i], StateText.Flow(flows[i], units), spaces[flows[i] >= 0 ? b.A : b.B], branches[i]))];
        IEnumerable<PartState> parts = Enumerable.Range(0, _model.Parts.Length).Select(Part);
        return new(settled.Verdict, settled.Note, StateText.FlowUnit(units), _nets, _hoses, _air, parts.Concat(_model.Controls.Select(Control)));
    }

    private Shown Look(ObservableKind kind, string target) => Readings.Read(simulator, setting, faults, settled, new(kind, target));

    private NetState Net(string net)
    {
        Shown shown = Look(ObservableKind.Volts, net);
        return shown.Unsteady ? new(net, double.NaN, true, false, "floats") : new(net, shown.Value, false, AtWork(net, shown.Value), StateText.Volts(shown.Value));
    }

    /// <summary>Where loads hang on a net their current tells; a coil at rest lifts its whole line to 12 V and must not look busy.</summary>
    private bool AtWork(string net, double volts)
    {
        int root = _joined.Root(Array.IndexOf(_model.Nets, net));
        if (_joined.MarkOf(root) == PortMark.Ground) return false;
        int[] loads = [.. _loads.Where(l => _joined.Root(_model.Electric[_model.MainBranch[l]].A) == root || _joined.Root(_model.Electric[_model.MainBranch[l]].B) == root)];
        return loads.Length > 0 ? loads.Any(l => Look(ObservableKind.Amps, _model.Parts[l].Id).Value > LoadAmps) : Math.Abs(volts) > LiveVolts;
    }

    private static bool IsLoad(string kind) =>
        kind is "relay" or "solenoid-valve" or "lamp" or "clutch-coil" or "motor" or "blower" or "servo" or "vacuum-transducer";

    private HoseState Hose(string hose)
    {
        double pa = _solved ? Look(ObservableKind.Vacuum, hose).Value : 0;
        return new(hose, pa, pa > VacuumPa, StateText.Depression(pa, units));
    }

    private PartState Control(Control control)
    {
        double value = settled.Variable(_model, control.Name);
        string text = !double.IsFinite(value) ? "" : control.Positions.Length > 0
            ? control.Positions[Math.Clamp((int)value, 0, control.Positions.Length - 1)] : value.ToString("0.##", CultureInfo.InvariantCulture);
        return new("control:" + control.Name, Activity.Plain, double.NaN, text, text, [$"{control.Name}: {text}"]);
    }

    private PartState Part(int part)
    {
        PartInfo info = _model.Parts[part];
        (Activity activity, double share, string word, string text) = _solved ? Shows(part, info) : (Activity.Plain, double.NaN, "", "");
        if (_gone.Contains(info.Id)) (activity, word, text) = (Activity.Absent, "absent", "absent");
        return new(info.Id, activity, share, word, text, [.. Lines(part, info, word, share)]);
    }

    private (Activity Activity, double Share, string Word, string Text) Shows(int part, PartInfo info) => info.Kind switch
    {
        "fuse" => Fuse(info),
        "relay" => TwoWords(info, "in", "out"),
        "solenoid-valve" => TwoWords(info, "on", "off"),
        "clutch-coil" => TwoWords(info, "in", "out"),
        "thermostatic-switch" or "pressure-switch" => Contact(part),
        "lamp" => Light(info),
        "motor" or "blower" => Motion(info),
        "switch" or "vacuum-valve" => Turned(part),
        "flap" or "vacuum-actuator" or "water-valve" or "servo" => Position(part, info),
        "lever" => Plain(StateText.Percent(settled.Variable(_model, info.Id)), settled.Variable(_model, info.Id)),
        "module" => settled.Variable(_model, info.Id) > 0.5 ? (Activity.Working, 1, "awake", "awake") : (Activity.Idle, 0, "asleep", "asleep"),
        "module-input" or "module-output" => Pin(info),
        "transistor-stage" or "thermistor" or "potentiometer" => Tap(part),
        "vent" => Vent(part, info),
        _ => Other(part),
    };

    private static (Activity, double, string, string) Plain(string text, double share = double.NaN) => (Activity.Plain, share, "", text);

    private (Activity, double, string, string) Fuse(PartInfo info)
    {
        bool blown = settled.Variable(_model, info.Id) < 0.5 || faults.Any(f => f.Id == info.Id + ":blown");
        return blown ? (Activity.Blown, 0, "blown", "blown") : (Activity.Plain, 1, "whole", "");
    }

    private (Activity, double, string, string) TwoWords(PartInfo info, string on, string off)
    {
        double value = settled.Variable(_model, info.Id);
        bool buzzes = Look(ObservableKind.Sound, info.Id).Word == "buzzes";
        string word = buzzes ? "buzzes" : value > 0.5 ? on : off;
        return (value > 0.5 || buzzes ? Activity.Working : Activity.Idle, value, word, word);
    }

    private (Activity, double, string, string) Contact(int part)
    {
        ElectricBranch? contact = Array.Find(_model.Electric, b => b.Part == part && b.Gate is not null);
        if (contact is null) return Plain("");
        double value = settled.Variable(_model, _model.Variables[contact.Gate!.Variable].Name);
        bool made = contact.Gate.At(value) >= 0.5;
        string word = made ? "closed" : "open";
        return (made ? Activity.Working : Activity.Idle, made ? 1 : 0, word, word);
    }

    private (Activity, double, string, string) Light(PartInfo info)
    {
        Shown shown = Look(ObservableKind.Light, info.Id);
        return (shown.Word is "dark" or null ? Activity.Idle : Activity.Working, shown.Value, shown.Word ?? "", shown.Word ?? "");
    }

    private (Activity, double, string, string) Motion(PartInfo info)
    {
        Shown shown = Look(ObservableKind.Motion, info.Id);
        string word = shown.Word ?? "";
        return word == "still" ? (Activity.Idle, shown.Value, word, word) : (Activity.Working, shown.Value, word, word);
    }

    private (Activity, double, string, string) Turned(int part)
    {
        Control? control = _facts.Turns.Where(t => t.Part == part).Select(t => t.Control).FirstOrDefault();
        return Plain(control is null ? "" : Control(control).Text);
    }

    private (Activity, double, string, string) Position(int part, PartInfo info)
    {
        Shown shown = Look(ObservableKind.Position, info.Id);
        string word = shown.Word ?? "";
        string text = info.Kind == "servo" || word == "between" ? StateText.Percent(shown.Value) : word;
        string vacuum = _facts.Hoses(part).Any() ? _hoses[_facts.Hoses(part).Last()].Text : "";
        if (info.Kind == "vacuum-actuator") text = vacuum.Length > 0 ? vacuum : word;
        if (info.Kind == "water-valve") text = $"{vacuum} {word}".Trim();
        return (info.Kind != "flap" && shown.Value > 0.5 && info.Kind != "servo" ? Activity.Working : Activity.Plain, shown.Value, word, text);
    }

    private (Activity, double, string, string) Pin(PartInfo info)
    {
        int net = Array.IndexOf(_model.Nets, info.Id);
        if (net < 0) return Plain("");
        bool works = _model.MainVariable[_model.PartIndex(info.Id)] is >= 0 and int v && settled.Variable(_model, _model.Variables[v].Name) > 0.5;
        return (works ? Activity.Working : Activity.Plain, double.NaN, "", _nets[net].Text);
    }

    /// <summary>Volts of the net that is neither ground nor feed: wiper, sensor line, output of a stage.</summary>
    private (Activity, double, string, string) Tap(int part)
    {
        ElectricBranch? stage = Array.Find(_model.Electric, b => b.Part == part && b.Law == ElectricLaw.Stage);
        ElectricBranch? first = Array.Find(_model.Electric, b => b.Part == part);
        ElectricBranch? wiper = Array.Find(_model.Electric, b => b.Part == part && b.Name.EndsWith("wiper contact", StringComparison.Ordinal));
        int net = stage?.B ?? wiper?.B ?? first?.A ?? -1;
        if (net < 0) return Plain("");
        return (stage is null ? Activity.Plain : _nets[net].Energised ? Activity.Working : Activity.Idle, double.NaN, "", _nets[net].Text);
    }

    private (Activity, double, string, string) Vent(int part, PartInfo info)
    {
        string word = Look(ObservableKind.Airflow, info.Id).Word ?? "none";
        double flow = _air[_facts.AirOf(part)].FlowM3PerS;
        return (word == "none" ? Activity.Idle : Activity.Working, double.NaN, word, word == "none" ? "none" : $"{StateText.Flow(flow, units)} {word}");
    }

    private (Activity, double, string, string) Other(int part)
    {
        int air = _facts.AirOf(part);
        if (air >= 0) return Plain(_air[air].Text);
        int[] hoses = [.. _facts.AllHoses(part).Where(h => h != 0)];
        if (hoses.Length > 0) return Plain(_hoses[hoses[0]].Text);
        return Plain("");
    }

    private IEnumerable<string> Lines(int part, PartInfo info, string word, double share)
    {
        yield return info.Name == info.Id ? $"{info.Id}, {info.Kind}" : $"{info.Name} ({info.Id}, {info.Kind})";
        if (word.Length > 0) yield return double.IsNaN(share) ? word : $"{word}, {StateText.Percent(share)}";
        Shown amps = part < _model.MainBranch.Length && _model.MainBranch[part] >= 0 ? Look(ObservableKind.Amps, info.Id) : Shown.Nothing;
        if (!amps.Unsteady) yield return StateText.Of(amps.Value, Dimension.Ampere, units);
        foreach (int net in _facts.AllNets(part)) yield return $"{_model.Nets[net]}: {_nets[net].Text}";
        foreach (int hose in _facts.AllHoses(part).Where(h => h != 0)) yield return $"{_model.Hoses[hose]}: {_hoses[hose].Text} below ambient";
        int air = _facts.AirOf(part);
        if (air >= 0) yield return $"{_air[air].Text} from {_model.Spaces[_model.Air[air].A]} to {_model.Spaces[_model.Air[air].B]}";
    }
}
