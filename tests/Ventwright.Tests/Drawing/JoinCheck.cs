using Ventwright.Drawing;
using Ventwright.Model.Kernel;

namespace Ventwright.Tests.Drawing;

/// <summary>Checks a line against the model: it must start and end at ports of what the model says is joined.</summary>
internal static class JoinCheck
{
    public static void Check(UnitModel model, UnitLayout layout, LayoutLink link)
    {
        LayoutNode from = layout.ByKey[link.From], to = layout.ByKey[link.To];
        Assert.Contains(from.Ports, p => Near(p.At, link.Points[0]) && p.Node == link.Node);
        Assert.Contains(to.Ports, p => Near(p.At, link.Points[^1]) && p.Node == link.EndNode);
        switch (link.Kind)
        {
            case LinkKind.Wire:
                Assert.True(TouchesNet(model, from.Part, link.Node), $"{from.Id} is not on {link.Node}");
                Assert.True(TouchesNet(model, to.Part, link.EndNode), $"{to.Id} is not on {link.EndNode}");
                Assert.True(Joined(model, link), $"{link.Node} and {link.EndNode} are not joined by {string.Join(", ", link.Through)}");
                break;
            case LinkKind.Hose:
                Assert.Equal(link.Node, link.EndNode);
                Assert.True(TouchesHose(model, from.Part, link.Node) && TouchesHose(model, to.Part, link.Node), link.Key);
                break;
            case LinkKind.Air:
                LayoutNode part = from.Part >= 0 ? from : to;
                Assert.True(part.Part < 0 || model.Air.Any(b => b.Part == part.Part && (model.Spaces[b.A] == link.Node || model.Spaces[b.B] == link.Node)), link.Key);
                break;
            default:
                Assert.True(Moves(model, from, to), link.Key);
                break;
        }
    }

    private static bool Near(Spot a, Spot b) => Math.Abs(a.X - b.X) < 1e-6 && Math.Abs(a.Y - b.Y) < 1e-6;

    private static bool TouchesNet(UnitModel model, int part, string net) =>
        model.Electric.Any(b => b.Part == part && (model.Nets[b.A] == net || model.Nets[b.B] == net || (b.Control >= 0 && model.Nets[b.Control] == net)));

    private static bool TouchesHose(UnitModel model, int part, string hose) =>
        model.Vacuum.Any(b => b.Part == part && (model.Hoses[b.A] == hose || model.Hoses[b.B] == hose)) || model.VacuumSources.Any(s => s.Part == part && model.Hoses[s.Hose] == hose);

    private static bool Joined(UnitModel model, LayoutLink link)
    {
        HashSet<string> reached = [link.Node];
        foreach (string _ in link.Through.Append(""))
        {
            foreach (ElectricBranch b in model.Electric.Where(b => link.Through.Contains(model.Parts[b.Part].Id)))
            {
                if (reached.Contains(model.Nets[b.A])) reached.Add(model.Nets[b.B]);
                else if (reached.Contains(model.Nets[b.B])) reached.Add(model.Nets[b.A]);
            }
        }

        return reached.Contains(link.EndNode);
    }

    private static bool Moves(UnitModel model, LayoutNode from, LayoutNode to)
    {
        int variable = from.Role == NodeRole.Control ? Array.Find(model.Controls, c => c.Name == from.Id)!.Variable : model.MainVariable[from.Part];
        return model.Variables.Any(v => v.Part == to.Part && v.Law == VariableLaw.Linkage && v.Input == variable)
            || model.Electric.Any(b => b.Part == to.Part && b.Gate?.Variable == variable) || model.Vacuum.Any(b => b.Part == to.Part && b.Gate?.Variable == variable);
    }
}
