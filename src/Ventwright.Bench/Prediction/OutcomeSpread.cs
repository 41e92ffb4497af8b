using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Makes predictions from what the nominal unit shows and how sound units spread around it.</summary>
/// <remarks>
/// The spread of a faulty unit is that of the sound unit, plus a share of the distance to it; its dependence on supply, reference and pump is scaled with the
/// value. Where tolerances make some sound units end in another state, as many faulty ones are taken to end where the sound unit is.
/// </remarks>
internal static class OutcomeSpread
{
    private const double LogOhmSpread = 0.01, ApartInMeterSigmas = 4;

    /// <summary>
    /// How far the effect of a fault differs from unit to unit within the tolerances, as a share of the effect: mostly little, sometimes a lot, and now and
    /// then the state flips back. Measured on both shipped sheets, see docs/physics.md.
    /// </summary>
    private const double Little = 0.03, Lot = 0.15, LotShare = 0.3, BackShare = 0.04;

    /// <summary>Standard deviation of a value between two neighbouring places of a servo, as a share of the distance: smooth, and no wider than the places reach.</summary>
    private const double PlaceShare = 0.6;

    /// <summary>Share of units that flip back to the sound state though none of the random ones did: half of one in 32.</summary>
    private const double Unseen = 0.015;

    /// <summary>So many times the spread of sound units is more than a fault's effect alone brings.</summary>
    private const double Amplified = 4;

    /// <summary>Standard deviation of a value between one random unit and the next, as a share of their spread: 32 of them leave no gaps.</summary>
    private const double BetweenUnits = 0.2;

    /// <summary>Share of the travel within which a flap lies on its stop.</summary>
    private const double StopWidth = 0.01;

    /// <summary>Prediction for the sound unit.</summary>
    public static Prediction Sound(ObservableKind kind, double value, CheckSpread spread, CheckEntry entry)
    {
        if (entry.Words.Count > 0) return Words(kind, entry, Drawn(spread));
        Cluster[] others = Clusters(kind, value, spread, entry);
        double main = 1 - others.Sum(o => o.Units.Share);
        return new(
        [
            Number(kind, value, spread.Spread, spread.Shared, main, Rest(others, spread)),
            .. others.Select(o => Number(kind, o.Value, o.Spread, o.Shared, o.Units.Share, o.Units)),
        ]);
    }

    /// <summary>Prediction for a unit with faults from random units that have the same faults.</summary>
    /// <param name="kind">What is looked at.</param>
    /// <param name="value">What the nominal unit with the faults shows, SI.</param>
    /// <param name="sound">What the nominal sound unit shows, SI.</param>
    /// <param name="own">Spread of the units with the faults.</param>
    /// <param name="healthy">Spread of sound units.</param>
    /// <param name="entry">The check.</param>
    public static Prediction Own(ObservableKind kind, double value, double sound, CheckSpread own, CheckSpread healthy, CheckEntry entry)
    {
        if (Named(kind, value, sound, entry) is { } named) return named;
        if (entry.Words.Count > 0) return Words(kind, entry, [.. Drawn(own).Select(d => (d.Value, (1 - Unseen) * d.Weight, d.Unit)), (sound, Unseen, -1)]);
        PredictionComponent back = Number(kind, sound, healthy.Spread, healthy.Shared, Unseen);
        if (own.All > Amplified * (healthy.All + entry.Meter.Absolute)) return new([.. One(kind, own, healthy), back]);
        Cluster[] others = Clusters(kind, value, own, entry);
        double main = (1 - Unseen) * (1 - others.Sum(o => o.Units.Share));
        return new(
        [
            Number(kind, value, own.Spread, own.Shared, main, Rest(others, own)),
            .. others.Select(o => Number(kind, o.Value, o.Spread, o.Shared, (1 - Unseen) * o.Units.Share, o.Units)), back,
        ]);
    }

    /// <summary>
    /// Each of the random units by itself: where the fault brings tolerances to bear that weigh nothing in a sound unit, the same tolerance moves one check after another, and
    /// which unit this one is like tells more than a spread at each check.
    /// </summary>
    private static IEnumerable<PredictionComponent> One(ObservableKind kind, CheckSpread own, CheckSpread healthy) => own.Values.Select((v, u) =>
        Number(kind, v, healthy.Spread + (BetweenUnits * own.All), healthy.Shared, (1 - Unseen) / own.Values.Length, new(1UL << u, own.Values.Length)));

