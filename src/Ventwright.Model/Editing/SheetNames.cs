using Ventwright.Model.Parts;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Editing;

/// <summary>Names that a sheet uses so far, by what they name. Reads what is YAML of a text, whether it compiles or not.</summary>
public sealed class SheetNames
{
    private const int MostBadLines = 5;
    private readonly Dictionary<string, SortedSet<string>> _names = new(StringComparer.Ordinal);

    private SheetNames()
    {
        Add("net", "battery", "gnd");
        Add("hose", "atmosphere");
        Add("space", "outside", "cabin");
    }

    /// <summary>No names but those that every sheet has.</summary>
    public static SheetNames None { get; } = new();

    /// <summary>Names of a sort: <c>net</c>, <c>hose</c>, <c>space</c>, <c>part</c>, <c>flap</c>, <c>control</c>, <c>condition</c>, <c>place</c>.</summary>
    public IReadOnlyCollection<string> Of(string sort) => _names.TryGetValue(sort, out SortedSet<string>? names) ? names : [];

    /// <summary>Gathers the names of a text. Lines that are no YAML just now are passed over; null when there are too many of them.</summary>
    public static SheetNames? Of(string file, string text)
    {
        for (int attempt = 0; attempt < MostBadLines; attempt++)
        {
            var problems = new ProblemList();
            if (SheetText.Read(file, text, problems) is { } root) return Gather(root);
            if (problems.Sorted.FirstOrDefault(p => p.At.Line > 0) is not { } bad) return null;
            string[] lines = text.Split('\n');
            lines[Math.Min(bad.At.Line, lines.Length) - 1] = "";
            text = string.Join('\n', lines);
        }

        return null;
    }

    private static SheetNames Gather(SheetMap root)
    {
        var names = new SheetNames();
        foreach ((string section, string sort) in (ReadOnlySpan<(string, string)>)[("controls", "control"), ("conditions", "condition"), ("places", "place"), ("parts", "part"), ("air", "part")])
            names.Add(sort, [.. Entries(root[section]).Select(e => e.Key)]);
        foreach (SheetEntry part in Entries(root["parts"])) names.AddPart(part);
        foreach (SheetEntry air in Entries(root["air"])) names.AddKeys(air.Value, AirPart.Keys);
        if (root["module"] is SheetMap module) names.AddModule(module);
        return names;
    }

    private static IReadOnlyList<SheetEntry> Entries(SheetNode? node) => node is SheetMap map ? map.Entries : [];

    private void AddPart(SheetEntry part)
    {
        string? key = Entries(part.Value).Select(e => e.Key).FirstOrDefault(PartKinds.All.ContainsKey);
        if (key is null || part.Value is not SheetMap map) return;
        if (key == "flap") Add("flap", part.Key);
        AddKeys(map, PartKinds.All[key].Keys);
        if (key == "connector") Add("net", [.. Scalars(map[key])]);
        if (key is "switch" or "vacuum-valve") Add(key == "switch" ? "net" : "hose", [.. Scalars(map["joins"])]);
        if (map["ports"] is { } ports) Add("hose", [.. Scalars(ports)]);
    }

    private void AddKeys(SheetNode node, IReadOnlyList<KeySpec> keys)
    {
        if (node is not SheetMap map) return;
        foreach (KeySpec key in keys.Where(k => k.Value is "net" or "nets" or "hose" or "hoses" or "space")) Add(key.Value.TrimEnd('s'), [.. Scalars(map[key.Name])]);
    }

    private void AddModule(SheetMap module)
    {
        foreach (string key in (string[])["supply", "ground"]) Add("net", [.. Scalars(module[key])]);
        if (module["reference"] is SheetMap reference) Add("net", [.. Scalars(reference["pin"])]);
        foreach (SheetEntry input in Entries(module["inputs"])) Add("net", [.. Scalars(input.Value is SheetMap map ? map["pin"] : null)]);
        foreach (SheetEntry output in Entries(module["outputs"]).Where(o => o.Value is SheetMap map && map["pins"] is null)) Add("net", output.Key);
    }

    private void Add(string sort, params string[] names)
    {
        if (!_names.TryGetValue(sort, out SortedSet<string>? all)) _names[sort] = all = new(StringComparer.Ordinal);
        all.UnionWith(names.Where(n => n.Length > 0 && n != "none"));
    }

    private static IEnumerable<string> Scalars(SheetNode? node) => node switch
    {
        SheetScalar one => [one.Text],
        SheetList list => list.Items.SelectMany(Scalars),
        SheetMap map => map.Entries.SelectMany(e => Scalars(e.Value)),
        _ => [],
    };
}
