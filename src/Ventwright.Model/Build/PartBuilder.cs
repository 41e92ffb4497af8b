using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Build;

/// <summary>Gives a kind of part the words to say what one part adds to the model: branches, variables, faults, points to look at.</summary>
public sealed partial class PartBuilder
{
    /// <summary>Starts the part with the given index.</summary>
    public PartBuilder(ModelBuilder unit, int index, MapReader keys)
    {
        Unit = unit;
        Index = index;
        Keys = keys;
    }

    /// <summary>The unit under construction.</summary>
    public ModelBuilder Unit { get; }

    /// <summary>Index of the part.</summary>
    public int Index { get; }

    /// <summary>The part's keys on the sheet.</summary>
    public MapReader Keys { get; }

    /// <summary>Id of the part.</summary>
    public string Id => Unit.Parts[Index].Id;

    /// <summary>Parameter of a branch: <paramref name="offset"/> counts from the branch's first.</summary>
    public int ElectricParameter(int branch, int offset = 0) => Unit.Electric[branch].Parameter + offset;

    /// <summary>Adds a resistance between two nets and gives the branch's index.</summary>
    /// <param name="name">Name in words, such as "coil".</param>
    /// <param name="a">Net.</param>
    /// <param name="b">Net.</param>
    /// <param name="ohms">Nominal resistance.</param>
    /// <param name="tolerance">Half-width as a share of the nominal value.</param>
    /// <param name="gate">Gate, or null.</param>
    public int Ohmic(string name, int a, int b, double ohms, double tolerance = 0, Gate? gate = null)
    {
        int parameter = Sized(name + " resistance", ohms, tolerance);
        return Add(new ElectricBranch(name, Index, ElectricLaw.Ohmic, a, b, parameter, gate));
    }

    /// <summary>Adds any electrical branch with its parameters; the first one may have a relative tolerance.</summary>
    public int Electric(
        string name, ElectricLaw law, int a, int b, double firstTolerance, ReadOnlySpan<(string Name, double Value)> parameters, Gate? gate = null,
        int variable = -1, int control = -1)
    {
        int first = -1;
        foreach ((string parameter, double value) in parameters)
        {
            int index = Unit.Parameter($"{Id} {parameter}", value);
            if (first < 0) first = index;
        }

        if (firstTolerance > 0) Unit.Tolerances.Add(new(first, firstTolerance, true, Index));
        return Add(new ElectricBranch(name, Index, law, a, b, first, gate, variable, control));
    }

    /// <summary>Adds a vacuum restriction and gives the branch's index.</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="a">Hose.</param>
    /// <param name="b">Hose.</param>
    /// <param name="conductance">Sonic conductance, m3/(s Pa); 0 = closed.</param>
    /// <param name="gate">Gate, or null.</param>
    /// <param name="oneWay">Whether air passes only from a to b.</param>
    /// <param name="tolerance">Half-width as a share of the nominal value.</param>
    /// <param name="criticalRatio">Critical pressure ratio b.</param>
    public int Restriction(
        string name, int a, int b, double conductance, Gate? gate = null, bool oneWay = false, double tolerance = 0.2, double criticalRatio = 0.4)
    {
        int parameter = Sized(name + " conductance", conductance, conductance > 0 ? tolerance : 0);
        Unit.Parameter($"{Id} {name} critical ratio", criticalRatio);
        Unit.Vacuum.Add(new(name, Index, a, b, parameter, gate, oneWay));
        return Unit.Vacuum.Count - 1;
    }

    /// <summary>Adds a leak from a hose to the atmosphere that a sound part does not have; faults open it.</summary>
    /// <returns>Index of the conductance parameter.</returns>
    public int Leak(string name, int hose)
    {
        int branch = Restriction(name, 0, hose, 0, tolerance: 0);
        return Unit.Vacuum[branch].Parameter;
    }

