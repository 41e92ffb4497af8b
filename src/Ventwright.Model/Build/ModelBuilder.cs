using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <summary>Collects nodes, branches, variables and parameters while the parts of a sheet are compiled, and turns them into a <see cref="UnitModel"/>.</summary>
public sealed class ModelBuilder
{
    /// <summary>Name of the ground net.</summary>
    public const string Ground = "gnd";

    /// <summary>Name of the supply's plus net.</summary>
    public const string Battery = "battery";

    /// <summary>Name of the hose that stands for open air.</summary>
    public const string Atmosphere = "atmosphere";

    private readonly Dictionary<string, int> _nets = new(StringComparer.Ordinal) { [Ground] = 0 };
    private readonly Dictionary<string, int> _hoses = new(StringComparer.Ordinal) { [Atmosphere] = 0 };
    private readonly Dictionary<string, int> _spaces = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _variables = new(StringComparer.Ordinal);
    private readonly Dictionary<int, double> _volumes = [];

    /// <summary>Problems found on the way.</summary>
    public required ProblemList Problems { get; init; }

    /// <summary>Parameters, nominal, SI.</summary>
    public List<double> Parameters { get; } = [];

    /// <summary>Parameter names.</summary>
    public List<string> ParameterNames { get; } = [];

    /// <summary>Pins of test connectors.</summary>
    public List<TestPin> TestPins { get; } = [];

    /// <summary>Electrical branches.</summary>
    public List<ElectricBranch> Electric { get; } = [];

    /// <summary>Vacuum branches.</summary>
    public List<VacuumBranch> Vacuum { get; } = [];

    /// <summary>Air branches.</summary>
    public List<AirBranch> Air { get; } = [];

    /// <summary>Pumps.</summary>
    public List<VacuumSource> VacuumSources { get; } = [];

    /// <summary>Variables.</summary>
    public List<Variable> Variables { get; } = [];

    /// <summary>Tolerances.</summary>
    public List<Tolerance> Tolerances { get; } = [];

    /// <summary>Thermistor curves.</summary>
    public List<ThermistorCurve> Curves { get; } = [];

    /// <summary>Faults.</summary>
    public List<Fault> Faults { get; } = [];

    /// <summary>Points.</summary>
    public List<Point> Points { get; } = [];

    /// <summary>Parts.</summary>
    public List<PartInfo> Parts { get; } = [];

    /// <summary>Places.</summary>
    public List<Place> Places { get; } = [];

    /// <summary>Controls.</summary>
    public List<Control> Controls { get; } = [];

    /// <summary>Conditions.</summary>
    public List<Condition> Conditions { get; } = [];

    /// <summary>Stated rows.</summary>
    public List<StatedRow> Stated { get; } = [];

    /// <summary>Vents.</summary>
    public List<(string Name, int Branch)> Vents { get; } = [];

    /// <summary>Exchangers.</summary>
    public List<Exchanger> Exchangers { get; } = [];

    /// <summary>Aspirators.</summary>
    public List<Aspirator> Aspirators { get; } = [];

    /// <summary>Water valves.</summary>
    public List<WaterValveInfo> WaterValves { get; } = [];

    /// <summary>Ports.</summary>
    public Dictionary<(int Part, string Port), List<PortEnd>> Ports { get; } = [];

    /// <summary>Main branch of each part that has one.</summary>
    public Dictionary<int, int> MainBranch { get; } = [];

    /// <summary>Main variable of each part that has one.</summary>
    public Dictionary<int, int> MainVariable { get; } = [];

    /// <summary>Position words of each part that has them.</summary>
    public Dictionary<int, (string AtRest, string Moved)> PositionWords { get; } = [];

    /// <summary>Where each net was named, and by which part (-1: not a part); for finding nets that nothing else joins.</summary>
    public List<(string Net, int Part, Mark At)> NetUses { get; } = [];

    /// <summary>The same for hoses.</summary>
    public List<(string Hose, int Part, Mark At)> HoseUses { get; } = [];

    /// <summary>Spaces that are open to ambient pressure.</summary>
    public HashSet<string> OpenSpaces { get; } = new(StringComparer.Ordinal) { "outside", "cabin" };

    /// <summary>The module, once compiled.</summary>
    public ModuleProgram? Module { get; set; }

    /// <summary>Curve of each sensor, by part id.</summary>
    public Dictionary<string, int> SensorCurves { get; } = new(StringComparer.Ordinal);

    /// <summary>Air branch of each part of the air section.</summary>
    public Dictionary<int, int> AirBranchOf { get; } = [];

    /// <summary>Pairs of ports that somebody may have exchanged; turned into faults once all parts stand.</summary>
    public List<((int Part, string Port) First, (int Part, string Port) Second, string Name, double Weight)> Swaps { get; } = [];

    /// <summary>Last member of each solenoid pack, for pairing neighbours.</summary>
    private readonly Dictionary<string, int> _packs = new(StringComparer.Ordinal);

    /// <summary>Parameter by which the surroundings are warmer than told, K; -1 where they are known exactly.</summary>
    public int AmbientOffset { get; set; } = -1;

