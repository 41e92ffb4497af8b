using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>
/// Spreads of many checks in one setting from a fixed set of random in-tolerance units: cheaper than moving each tolerance by itself, and it sees states that
/// flip only when several tolerances add up. With 48 units a standard deviation is known to about a tenth (1 / sqrt(2 n)).
/// </summary>
public static class ToleranceSample
{
    private const int Units = 48, Seed = 20_117;

    /// <summary>The half-width of an even spread in its standard deviations.</summary>
    internal const double RootThree = 1.7320508075688772;

    private const double FarInSpreads = 6, Step = 0.25;

    /// <summary>Draws the units and reads the checks.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="readout">The checks.</param>
    /// <param name="nominal">What the nominal unit shows, SI, NaN for nothing steady.</param>
    public static CheckSpread[] Of(Simulator simulator, Setting setting, Readout readout, double[] nominal) => Of(simulator, setting, [], readout, nominal, Units);

    /// <summary>Draws units that all have some faults and reads the checks.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">The faults.</param>
    /// <param name="readout">The checks.</param>
    /// <param name="nominal">What the nominal unit with the faults shows, SI, NaN for nothing steady.</param>
    /// <param name="units">How many units; even.</param>
    public static CheckSpread[] Of(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Readout readout, double[] nominal, int units)
    {
        UnitModel model = simulator.Model;
        double[] centre = simulator.Parameters(setting, faults);
        double[][] shared = SharedEffects(simulator, setting, faults, readout, centre, nominal);
        double[][] draws = Mirrored(model, Seed, units);
        double[][] values = [.. draws.Select(d => Read(simulator, setting, faults, readout, Moved(model, centre, d)))];
        double[][] common = [.. draws.Select(d => Common(model, d))];
        return [.. nominal.Select((middle, c) => Check(middle, [.. values.Select(v => v[c])], [.. shared.Select(s => s[c])], common))];
    }

    /// <summary>Parameters with each tolerance moved by a share of its half-width, -1 to 1 for a unit within them.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="centre">Parameters, SI, with all edits made.</param>
    /// <param name="draw">Shares, in the order of the model's tolerances.</param>
    internal static double[] Moved(UnitModel model, double[] centre, double[] draw)
    {
        double[] p = (double[])centre.Clone();
        for (int i = 0; i < draw.Length; i++)
        {
            Tolerance t = model.Tolerances[i];
            double width = t.Relative ? t.Amount * Math.Abs(centre[t.Parameter]) : t.Amount;
            if (double.IsFinite(width)) p[t.Parameter] += draw[i] * width;
        }

        return p;
    }

    /// <summary>A sound unit of the same kind: every parameter at random within its tolerance.</summary>
    /// <param name="model">The nominal unit.</param>
    /// <param name="random">Source of chance, seeded by the caller.</param>
    public static UnitModel Drawn(UnitModel model, Random random)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(random);
        return model.WithParameters(Moved(model, model.Parameters, Draw(model, random)));
    }

    /// <summary>A share from -1 to 1 for each of the model's tolerances, evenly spread.</summary>
    internal static double[] Draw(UnitModel model, Random random) => [.. model.Tolerances.Select(_ => (2 * random.NextDouble()) - 1)];

    /// <summary>Draws for some units, an even number. Every second one mirrors the one before it, which takes the straight part of the chance error out.</summary>
    internal static double[][] Mirrored(UnitModel model, int seed, int units)
    {
        var random = new Random(seed);
        double[][] draws = new double[units][];
        for (int u = 0; u < units; u++) draws[u] = u % 2 == 1 ? [.. draws[u - 1].Select(d => -d)] : Draw(model, random);
        return draws;
    }

    private static double[] Read(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Readout readout, double[] parameters) =>
        [.. readout.Read(setting, faults, simulator.Settle(setting, faults, parameters)).Select(s => s.Unsteady ? double.NaN : s.Value)];

    /// <summary>By shared unknown and check: the effect of one standard deviation of an even spread, from a step to either side.</summary>
    private static double[][] SharedEffects(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Readout readout, double[] centre, double[] nominal)
    {
        UnitModel model = simulator.Model;
        return [.. Bands.SharedNames.Select(name =>
        {
            double[] draw = [.. model.Tolerances.Select(t => t.Shared == name ? Step : 0.0)];
            if (draw.All(d => d == 0)) return new double[readout.Checks.Count];
            double[] up = Read(simulator, setting, faults, readout, Moved(model, centre, draw));
            double[] down = Read(simulator, setting, faults, readout, Moved(model, centre, [.. draw.Select(d => -d)]));
            return [.. nominal.Select((middle, c) => Slope(up[c] - middle, middle - down[c]) / (Step * RootThree))];
        })];
    }

    /// <summary>The gentler of two changes: a state that flips to one side is no slope, but another state; where they oppose each other there is none.</summary>
    private static double Slope(double up, double down) =>
        !double.IsFinite(up) || !double.IsFinite(down) || up * down <= 0 ? 0 : Math.Abs(up) < Math.Abs(down) ? up : down;

    /// <summary>The shared unknowns of a unit, in standard deviations.</summary>
    private static double[] Common(UnitModel model, double[] draw)
    {
        double[] common = new double[Bands.SharedNames.Count];
        for (int i = 0; i < draw.Length; i++)
        {
            int which = Bands.SharedIndex(model.Tolerances[i]);
            if (which >= 0) common[which] = draw[i] * RootThree;
        }

        return common;
    }

    private static CheckSpread Check(double nominal, double[] values, double[] shared, double[][] common)
    {
        if (!double.IsFinite(nominal)) return new(0, new double[shared.Length], values, [.. values.Select(v => v.Equals(nominal))], common);
        double[] effects = [.. shared.Select(s => double.IsFinite(s) ? s : 0)];
        double[] rest = [.. values.Select((v, u) => v - nominal - effects.Zip(common[u], (e, z) => e * z).Sum())];
        double[] sizes = [.. rest.Where(double.IsFinite).Select(Math.Abs).Order()];
        if (sizes.Length == 0) return new(0, effects, values, new bool[values.Length], common);
        // The median of an even or a normal spread is a good half of its standard deviation or more, whatever a few flipped units do.
        double limit = FarInSpreads * Math.Max(sizes[sizes.Length / 2] / 0.6745, 1e-9 * (1 + Math.Abs(nominal)));
        bool[] isNear = [.. rest.Select(r => Math.Abs(r) <= limit)];
        double[] near = [.. rest.Where((_, u) => isNear[u])];
        return new(Math.Sqrt(near.Sum(r => r * r) / Math.Max(1, near.Length)), effects, values, isNear, common);
    }
}
