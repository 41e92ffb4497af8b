using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Reports;

/// <summary>A pin of a test connector: it sits on a net and joins nothing.</summary>
/// <param name="Connector">Id of the connector.</param>
/// <param name="Pin">Name of the pin.</param>
/// <param name="Net">The net that it sits on.</param>
public sealed record TestPin(string Connector, string Pin, string Net);

/// <summary>Reads test pins off the sheet, where each connector says where it is described: the compiled unit keeps only pins that join nets.</summary>
public static class TestPins
{
    /// <summary>All test pins, in the order of the sheet. A sheet file that is not there any more gives none.</summary>
    /// <param name="model">The unit.</param>
    public static IReadOnlyList<TestPin> Read(UnitModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        var files = new Dictionary<string, SheetMap?>(StringComparer.Ordinal);
        var pins = new List<TestPin>();
        foreach (PartInfo part in model.Parts.Where(p => p.Kind == "connector"))
        {
            if (!files.TryGetValue(part.At.File, out SheetMap? sheet)) files[part.At.File] = sheet = SheetText.ReadFile(part.At.File, new ProblemList());
            if (sheet?["parts"] is SheetMap parts && parts[part.Id] is SheetMap keys && keys["connector"] is SheetMap map)
                pins.AddRange(map.Entries.Where(e => Net(e.Value) is { } net && model.Nets.Contains(net, StringComparer.Ordinal)).Select(e => new TestPin(part.Id, e.Key, Net(e.Value)!)));
        }

        return pins;
    }

    private static string? Net(SheetNode node) => node switch
    {
        SheetScalar one => one.Text,
        SheetList { Items: [SheetScalar only] } => only.Text,
        _ => null,
    };
}
