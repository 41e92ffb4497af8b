using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>One thing that is not as it should be.</summary>
/// <param name="Id">Part, net, hose, or the part of an air branch.</param>
/// <param name="Shown">What it shows.</param>
/// <param name="Wanted">What was wanted.</param>
/// <param name="Words">The two in a sentence.</param>
public sealed record DrawingDifference(string Id, string Shown, string Wanted, string Words)
{
    private const double Volts = 0.5, Pascals = 3e3, FlowShare = 0.15, FlowM3PerS = 2.0 / 3600, Position = 0.08;

    /// <summary>
    /// What differs between a unit and what is wanted of it. Small differences are none: half a volt, 3 kPa, 15 % (and 2 m3/h) of a flow, 8 % of a travel or
    /// speed (common practice, no source).
    /// </summary>
    /// <param name="model">The unit.</param>
    /// <param name="shown">How it is.</param>
    /// <param name="wanted">How it should be.</param>
    public static IReadOnlyList<DrawingDifference> Between(UnitModel model, DrawingState shown, DrawingState wanted)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(shown);
        ArgumentNullException.ThrowIfNull(wanted);
        List<DrawingDifference> all = [];
        foreach ((string id, PartState now) in shown.Parts)
        {
            PartState want = wanted.Parts[id];
            bool moved = !double.IsNaN(now.Share) && !double.IsNaN(want.Share) && Math.Abs(now.Share - want.Share) > Position;
            if (now.Activity != want.Activity || now.Word != want.Word || moved) Add(id, Say(now), Say(want));
        }

        foreach ((string net, NetState now) in shown.Nets)
        {
            NetState want = wanted.Nets[net];
            if (now.Floating != want.Floating || Math.Abs(now.Volts - want.Volts) > Volts) Add(net, now.Text, want.Text);
        }

        foreach ((string hose, HoseState now) in shown.Hoses)
        {
            if (Math.Abs(now.DepressionPa - wanted.Hoses[hose].DepressionPa) > Pascals) Add(hose, now.Text, wanted.Hoses[hose].Text);
        }

        foreach ((AirState now, AirState want) in shown.Air.Zip(wanted.Air))
        {
            double apart = Math.Abs(now.FlowM3PerS - want.FlowM3PerS);
            if (apart > FlowM3PerS && apart > FlowShare * Math.Abs(want.FlowM3PerS)) Add(model.Parts[model.Air[now.Branch].Part].Id, now.Text, want.Text);
        }

        return all;

        void Add(string id, string now, string want)
        {
            if (all.TrueForAll(d => d.Id != id)) all.Add(new(id, now, want, $"{Name(model, id)}: {now}, wanted {want}"));
        }
    }

    private static string Say(PartState part) => part.Text.Length > 0 ? part.Text : part.Word.Length > 0 ? part.Word : "at rest";

    private static string Name(UnitModel model, string id) =>
        model.PartIndex(id) is >= 0 and int part && model.Parts[part].Name != id ? $"{model.Parts[part].Name} ({id})" : id;
}
