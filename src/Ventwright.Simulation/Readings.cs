using Ventwright.Model.Kernel;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation;

/// <summary>Reads off a settled unit what a check would show.</summary>
public static class Readings
{
    /// <summary>Depression to which a hand pump is worked for a leak check, Pa.</summary>
    public const double HandPumpPa = 50e3;

    /// <summary>Seconds that stand for "it never gets there".</summary>
    public const double Never = 99;

    private static readonly double[] MotionLimits = [0.05, 0.45], PositionLimits = [0.1, 0.9], LightLimits = [0.05, 0.4], AirflowLimits = [0.25, 1.2, 3.5], SoundLimits = [0.5, 1.5];

    /// <summary>Words that a kind of check can answer with; empty for numbers.</summary>
    public static IReadOnlyList<string> WordsOf(UnitModel model, Observable what) => what.Kind switch
    {
        ObservableKind.Motion => ["still", "slow", "runs"],
        ObservableKind.Airflow => ["none", "weak", "fair", "strong"],
        ObservableKind.Light => ["dark", "dim", "lit"],
        ObservableKind.Sound => ["silent", "clicks", "buzzes"],
        ObservableKind.Position => PositionWords(model, what.Target),
        _ => [],
    };

    /// <summary>Upper limits of the words of a kind of check, in the order of <see cref="WordsOf"/>, the last word having none; empty where there are none.</summary>
    /// <remarks>In the quantity behind the word: speed (1 = rated), position (0..1), light (share of rated watts), air in m/s. Common practice, no source.</remarks>
    public static IReadOnlyList<double> LimitsOf(ObservableKind kind) => kind switch
    {
        ObservableKind.Motion => MotionLimits,
        ObservableKind.Position => PositionLimits,
        ObservableKind.Light => LightLimits,
        ObservableKind.Airflow => AirflowLimits,
        ObservableKind.Sound => SoundLimits,
        _ => [],
    };

    /// <summary>The word for a value of the quantity behind it; null for a check that is told in numbers.</summary>
    public static string? WordAt(UnitModel model, Observable what, double value)
    {
        IReadOnlyList<string> words = WordsOf(model, what);
        if (words.Count == 0) return null;
        IReadOnlyList<double> limits = LimitsOf(what.Kind);
        int word = 0;
        while (word < limits.Count && value >= limits[word]) word++;
        return words[word];
    }

    /// <summary>The words whose ranges a band of the quantity behind them reaches into, from low to high; empty for a check that is told in numbers.</summary>
    public static IEnumerable<string> WordsBetween(UnitModel model, Observable what, double low, double high)
    {
        IReadOnlyList<string> words = WordsOf(model, what);
        IReadOnlyList<double> limits = LimitsOf(what.Kind);
        return words.Where((_, i) => (i == 0 || high >= limits[i - 1]) && (i == words.Count - 1 || low < limits[i]));
    }

    /// <summary>What the check would show in a settled unit.</summary>
    public static Shown Read(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, Observable what)
    {
        UnitModel model = simulator.Model;
        if (what.Kind == ObservableKind.Ohms)
        {
            double ohms = simulator.Ohms(setting, faults, settled.Parameters, what.Target, what.Second ?? "gnd");
            return new(ohms > 2e7 ? double.PositiveInfinity : ohms, null);
        }

        if (settled.Verdict == Verdict.NotSolved) return Shown.Nothing;
        int part = model.PartIndex(what.Target);
        return what.Kind switch
        {
            ObservableKind.Volts => Volts(model, settled, what),
            ObservableKind.Amps => part >= 0 && model.MainBranch[part] >= 0 ? new(Math.Abs(settled.Amps[model.MainBranch[part]]), null) : Shown.Nothing,
            ObservableKind.Vacuum => new(settled.DepressionPa[Array.IndexOf(model.Hoses, what.Target)], null),
            ObservableKind.Loses => new(Loses(model, settled.Parameters, part), null),
            ObservableKind.Seconds => new(Seconds(model, settled.Parameters, part), null),
            ObservableKind.Sound => Sound(model, settled, what, part),
            ObservableKind.Light => Light(model, settled, what, part),
            ObservableKind.Airflow => Airflow(model, settled, what, part),
            _ => Moved(model, settled, what, part),
        };
    }

