namespace Ventwright.Physics.Sensing;

/// <summary>How one to three resistors are joined.</summary>
public enum ResistorJoint
{
    /// <summary>One alone.</summary>
    Single,

    /// <summary>Two or three in a row.</summary>
    Series,

    /// <summary>Two or three side by side.</summary>
    Parallel,

    /// <summary>The first in a row with the other two side by side.</summary>
    SeriesWithPair,

    /// <summary>The first side by side with the other two in a row.</summary>
    ParallelWithRow,
}

/// <summary>One to three resistors joined to one resistance.</summary>
/// <param name="Joint">How.</param>
/// <param name="Parts">Index of each resistor in the drawer; for the mixed joints the single one first, the others rising; else all rising.</param>
/// <param name="Values">Nominal resistance of each, ohm.</param>
/// <param name="Tolerances">Tolerance of each, as a share.</param>
public sealed record ResistorNetwork(ResistorJoint Joint, IReadOnlyList<int> Parts, IReadOnlyList<double> Values, IReadOnlyList<double> Tolerances)
{
    /// <summary>The whole resistance, ohm.</summary>
    public double Ohms => Of(Joint, Values);

    /// <summary>Share of the whole power that each resistor takes; also how far a relative change of it moves the whole (Tellegen's theorem).</summary>
    public IReadOnlyList<double> Shares()
    {
        double whole = Ohms;
        double Row(double r) => r / whole;
        double Side(double r) => whole / r;
        if (Joint == ResistorJoint.Series) return [.. Values.Select(Row)];
        if (Joint is ResistorJoint.Single or ResistorJoint.Parallel) return [.. Values.Select(Side)];
        double a = Values[0], b = Values[1], c = Values[2];
        if (Joint == ResistorJoint.SeriesWithPair)
        {
            double pair = b * c / (b + c);
            return [a / whole, pair / whole * pair / b, pair / whole * pair / c];
        }

        double other = whole / (b + c);
        return [whole / a, other * b / (b + c), other * c / (b + c)];
    }

    /// <summary>Lowest and highest resistance with every resistor at the same end of its tolerance, ohm. No mix of ends goes further, since the whole rises with each.</summary>
    public (double Low, double High) WorstOhms() => (Of(Joint, [.. Values.Zip(Tolerances, (v, t) => v * (1 - t))]), Of(Joint, [.. Values.Zip(Tolerances, (v, t) => v * (1 + t))]));

    /// <summary>Root of the sum of squares of what each tolerance moves, as a share of the whole.</summary>
    public double RootSumSquare() => Math.Sqrt(Shares().Zip(Tolerances, (s, t) => s * t * s * t).Sum());

    internal static double Of(ResistorJoint joint, IReadOnlyList<double> v) => joint switch
    {
        ResistorJoint.Single => v[0],
        ResistorJoint.Series => v.Sum(),
        ResistorJoint.Parallel => 1 / v.Sum(r => 1 / r),
        ResistorJoint.SeriesWithPair => v[0] + (v[1] * v[2] / (v[1] + v[2])),
        _ => 1 / ((1 / v[0]) + (1 / (v[1] + v[2]))),
    };
}