    /// <summary>Branch of the supply.</summary>
    public int SupplyBranch { get; set; } = -1;

    /// <summary>Net names by index.</summary>
    public IEnumerable<string> NetNames => _nets.Keys;

    /// <summary>Hose names by index.</summary>
    public IEnumerable<string> HoseNames => _hoses.Keys;

    /// <summary>Names of all variables.</summary>
    public IEnumerable<string> VariableNames => _variables.Keys;

    /// <summary>Net by name, made on first use.</summary>
    public int Net(string name) => Index(_nets, name);

    /// <summary>Hose by name, made on first use.</summary>
    public int Hose(string name) => Index(_hoses, name);

    /// <summary>Space by name, made on first use.</summary>
    public int Space(string name) => Index(_spaces, name);

    /// <summary>Adds volume (m3) to a hose.</summary>
    public void AddVolume(int hose, double volumeM3) => _volumes[hose] = _volumes.GetValueOrDefault(hose) + volumeM3;

    /// <summary>Adds a parameter and gives its index.</summary>
    public int Parameter(string name, double value)
    {
        Parameters.Add(value);
        ParameterNames.Add(name);
        return Parameters.Count - 1;
    }

    /// <summary>Adds a variable under a name; its parameters, the force first, are added in one run.</summary>
    /// <param name="name">Name; a second variable of a name is refused by the caller's duplicate check, not here.</param>
    /// <param name="part">Part or -1.</param>
    /// <param name="law">Law.</param>
    /// <param name="input">What it reads.</param>
    /// <param name="second">Second thing, or -1.</param>
    /// <param name="start">Value before anything happened.</param>
    /// <param name="parameters">Name and value of the parameters after the force.</param>
    public int Variable(
        string name, int part, VariableLaw law, int input = -1, int second = -1, double start = 0, params ReadOnlySpan<(string Name, double Value)> parameters)
    {
        int first = Parameter($"{name} held at", double.NaN);
        foreach ((string parameter, double value) in parameters) Parameter($"{name} {parameter}", value);
        Variables.Add(new(name, part, law, first, input, second, start));
        _variables[name] = Variables.Count - 1;
        return Variables.Count - 1;
    }

    /// <summary>Index of a variable by name (control, condition, or part), or -1.</summary>
    public int FindVariable(string name) => _variables.GetValueOrDefault(name, -1);

    /// <summary>Index of a part by id, or -1.</summary>
    public int FindPart(string id) => Parts.FindIndex(p => string.Equals(p.Id, id, StringComparison.Ordinal));

    /// <summary>Lets a mover move a flap: sets the flap's linkage to offset + gain * mover.</summary>
    public void Link(int flapVariable, int moverVariable, double offset, double gain)
    {
        Variable flap = Variables[flapVariable];
        Variables[flapVariable] = flap with { Input = moverVariable };
        Parameters[flap.Parameter + 1] = offset;
        Parameters[flap.Parameter + 2] = gain;
    }

    /// <summary>Sets what a variable reads.</summary>
    public void SetInput(int variable, int input, int second = -1) => Variables[variable] = Variables[variable] with { Input = input, Second = second };

    /// <summary>Notes that two ports may have been exchanged.</summary>
    public void SwapPorts((int Part, string Port) first, (int Part, string Port) second, string name, double weight) =>
        Swaps.Add((first, second, name, weight));

    /// <summary>Notes a member of a pack whose port may have been exchanged with its neighbour's.</summary>
    public void AddToPack(PartBuilder part, string port)
    {
        if (part.Keys.Text("pack") is not { } pack) return;
        if (_packs.TryGetValue(pack, out int before)) SwapPorts((part.Index, port), (before, port), $"{port}-swapped-with-{Parts[before].Id}", 0.15);
        _packs[pack] = part.Index;
    }

    /// <summary>Adds a fault of a part. The family is the name up to a size: <c>drifted@+5K</c> is of the family drifted.</summary>
    /// <param name="part">Index of the part.</param>
    /// <param name="name">Name without the part.</param>
    /// <param name="weight">Relative frequency, 1 = average.</param>
    /// <param name="symptom">What a person would notice.</param>
    /// <param name="edits">Changed parameters.</param>
    /// <param name="rewires">Changed joints.</param>
    /// <param name="intermittentShare">Share of readings in which it shows; 0 for one that is always there.</param>
    /// <param name="carOnly">Whether only the car shows it.</param>
    public void Fault(
        int part, string name, double weight, string symptom, Edit[] edits, Rewire[] rewires, double intermittentShare = 0, bool carOnly = false)
    {
        int at = name.IndexOf('@', StringComparison.Ordinal);
        string id = Parts[part].Id, family = $"{id}:{(at < 0 ? name : name[..at])}";
        Faults.Add(new($"{id}:{name}", family, part, name, weight, symptom, edits, rewires, intermittentShare, carOnly));
    }