    private static string[] PositionWords(UnitModel model, string target)
    {
        int part = model.PartIndex(target);
        return part >= 0 && model.PositionWords[part] is { } words ? [words.AtRest, "between", words.Moved] : ["low end", "between", "high end"];
    }

    private static Shown Volts(UnitModel model, Settled settled, Observable what)
    {
        int a = Array.IndexOf(model.Nets, what.Target), b = what.Second is null ? 0 : Array.IndexOf(model.Nets, what.Second);
        return settled.Floating[a] || settled.Floating[b] ? Shown.Nothing : new(settled.Volts[a] - settled.Volts[b], null);
    }

    private static Shown Moved(UnitModel model, Settled settled, Observable what, int part)
    {
        if (part < 0 || model.MainVariable[part] < 0) return Shown.Nothing;
        double value = settled.Variables[model.MainVariable[part]];
        return new(value, WordAt(model, what, value));
    }

    private static Shown Sound(UnitModel model, Settled settled, Observable what, int part)
    {
        int variable = model.MainVariable[part];
        if (settled.Restless.Contains(variable)) return new(2, WordAt(model, what, 2));
        Variable coil = model.Variables[variable];
        bool free = double.IsNaN(settled.Parameters[coil.Parameter]);
        double value = free ? settled.Variables[variable] : 0;
        return new(value, WordAt(model, what, value));
    }

    private static Shown Light(UnitModel model, Settled settled, Observable what, int part)
    {
        int branch = model.MainBranch[part];
        ElectricBranch lamp = model.Electric[branch];
        double volts = settled.Open[branch] ? 0 : Math.Abs(settled.Volts[lamp.A] - settled.Volts[lamp.B]);
        double share = Math.Pow(volts / settled.Parameters[lamp.Parameter + 1], 2);
        return new(share, WordAt(model, what, share));
    }

    /// <summary>Air speed in m/s out of the free area, and the word for it.</summary>
    private static Shown Airflow(UnitModel model, Settled settled, Observable what, int part)
    {
        int branch = model.AirBranchOf[part];
        if (branch < 0) return Shown.Nothing;
        double speed = Math.Max(0, settled.AirFlow[branch]) / model.Parameters[model.Air[branch].Parameter];
        return new(speed, WordAt(model, what, speed));
    }

    /// <summary>Depression lost in a minute by the part alone on a hand pump, shut off: closed form of the isothermal leak-up (ISO 6358).</summary>
    private static double Loses(UnitModel model, double[] p, int part)
    {
        double worst = 0;
        foreach (var leaks in model.Vacuum.Where(b => b.Part == part && b.A == 0 && b.Gate is null).GroupBy(b => b.B))
        {
            double conductance = leaks.Sum(b => p[b.Parameter]);
            if (conductance <= 0) continue;
            double rate = VacuumVolume.RatePerS(conductance, model.HoseVolumes[leaks.Key]);
            double left = VacuumVolume.LeakUpDepressionPa(HandPumpPa, rate, p[leaks.First().Parameter + 1], model.AmbientPa, 60);
            worst = Math.Max(worst, HandPumpPa - left);
        }

        return worst;
    }

    /// <summary>Seconds from end to end at rated voltage: travel time over the speed that the motor reaches.</summary>
    private static double Seconds(UnitModel model, double[] p, int part)
    {
        Variable servo = model.Variables[model.MainVariable[part]];
        double volts = p[servo.Parameter + 5], speed = ElectricSolver.MotorSpeed(p, model.Electric[servo.Input].Parameter, volts);
        bool moves = double.IsNaN(p[servo.Parameter]) && volts >= p[servo.Parameter + 2] && speed > 0.02;
        return moves ? Math.Min(Never, p[servo.Parameter + 4] / speed) : Never;
    }
}
