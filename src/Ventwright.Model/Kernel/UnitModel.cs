using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Kernel;

/// <summary>A part as the rest of the program knows it.</summary>
/// <param name="Id">Id on the sheet.</param>
/// <param name="Kind">Key of its kind, such as <c>fuse</c>.</param>
/// <param name="Name">Name in words, or the id when the sheet gives none.</param>
/// <param name="Place">Index of its place.</param>
/// <param name="At">Where the sheet describes it.</param>
public sealed record PartInfo(string Id, string Kind, string Name, int Place, Mark At)
{
    /// <summary>Name first, id second: <c>Cabin sensor (RT1)</c>; the id alone when the sheet gives no name.</summary>
    public string Title => Name == Id ? Id : $"{Name} ({Id})";
}

/// <summary>Where parts are and what must be open to reach them.</summary>
/// <param name="Name">Name on the sheet.</param>
/// <param name="Minutes">Minutes to get there the first time.</param>
/// <param name="Opens">What is opened, in words, or null.</param>
/// <param name="Caution">A caution for work there, or null.</param>
public sealed record Place(string Name, double Minutes, string? Opens, string? Caution);

/// <summary>A control on the panel.</summary>
/// <param name="Name">Name on the sheet.</param>
/// <param name="Variable">Its variable: position index, or dial value.</param>
/// <param name="Positions">Names of the positions; empty for a dial.</param>
/// <param name="Low">Lowest dial value.</param>
/// <param name="High">Highest dial value.</param>
public sealed record Control(string Name, int Variable, string[] Positions, double Low, double High);

/// <summary>A condition of the surroundings that parts feel: a temperature or a pressure.</summary>
/// <param name="Name">Name on the sheet, such as cabin.</param>
/// <param name="Variable">Its variable (K or Pa).</param>
/// <param name="Dimension">Temperature or pressure.</param>
public sealed record Condition(string Name, int Variable, Dimension Dimension);

/// <summary>What the workshop manual prints.</summary>
/// <param name="What">The check.</param>
/// <param name="Settings">Setting as name and text, as in <c>mode: screen</c>.</param>
/// <param name="Low">Low end (SI), NaN for a word.</param>
/// <param name="High">High end (SI), NaN for a word.</param>
/// <param name="Word">Word, or null.</param>
/// <param name="Source">Page or table.</param>
/// <param name="At">Where the sheet has it.</param>
public sealed record StatedRow(
    Observable What, IReadOnlyList<(string Name, string Value)> Settings, double Low, double High, string? Word, string Source, Mark At);

/// <summary>A point where something can be looked at or measured on the bench.</summary>
/// <param name="What">What is looked at.</param>
/// <param name="Part">Index of the part that it belongs to.</param>
/// <param name="Place">Index of the place.</param>
/// <param name="When">In which state of the bench.</param>
/// <param name="Minutes">Minutes for the reading itself.</param>
public sealed record Point(Observable What, int Part, int Place, PointState When, double Minutes);

/// <summary>The state of the bench in which a point is looked at.</summary>
public enum PointState
{
    /// <summary>The unit runs in some setting.</summary>
    Running,

    /// <summary>Supply off: resistance measurements.</summary>
    Dead,

    /// <summary>The part alone with a hand pump on its hose, shut off.</summary>
    HandPump,

    /// <summary>The part alone with supply straight on its terminals.</summary>
    Direct,
}

/// <summary>A pin of a test connector: it sits on a net and joins nothing.</summary>
/// <param name="Connector">Id of the connector.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Net">The net that it sits on.</param>
public sealed record TestPin(string Connector, string Pin, string Net);

/// <summary>An end of a branch that a part's port is made of.</summary>
public readonly record struct PortEnd(Domain Domain, int Branch, bool AtA);

/// <summary>
/// The compiled unit: flat arrays of nodes, branches, variables and parameters, and everything that the sheet says about them. Immutable; a fault
/// or a setting is an edit on a copy of <see cref="Parameters"/>.
/// </summary>
public sealed class UnitModel
{
    private Fault[] _faults = [];
    private double[] _parameters = [];

    /// <summary>Title of the unit.</summary>
    public required string Title { get; init; }

    /// <summary>Net names; net 0 is ground.</summary>
    public required string[] Nets { get; init; }

    /// <summary>Hose names; hose 0 is the atmosphere.</summary>
    public required string[] Hoses { get; init; }

    /// <summary>Space names.</summary>
    public required string[] Spaces { get; init; }

    /// <summary>Per space, whether it is open to ambient pressure.</summary>
    public required bool[] OpenSpaces { get; init; }

    /// <summary>Volume of each hose with what hangs on it, m3.</summary>
    public required double[] HoseVolumes { get; init; }

    /// <summary>Parts.</summary>
    public required PartInfo[] Parts { get; init; }

    /// <summary>Places.</summary>
    public required Place[] Places { get; init; }

    /// <summary>Electrical branches.</summary>
    public required ElectricBranch[] Electric { get; init; }

    /// <summary>Vacuum branches.</summary>
    public required VacuumBranch[] Vacuum { get; init; }

    /// <summary>Air branches.</summary>
    public required AirBranch[] Air { get; init; }

    /// <summary>Hoses held at a depression: hose index and the variable or parameter that gives it. Parameter: depression (Pa).</summary>
    public required VacuumSource[] VacuumSources { get; init; }

    /// <summary>Variables in the order in which they are worked out.</summary>
    public required Variable[] Variables { get; init; }

    /// <summary>Nominal parameters, SI.</summary>
    public required double[] Parameters { get => _parameters; init => _parameters = value; }