    /// <summary>Prediction for a unit with faults that shows something else than the sound one.</summary>
    /// <param name="kind">What is looked at.</param>
    /// <param name="values">What the nominal unit with the faults shows, SI: one value or, where servos may have been left in several places, one for each, all as likely.</param>
    /// <param name="sound">What the nominal sound unit shows, SI.</param>
    /// <param name="spread">Spread of sound units.</param>
    /// <param name="entry">The check.</param>
    public static Prediction Faulty(ObservableKind kind, double[] values, double sound, CheckSpread spread, CheckEntry entry)
    {
        if (values.Length == 1) return Faulty(kind, values[0], sound, spread, entry);
        return Prediction.OneOfPlaces([.. values.Select((v, i) => Faulty(kind, v, sound, spread with { Spread = spread.Spread + Between(values, i) }, entry))]);
    }

    /// <summary>How far values spread between a few places and the next: with the distance to the nearest one, but not where most values lie on one spot.</summary>
    private static double Between(double[] values, int of)
    {
        double Nearest(int i) => values.Where((v, k) => k != i && double.IsFinite(v)).Select(v => Math.Abs(v - values[i])).DefaultIfEmpty(0).Min();
        double[] gaps = [.. Enumerable.Range(0, values.Length).Where(i => double.IsFinite(values[i])).Select(Nearest).Order()];
        return double.IsFinite(values[of]) ? PlaceShare * Math.Min(Nearest(of), gaps[(gaps.Length - 1) / 2]) : 0;
    }

    private static Prediction Faulty(ObservableKind kind, double value, double sound, CheckSpread spread, CheckEntry entry)
    {
        if (Named(kind, value, sound, entry) is { } named) return named;
        if (entry.Words.Count > 0) return FaultyWords(kind, value, sound, spread, entry);
        double distance = Math.Abs(value - sound);
        double off = double.IsFinite(distance) ? distance : double.IsFinite(value) ? Math.Abs(value) : 0;
        // Units whose sound state flips: half are taken to flip with the fault as well, half to end where the sound unit is.
        Cluster[] others = Clusters(kind, sound, spread, entry);
        double elsewhere = others.Sum(o => o.Units.Share) / 2, back = Math.Max(BackShare, elsewhere), lot = LotShare * (1 - back - elsewhere), main = 1 - back - elsewhere - lot;
        double scale = Scale(value, sound);
        PredictionComponent[] flipped = [Number(kind, sound, spread.Spread, spread.Shared, back), .. others.Select(o => Number(kind, o.Value, o.Spread, o.Shared, o.Units.Share / 2, o.Units))];
        if (double.IsNaN(value)) return new([PredictionComponent.Unsteady(1 - back - elsewhere), .. flipped]);
        double[] shared = [.. spread.Shared.Select(s => double.IsFinite(scale) ? s * Math.Clamp(scale, -3, 3) : 0)];
        return new(
        [
            Number(kind, value, spread.Spread + (Little * off), shared, main), Number(kind, value, spread.Spread + (Lot * off), shared, lot), .. flipped,
        ]);
    }

    /// <summary>
    /// The same for a check that is told in words: each of the random units, moved by what the fault does, so that a unit near a limit between two words shows the same one at check after check.
    /// </summary>
    private static Prediction FaultyWords(ObservableKind kind, double value, double sound, CheckSpread spread, CheckEntry entry)
    {
        double follows = Follows(kind, value, Scale(value, sound)), effect = double.IsFinite(value - sound) ? value - sound : 0, each = (1 - BackShare) / (1 + spread.Values.Length);
        double At(double v, int unit) => value + (Excess(unit) * effect) + (double.IsFinite(v - sound) ? follows * (v - sound) : 0);
        // Air moves in proportion in whatever state a unit is; elsewhere a unit whose sound state flips is taken to flip with the fault as well or not, half and half.
        bool Moves(int unit) => kind == ObservableKind.Airflow || spread.IsNear[unit];
        return Words(kind, entry,
        [
            (value, each, -1), .. spread.Values.Select((v, u) => Moves(u) ? (At(v, u), each, u) : (v, each / 2, u)), .. spread.Values.Where((_, u) => !Moves(u)).Select(_ => (value, each / 2, -1)),
            (sound, BackShare, -1),
        ]);
    }

    /// <summary>How much more than usual a fault does in a unit, as a share of its effect: a lot more or less in a few, spread evenly over the list.</summary>
    private static double Excess(int unit)
    {
        double place = unit * 0.6180339887498949 % 1;
        return place < LotShare / 2 ? -Lot : place > 1 - (LotShare / 2) ? Lot : 0;
    }

    private static double Scale(double value, double sound) => Math.Abs(sound) > 1e-6 ? value / sound : 1;

    /// <summary>Prediction of a check told in names: what is there, or what a sound unit shows where it is overlooked; null for others.</summary>
    private static Prediction? Named(ObservableKind kind, double value, double sound, CheckEntry entry) =>
        Readings.OverlookedShare(kind, value) is { } missed ? Words(kind, entry, [(value, 1 - missed), (sound, missed)]) : null;

