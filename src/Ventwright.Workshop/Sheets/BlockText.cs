using System.Text;

namespace Ventwright.Workshop;

/// <summary>Puts building blocks of a sheet together as text, so that their comments and their order stay.</summary>
internal sealed class BlockText
{
    private static readonly string[] Order = ["controls", "conditions", "places", "parts", "module", "module/inputs", "module/signals", "module/outputs", "air"];
    private readonly Dictionary<string, List<string>> _sections = Order.ToDictionary(o => o, _ => new List<string>(), StringComparer.Ordinal);

    /// <summary>Adds a block.</summary>
    /// <param name="text">The block.</param>
    /// <param name="words">Words that are put in, by their name without the dollar sign.</param>
    public void Add(string text, IEnumerable<(string Name, string Value)> words)
    {
        foreach ((string name, string value) in words.OrderByDescending(w => w.Name.Length)) text = text.Replace("$" + name, value, StringComparison.Ordinal);
        string what = text.Split('\n')[0].TrimStart('#').Trim(), section = "";
        HashSet<string> begun = [];
        foreach (string line in text.Split('\n').Where(l => l.Trim().Length > 0 && l[0] != '#'))
        {
            if (line[0] != ' ') section = line.TrimEnd(':', '\r');
            else if (section.StartsWith("module", StringComparison.Ordinal) && line is "  inputs:" or "  signals:" or "  outputs:") section = "module/" + line.Trim().TrimEnd(':');
            else Put(section, line, begun.Add(section) && section is "parts" ? what : null);
        }
    }

    /// <summary>The sheet.</summary>
    /// <param name="title">Title of the unit.</param>
    /// <param name="head">Comment at the top, a line each.</param>
    public string Sheet(string title, IEnumerable<string> head)
    {
        var sheet = new StringBuilder();
        foreach (string line in head) sheet.Append("# ").Append(line).Append('\n');
        sheet.Append("sheet: 1\nunit: \"").Append(title).Append("\"\nsupply: { volts: 13.2 V, tolerance: 0.3 V, source: 20 mohm }\nambient: 101.3 kPa\n");
        foreach (string section in Order.Where(s => _sections[s].Count > 0))
        {
            sheet.Append(section.Contains('/', StringComparison.Ordinal) ? $"  {section["module/".Length..]}:\n" : $"\n{section}:\n");
            foreach (string line in _sections[section]) sheet.Append(line).Append('\n');
        }

        return sheet.ToString();
    }

    private void Put(string section, string line, string? what)
    {
        List<string> lines = _sections[section];
        bool isOneLiner = line.Contains(": {", StringComparison.Ordinal) || section == "conditions";
        if (isOneLiner && lines.Contains(line, StringComparer.Ordinal)) return;
        if (what is not null) lines.Add($"  # {what}");
        lines.Add(line.TrimEnd());
    }
}
