using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>What a check should show, with the spread that the parts' tolerances allow.</summary>
/// <param name="What">The check.</param>
/// <param name="Nominal">What the nominal unit shows.</param>
/// <param name="Low">Low end, SI; NaN where there is no number.</param>
/// <param name="High">High end, SI.</param>
/// <param name="Spread">Standard deviation that the tolerances give, shared unknowns left out, SI.</param>
/// <param name="Shared">Effect of one standard deviation of each shared unknown, in the order of <see cref="Bands.SharedNames"/>.</param>
/// <param name="Words">Words that a sound unit may show: those that some tolerance alone leads to, and all whose range the band reaches into.</param>
/// <param name="Drivers">What the spread comes from, largest first.</param>
public sealed record Band(
    Observable What, Shown Nominal, double Low, double High, double Spread, double[] Shared, IReadOnlyList<string> Words, IReadOnlyList<(string Name, double Effect)> Drivers)
{
    /// <summary>
    /// The stretches between <see cref="Low"/> and <see cref="High"/> that sound units show, rising, SI: one, or several where a state flips within the tolerances and nothing
    /// lies between. Empty where there is no number.
    /// </summary>
    public IReadOnlyList<(double Low, double High)> Ranges { get; init; } = double.IsFinite(Low) ? [(Low, High)] : [];

    /// <summary>The range of the nominal unit; the whole band where there is one range.</summary>
    public (double Low, double High) Usual => Ranges.FirstOrDefault(r => Nominal.Value >= r.Low && Nominal.Value <= r.High, (Low, High));

    /// <summary>Whether a sound unit may show a number.</summary>
    /// <param name="value">The number, SI.</param>
    /// <param name="slack">What the meter may be off, SI.</param>
    public bool Holds(double value, double slack) => Ranges.Any(r => value >= r.Low - slack && value <= r.High + slack);
}

/// <summary>
/// Tolerance bands. Every toleranced parameter is moved to both ends of its tolerance, one at a time, and the unit settled again. A parameter is taken as
/// evenly spread over its tolerance, so its standard deviation is the half-width over root three; effects add as squares; the band is the nominal value
/// plus and minus 2.5 standard deviations, but never wider than all effects added up. Where a state flips inside a tolerance, the parameter counts by the gentler of
/// its two effects; where a single move or one of 96 random units ends in another state, the band is widened to it and by one such standard deviation more. Where
/// these states lie so far apart that no unit shows anything between them, the band has several ranges.
/// </summary>
public static class Bands
{
    /// <summary>Random units, mirrored in pairs, and where their chances come from.</summary>
    private const int Units = 96, Seed = 20_118;

    /// <summary>Names of the shared unknowns.</summary>
    public static IReadOnlyList<string> SharedNames { get; } = ["supply", "reference", "pump", "ambient"];

    /// <summary>Place of a tolerance among the shared unknowns; -1 for one of its own.</summary>
    internal static int SharedIndex(Tolerance tolerance) => tolerance.Shared is { } name ? SharedNames.ToList().IndexOf(name) : -1;

    /// <summary>Bands of several checks in one setting.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults; none for a sound unit.</param>
    /// <param name="checks">The checks.</param>
    /// <param name="from">How the unit stood before, for what stays as it was; null for a unit just laid on the bench.</param>
    public static Band[] Of(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, IReadOnlyList<Observable> checks, Settled? from = null)
    {
        UnitModel model = simulator.Model;
        double[] nominal = simulator.Parameters(setting, faults);
        Settled rest = simulator.Settle(setting, faults, nominal, from);
        var readout = new Readout(simulator, checks);
        HashSet<int> branches = BranchParameters(model);
        Shown[] middle = readout.Read(setting, faults, rest);
        var sums = checks.Select(_ => new BandSum(SharedNames.Count)).ToArray();
        foreach (Tolerance tolerance in model.Tolerances)
        {
            double width = tolerance.Relative ? tolerance.Amount * Math.Abs(nominal[tolerance.Parameter]) : tolerance.Amount;
            if (!(width > 0) || double.IsInfinity(width)) continue;
            Shown[] up = Moved(simulator, setting, faults, nominal, tolerance.Parameter, width, readout, from);
            // A resistance or an area that does nothing one way does nothing the other way; a threshold may.
            if (branches.Contains(tolerance.Parameter) && middle.AsSpan().SequenceEqual(up)) continue;
            Shown[] down = Moved(simulator, setting, faults, nominal, tolerance.Parameter, -width, readout, from);
            for (int i = 0; i < checks.Count; i++) sums[i].Add(model, tolerance, middle[i], up[i], down[i]);
        }

        AddUnits(simulator, setting, faults, nominal, readout, from, sums);
        return [.. checks.Select((c, i) => sums[i].Band(model, c, middle[i]))];
    }

    private static void AddUnits(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, double[] nominal, Readout readout, Settled? from, BandSum[] sums)
    {
        foreach (double[] draw in ToleranceSample.Mirrored(simulator.Model, Seed, Units))
        {
            Shown[] shown = readout.Read(setting, faults, simulator.Settle(setting, faults, ToleranceSample.Moved(simulator.Model, nominal, draw), from));
            for (int i = 0; i < sums.Length; i++) sums[i].Add(shown[i]);
        }
    }

    private static Shown[] Moved(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, double[] nominal, int parameter, double by, Readout readout, Settled? from)
    {
        double[] p = (double[])nominal.Clone();
        p[parameter] += by;
        return readout.Read(setting, faults, simulator.Settle(setting, faults, p, from));
    }

    /// <summary>First parameters of resistive branches and of vacuum and air paths, whose effect is smooth.</summary>
    private static HashSet<int> BranchParameters(UnitModel model) =>
    [
        .. model.Electric.Where(b => b.Law is ElectricLaw.Ohmic or ElectricLaw.Motor or ElectricLaw.Lamp).Select(b => b.Parameter),
        .. model.Vacuum.Select(b => b.Parameter), .. model.Air.Select(b => b.Parameter),
    ];
}