    /// <summary>Adds the fault that some pairs of ports are exchanged; nothing if that makes no difference.</summary>
    /// <param name="part">Index of the part that the fault is listed under.</param>
    /// <param name="name">Name without the part.</param>
    /// <param name="weight">Relative frequency.</param>
    /// <param name="pairs">The ports.</param>
    public void SwapFault(int part, string name, double weight, IEnumerable<((int Part, string Port) First, (int Part, string Port) Second)> pairs)
    {
        Rewire[] rewires = [.. pairs.SelectMany(p => RewiresOf(p.First, p.Second) ?? [])];
        if (rewires.Length > 0) Fault(part, name, weight, "two things answer to each other's command", [], rewires);
    }

    /// <summary>Turns the noted exchanges into faults: each end of one port is joined to the node of the other.</summary>
    public void BuildSwaps()
    {
        foreach ((var first, var second, string name, double weight) in Swaps) SwapFault(first.Part, name, weight, [(first, second)]);
    }

    /// <summary>The changed joints when two ports are exchanged; null if they cannot be or if it makes no difference.</summary>
    private Rewire[]? RewiresOf((int Part, string Port) first, (int Part, string Port) second)
    {
        if (!Ports.TryGetValue(first, out var one) || !Ports.TryGetValue(second, out var other) || one[0].Domain != other[0].Domain) return null;
        int here = NodeOf(one[0]), there = NodeOf(other[0]);
        return here == there
            ? null
            : [.. one.Select(e => new Rewire(e.Domain, e.Branch, e.AtA, there)), .. other.Select(e => new Rewire(e.Domain, e.Branch, e.AtA, here))];
    }

    /// <summary>What is wrong with the target of an observable, or null if it exists.</summary>
    public (string Message, string? Hint)? UnknownTarget(Observable what)
    {
        (string kind, IEnumerable<string> known) = what.Kind switch
        {
            ObservableKind.Volts or ObservableKind.Ohms => ("net", _nets.Keys),
            ObservableKind.Vacuum or ObservableKind.Falls => ("hose", _hoses.Keys),
            _ => ("part", Parts.Select(p => p.Id)),
        };
        foreach (string? name in (string?[])[what.Target, what.Second])
        {
            if (name is null || known.Contains(name, StringComparer.Ordinal)) continue;
            string? near = NearMiss.Suggest(name, known);
            return ($"no {kind} `{name}`", near is null ? null : $"did you mean `{near}`?");
        }

        return null;
    }

    private int NodeOf(PortEnd end) => end.Domain switch
    {
        Domain.Electric => end.AtA ? Electric[end.Branch].A : Electric[end.Branch].B,
        Domain.Vacuum => end.AtA ? Vacuum[end.Branch].A : Vacuum[end.Branch].B,
        _ => end.AtA ? Air[end.Branch].A : Air[end.Branch].B,
    };

    /// <summary>Makes the immutable model.</summary>
    public UnitModel Build(string title, double ambientPa) => new()
    {
        Title = title,
        AmbientPa = ambientPa,
        Nets = [.. _nets.Keys],
        Hoses = [.. _hoses.Keys],
        Spaces = [.. _spaces.Keys],
        OpenSpaces = [.. _spaces.Keys.Select(OpenSpaces.Contains)],
        HoseVolumes = [.. Enumerable.Range(0, _hoses.Count).Select(h => _volumes.GetValueOrDefault(h) + 1e-6)],
        Parts = [.. Parts],
        Places = [.. Places],
        Electric = [.. Electric],
        Vacuum = [.. Vacuum],
        Air = [.. Air],
        VacuumSources = [.. VacuumSources],
        Variables = [.. Variables],
        Parameters = [.. Parameters],
        ParameterNames = [.. ParameterNames],
        Tolerances = [.. Tolerances],
        Curves = [.. Curves],
        Module = Module,
        Faults = [.. Faults],
        Controls = [.. Controls],
        Conditions = [.. Conditions],
        AmbientOffset = AmbientOffset,
        Points = [.. Points],
        TestPins = [.. TestPins],
        Stated = [.. Stated],
        Ports = Ports.ToDictionary(p => p.Key, p => (IReadOnlyList<PortEnd>)p.Value),
        MainBranch = [.. Parts.Select((_, i) => MainBranch.GetValueOrDefault(i, -1))],
        MainVariable = [.. Parts.Select((_, i) => MainVariable.GetValueOrDefault(i, -1))],
        PositionWords = [.. Parts.Select((_, i) => PositionWords.TryGetValue(i, out var words) ? words : ((string, string)?)null)],
        Vents = [.. Vents],
        Exchangers = [.. Exchangers],
        Aspirators = [.. Aspirators],
        WaterValves = [.. WaterValves],
        AirBranchOf = [.. Parts.Select((_, i) => AirBranchOf.GetValueOrDefault(i, -1))],
        SupplyBranch = SupplyBranch,
    };

    private static int Index(Dictionary<string, int> names, string name)
    {
        if (!names.TryGetValue(name, out int index))
        {
            index = names.Count;
            names.Add(name, index);
        }

        return index;
    }
}