    /// <summary>Name of each parameter: part and quantity, such as <c>Y1 coil resistance</c>.</summary>
    public required string[] ParameterNames { get; init; }

    /// <summary>Tolerances.</summary>
    public required Tolerance[] Tolerances { get; init; }

    /// <summary>Thermistor curves by index.</summary>
    public required ThermistorCurve[] Curves { get; init; }

    /// <summary>The module, or null for a unit without one.</summary>
    public required ModuleProgram? Module { get; init; }

    /// <summary>Faults.</summary>
    public required Fault[] Faults { get => _faults; init => _faults = value; }

    /// <summary>Controls.</summary>
    public required Control[] Controls { get; init; }

    /// <summary>Conditions.</summary>
    public required Condition[] Conditions { get; init; }

    /// <summary>Parameter by which all temperatures of the surroundings are higher than told, K; -1 where they are known exactly.</summary>
    public required int AmbientOffset { get; init; }

    /// <summary>Points where something can be looked at.</summary>
    public required Point[] Points { get; init; }

    /// <summary>Pins of test connectors, in the order of the sheet.</summary>
    public required TestPin[] TestPins { get; init; }

    /// <summary>Rows copied from a workshop manual.</summary>
    public required StatedRow[] Stated { get; init; }

    /// <summary>Ports: for each part and port name, the branch ends that it is made of.</summary>
    public required IReadOnlyDictionary<(int Part, string Port), IReadOnlyList<PortEnd>> Ports { get; init; }

    /// <summary>Branch that carries a part's main current, by part; -1 where there is none.</summary>
    public required int[] MainBranch { get; init; }

    /// <summary>Main variable of a part (position, speed, energised), -1 where there is none.</summary>
    public required int[] MainVariable { get; init; }

    /// <summary>Words for the position of a part at 0 and at 1, by part; null where there are none.</summary>
    public required (string AtRest, string Moved)?[] PositionWords { get; init; }

    /// <summary>Vents: name and air branch.</summary>
    public required (string Name, int Branch)[] Vents { get; init; }

    /// <summary>Exchangers in the air's way.</summary>
    public required Exchanger[] Exchangers { get; init; }

    /// <summary>Paths that draw air over a sensor.</summary>
    public required Aspirator[] Aspirators { get; init; }

    /// <summary>Valves in the heater's coolant line.</summary>
    public required WaterValveInfo[] WaterValves { get; init; }

    /// <summary>Air branch of a part of the air section, by part; -1 for others.</summary>
    public required int[] AirBranchOf { get; init; }

    /// <summary>The branch of the supply.</summary>
    public required int SupplyBranch { get; init; }

    /// <summary>Ambient pressure, Pa absolute.</summary>
    public required double AmbientPa { get; init; }

    /// <summary>Index of a part by id, or -1.</summary>
    public int PartIndex(string id) => Array.FindIndex(Parts, p => string.Equals(p.Id, id, StringComparison.Ordinal));

    /// <summary>The electrical branch of a part whose name ends so, such as <c>lower track</c>; null if it has none.</summary>
    /// <param name="part">Index of the part.</param>
    /// <param name="name">End of the branch's name.</param>
    public ElectricBranch? BranchOf(int part, string name) => Array.Find(Electric, b => b.Part == part && b.Name.EndsWith(name, StringComparison.Ordinal));

    /// <summary>Index of a variable by name, or -1.</summary>
    public int VariableIndex(string name) => Array.FindIndex(Variables, v => string.Equals(v.Name, name, StringComparison.Ordinal));

    /// <summary>Nominal curve of a thermistor.</summary>
    /// <param name="sensor">The thermistor's branch.</param>
    public ThermistorCurve CurveOf(ElectricBranch sensor) => Curves[(int)Parameters[sensor.Parameter]];

    /// <summary>Indices of the parts that are clutch coils.</summary>
    public IEnumerable<int> ClutchCoils => Enumerable.Range(0, Parts.Length).Where(p => Parts[p].Kind == "clutch-coil" && MainVariable[p] >= 0);

    /// <summary>A setting's variables with the surroundings as warm as they are.</summary>
    /// <param name="start">Variables as the setting gives them.</param>
    /// <param name="parameters">Parameters of the unit.</param>
    /// <returns>An array of its own.</returns>
    public double[] Felt(double[] start, double[] parameters)
    {
        ArgumentNullException.ThrowIfNull(start);
        double[] felt = [.. start];
        if (AmbientOffset < 0) return felt;
        foreach (Condition condition in Conditions)
        {
            if (condition.Dimension == Dimension.Temperature) felt[condition.Variable] += parameters[AmbientOffset];
        }

        return felt;
    }

    /// <summary>The same unit with other things that may be wrong with it.</summary>
    public UnitModel WithFaults(Fault[] faults)
    {
        var other = (UnitModel)MemberwiseClone();
        other._faults = faults;
        return other;
    }

    /// <summary>The same unit with other nominal parameters.</summary>
    /// <param name="parameters">As many as the unit has, SI.</param>
    public UnitModel WithParameters(double[] parameters)
    {
        var other = (UnitModel)MemberwiseClone();
        other._parameters = parameters;
        return other;
    }

    /// <summary>Fault by id, or null.</summary>
    public Fault? FindFault(string id) => Array.Find(Faults, f => string.Equals(f.Id, id, StringComparison.Ordinal));
}

/// <summary>A pump or engine that holds a hose at a depression.</summary>
/// <param name="Part">Index of its part.</param>
/// <param name="Hose">The hose that it holds.</param>
/// <param name="Parameter">Parameter with the depression (Pa).</param>
public sealed record VacuumSource(int Part, int Hose, int Parameter);
