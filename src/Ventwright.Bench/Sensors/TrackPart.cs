using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Bench.Sensors;

/// <summary>A track with a wiper: the feedback of a servo, or a potentiometer.</summary>
/// <param name="Id">Id of the part.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Ohms">Track resistance on the sheet, ohm.</param>
/// <param name="Tolerance">Its tolerance, as a share.</param>
/// <param name="LowNet">Net of the end where the shaft stands at 0.</param>
/// <param name="WiperNet">Net of the wiper.</param>
/// <param name="HighNet">Net of the other end.</param>
/// <param name="Pins">Connector pins that lead to it.</param>
/// <param name="IsFeedback">Whether it is the feedback of a servo.</param>
public sealed record TrackPart(string Id, string Name, double Ohms, double Tolerance, string LowNet, string WiperNet, string HighNet, IReadOnlyList<string> Pins, bool IsFeedback)
{
    /// <summary>The lower and the upper piece of the track among the branches.</summary>
    internal (ElectricBranch Lower, ElectricBranch Upper) Pieces { get; private init; } = (null!, null!);

    /// <summary>The module's input behind the wiper's net, or null; what lies between are wires and plugs.</summary>
    internal ModuleInput? Input { get; private init; }

    /// <summary>Finds a track.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="id">Id of a servo with feedback, or of a potentiometer.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static TrackPart? TryFind(UnitModel model, string id, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(model);
        int part = model.PartIndex(id);
        ElectricBranch? lower = model.BranchOf(part, "lower track"), upper = model.BranchOf(part, "upper track"), wiper = model.BranchOf(part, "wiper contact");
        if (part < 0 || lower is null || upper is null || wiper is null)
        {
            IReadOnlyList<string> all = All(model);
            string known = all.Count == 0 ? "this sheet has none" : $"those that have are {string.Join(", ", all)}";
            problem = part >= 0 ? $"{id} has no track with a wiper; {known}" : NearMiss.Suggest(id, all) is { } near ? $"there is no part '{id}'; did you mean '{near}'?" : $"there is no part '{id}' with a track; {known}";
            return null;
        }

        problem = null;
        double tolerance = Array.Find(model.Tolerances, t => t.Parameter == lower.Parameter)?.Amount ?? 0;
        return new(
            id, model.Parts[part].Name, model.Parameters[lower.Parameter], tolerance, model.Nets[lower.A], model.Nets[wiper.B], model.Nets[upper.B],
            SensorPart.PinsOf(model, lower.A, wiper.B, upper.B), model.Parts[part].Kind == "servo")
        {
            Pieces = (lower, upper),
            Input = InputBehind(model, wiper.B),
        };
    }

    /// <summary>Ids of all parts of a unit that have a track with a wiper.</summary>
    public static IReadOnlyList<string> All(UnitModel model) => [.. model.Electric.Where(b => b.Name.EndsWith("lower track", StringComparison.Ordinal)).Select(b => model.Parts[b.Part].Id)];

    /// <summary>Follows plugs and wires from a net to a pin that the module reads.</summary>
    private static ModuleInput? InputBehind(UnitModel model, int net)
    {
        HashSet<int> reached = [net];
        bool grew = true;
        while (grew)
        {
            grew = false;
            foreach (ElectricBranch b in model.Electric.Where(b => b.Gate is null && model.Parts[b.Part < 0 ? 0 : b.Part].Kind is "connector" or "wire" && b.A != 0 && b.B != 0 && double.IsFinite(model.Parameters[b.Parameter])))
            {
                if (reached.Contains(b.A) != reached.Contains(b.B)) grew |= reached.Add(b.A) | reached.Add(b.B);
            }
        }

        return model.Module?.Inputs.FirstOrDefault(i => i.Reads is InputReads.Fraction or InputReads.Volts && i.Pins.Any(reached.Contains));
    }
}