    /// <summary>Adds an air path and gives the branch's index.</summary>
    /// <param name="name">Name in words.</param>
    /// <param name="a">Space.</param>
    /// <param name="b">Space.</param>
    /// <param name="areaM2">Free area.</param>
    /// <param name="gate">Gate on the area, or null.</param>
    /// <param name="discharge">Discharge coefficient.</param>
    /// <param name="fanPa">Fan pressure at speed 1 and no flow; 0 for a passive path.</param>
    /// <param name="speed">Variable with the fan's speed, or -1.</param>
    /// <param name="tolerance">Half-width of the area as a share.</param>
    public int AirPath(
        string name, int a, int b, double areaM2, Gate? gate = null, double discharge = 0.65, double fanPa = 0, int speed = -1, double tolerance = 0.1)
    {
        int parameter = Sized(name + " area", areaM2, areaM2 > 0 ? tolerance : 0);
        Unit.Parameter($"{Id} {name} discharge coefficient", discharge);
        Unit.Parameter($"{Id} {name} fan pressure", fanPa);
        Unit.Parameter($"{Id} {name} blocked share", 0);
        Unit.Air.Add(new(name, Index, a, b, parameter, gate, speed));
        return Unit.Air.Count - 1;
    }

    /// <summary>Adds the variable that is 1 while a coil holds: named after the part.</summary>
    public int Coil(int branch, double pullInVolts, double dropOutVolts, double tolerance = 0.1)
    {
        int variable = Unit.Variable(Id, Index, VariableLaw.Coil, branch, parameters: [("pull-in", pullInVolts), ("drop-out", dropOutVolts)]);
        int first = Unit.Variables[variable].Parameter;
        Unit.Tolerances.Add(new(first + 1, tolerance, true, Index));
        Unit.Tolerances.Add(new(first + 2, tolerance, true, Index));
        Unit.MainVariable[Index] = variable;
        return variable;
    }

    /// <summary>Index of the force parameter of a variable.</summary>
    public int Force(int variable) => Unit.Variables[variable].Parameter;

    /// <summary>Names a port of the part after the branch end that it is.</summary>
    public void Port(string name, Domain domain, int branch, bool atA)
    {
        if (!Unit.Ports.TryGetValue((Index, name), out List<PortEnd>? ends)) Unit.Ports[(Index, name)] = ends = [];
        ends.Add(new(domain, branch, atA));
    }

    /// <summary>Adds a fault.</summary>
    /// <param name="name">Name without the part.</param>
    /// <param name="weight">Relative frequency, 1 = average.</param>
    /// <param name="symptom">What a person would notice.</param>
    /// <param name="edits">Changed parameters.</param>
    public void Fault(string name, double weight, string symptom, params Edit[] edits) => Fault(name, weight, symptom, edits, []);

    /// <summary>Adds a fault with changed joints, a share for an intermittent one, or one that only the car shows.</summary>
    public void Fault(
        string name, double weight, string symptom, Edit[] edits, Rewire[] rewires, double intermittentShare = 0, bool carOnly = false) =>
        Unit.Fault(Index, name, weight, symptom, edits, rewires, intermittentShare, carOnly);

    /// <summary>Adds a point where something of the part can be looked at.</summary>
    public void Watch(ObservableKind kind, string target, string? second = null, PointState when = PointState.Running, double minutes = 0.3) =>
        Unit.Points.Add(new(new(kind, target, second), Index, Unit.Parts[Index].Place, when, minutes));

    /// <summary>Adds the ohms check over the part between two of its nets.</summary>
    public void WatchOhms(int a, int b)
    {
        string[] nets = [.. Unit.NetNames];
        Watch(ObservableKind.Ohms, nets[a], nets[b], PointState.Dead, 0.5);
    }

    /// <summary>An edit that sets a parameter.</summary>
    public static Edit Set(int parameter, double value) => new(parameter, EditKind.Set, value);

    /// <summary>An edit that multiplies a parameter.</summary>
    public static Edit Scale(int parameter, double value) => new(parameter, EditKind.Scale, value);

    /// <summary>An edit that adds to a parameter.</summary>
    public static Edit Shift(int parameter, double value) => new(parameter, EditKind.Add, value);

    private int Sized(string name, double value, double tolerance)
    {
        int parameter = Unit.Parameter($"{Id} {name}", value);
        if (tolerance > 0) Unit.Tolerances.Add(new(parameter, tolerance, true, Index));
        return parameter;
    }

    private int Add(ElectricBranch branch)
    {
        Unit.Electric.Add(branch);
        Unit.MainBranch.TryAdd(Index, Unit.Electric.Count - 1);
        return Unit.Electric.Count - 1;
    }
}
