namespace Ventwright.Physics.Sensing;

/// <summary>Two resistors that make a share of a voltage.</summary>
/// <param name="Lower">From the low end to the tap.</param>
/// <param name="Upper">From the tap to the high end.</param>
/// <param name="Share">Lower over both.</param>
public sealed record ResistorDivider(DrawerResistor Lower, DrawerResistor Upper, double Share)
{
    /// <summary>Both in a row, ohm.</summary>
    public double TotalOhms => Lower.Ohms + Upper.Ohms;

    /// <summary>Lowest and highest share with the two at opposite ends of their tolerances.</summary>
    public (double Low, double High) WorstShares()
    {
        double l = Lower.Ohms, u = Upper.Ohms, tl = Lower.Tolerance, tu = Upper.Tolerance;
        return (l * (1 - tl) / ((l * (1 - tl)) + (u * (1 + tu))), l * (1 + tl) / ((l * (1 + tl)) + (u * (1 - tu))));
    }
}

/// <summary>Finds the two resistors of a drawer whose tap comes closest to a share, with a total within limits.</summary>
public static class DividerSearch
{
    /// <summary>The closest, best first; of those as close to a millionth the one whose total is nearest the middle of the limits.</summary>
    /// <param name="drawer">The drawer.</param>
    /// <param name="share">Wanted share, between 0 and 1.</param>
    /// <param name="leastOhms">Least total, ohm.</param>
    /// <param name="mostOhms">Largest total, ohm.</param>
    /// <param name="count">How many.</param>
    public static IReadOnlyList<ResistorDivider> Closest(IReadOnlyList<DrawerResistor> drawer, double share, double leastOhms, double mostOhms, int count)
    {
        ArgumentNullException.ThrowIfNull(drawer);
        if (!(share is > 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(share), share, "a tap lies between the ends");
        double middle = Math.Sqrt(leastOhms * mostOhms);
        var all = from lower in drawer
                  from upper in drawer
                  where lower.Ohms + upper.Ohms >= leastOhms && lower.Ohms + upper.Ohms <= mostOhms && (lower != upper || lower.Count > 1)
                  select new ResistorDivider(lower, upper, lower.Ohms / (lower.Ohms + upper.Ohms));
        return [.. all.OrderBy(d => Math.Floor(Math.Abs(d.Share - share) / 1e-6)).ThenBy(d => Math.Abs(Math.Log(d.TotalOhms / middle))).Take(count)];
    }
}