    /// <summary>
    /// How far the quantity behind a word differs from unit to unit with a fault, as a share of how far it does without: for air in proportion; not at all where a stop holds a flap
    /// or nothing steady is shown.
    /// </summary>
    private static double Follows(ObservableKind kind, double value, double scale) => kind switch
    {
        ObservableKind.Airflow => Math.Clamp(Math.Abs(scale), 0, 3),
        ObservableKind.Position => value is > StopWidth and < 1 - StopWidth ? 1 : 0,
        _ => 0,
    };

    /// <summary>What each of the random units shows, with its share and its place.</summary>
    private static (double Value, double Weight, int Unit)[] Drawn(CheckSpread spread) => [.. spread.Values.Select((v, u) => (v, 1.0 / spread.Values.Length, u))];

    private static Prediction Words(ObservableKind kind, CheckEntry entry, (double Value, double Weight)[] values) => Words(kind, entry, [.. values.Select(v => (v.Value, v.Weight, -1))]);

    private static Prediction Words(ObservableKind kind, CheckEntry entry, (double Value, double Weight, int Unit)[] values)
    {
        if (values.All(v => double.IsNaN(v.Value))) return Prediction.Unsteady;
        double[] shares = WordLaw.Predict(kind, entry.Words, [.. values.Select(v => v.Value)], [.. values.Select(v => v.Weight)]);
        int of = values.Count(v => v.Unit >= 0);
        ulong[] members = new ulong[entry.Words.Count];
        foreach ((double value, _, int unit) in values)
        {
            if (unit >= 0) members[Readings.WordIndex(kind, entry.Words.Count, value)] |= 1UL << unit;
        }

        return new([PredictionComponent.Words(shares, 1, of == 0 ? null : [.. members.Select(m => new ExampleUnits(m, of))])]);
    }

    private static PredictionComponent Number(ObservableKind kind, double value, double spread, double[] shared, double weight, ExampleUnits units = default)
    {
        if (double.IsNaN(value)) return PredictionComponent.Unsteady(weight, units);
        if (kind != ObservableKind.Ohms) return PredictionComponent.Number(value, spread, shared, weight, units);
        double slope = BenchMeter.SlopeAt(kind, value);
        return PredictionComponent.Number(BenchMeter.ToScale(kind, value), LogOhmSpread + (spread * slope), [.. shared.Select(s => s * slope)], weight, units);
    }

    /// <summary>The units that are in no cluster.</summary>
    private static ExampleUnits Rest(Cluster[] clusters, CheckSpread spread)
    {
        ulong all = spread.Values.Length >= 64 ? ulong.MaxValue : (1UL << spread.Values.Length) - 1;
        return new(all & ~clusters.Aggregate(0UL, (members, c) => members | c.Units.Members), spread.Values.Length);
    }

    /// <summary>Other states that sound units end in, as a few values with their units; those that no meter tells from the nominal value are left out.</summary>
    private static Cluster[] Clusters(ObservableKind kind, double nominal, CheckSpread spread, CheckEntry entry)
    {
        if (Array.TrueForAll(spread.IsNear, n => n)) return [];
        double Apart(double at) => ApartInMeterSigmas * ((entry.IsNumber ? entry.Meter.Absolute : 0.01) + (entry.Meter.RelativeGain * Math.Abs(at)) + BenchMeter.SlopeAt(kind, at) * spread.Spread);
        bool IsFar(double v) => double.IsNaN(v) != double.IsNaN(nominal) || Math.Abs(BenchMeter.ToScale(kind, v) - BenchMeter.ToScale(kind, nominal)) > Apart(nominal);
        (double Value, int Unit)[] far = [.. spread.Values.Select((v, u) => (v, u)).Where(p => !spread.IsNear[p.u] && IsFar(p.v)).OrderBy(p => p.v)];
        var groups = new List<List<(double Value, int Unit)>>();
        foreach ((double Value, int Unit) unit in far)
        {
            bool joins = groups.Count > 0 && groups[^1][^1].Value is var last && (unit.Value.Equals(last) || BenchMeter.ToScale(kind, unit.Value) - BenchMeter.ToScale(kind, last) <= Apart(unit.Value));
            if (joins) groups[^1].Add(unit);
            else groups.Add([unit]);
        }

        return [.. groups.Select(g =>
        {
            (double value, double[] shared, double rest) = spread.Of([.. g.Select(p => p.Unit)]);
            // What spreads in that state may lie still on the nominal side, where a valve is shut, and the other way round.
            return new Cluster(value, spread.Spread + rest, shared, new(g.Aggregate(0UL, (members, p) => members | (1UL << p.Unit)), spread.Values.Length));
        })];
    }

    /// <summary>A state that some units end in.</summary>
    private readonly record struct Cluster(double Value, double Spread, double[] Shared, ExampleUnits Units);
}
