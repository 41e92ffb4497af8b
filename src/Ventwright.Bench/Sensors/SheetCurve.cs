using System.Globalization;
using System.Text;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Sensing;

namespace Ventwright.Bench.Sensors;

/// <summary>A sheet whose text got a sensor's measured curve.</summary>
/// <param name="Text">The whole sheet.</param>
/// <param name="Written">What was written, such as <c>r25: 9.87 kohm, beta: 3921</c>.</param>
/// <param name="Before">What stood there.</param>
/// <param name="Line">Line of the sheet.</param>
/// <param name="LargestErrorK">How far the curve on the sheet is from the fitted one at most over the range, through rounding and between the points of a table, K.</param>
/// <param name="Model">The unit with the new curve.</param>
public sealed record SheetCurve(string Text, string Written, string Before, int Line, double LargestErrorK, UnitModel Model)
{
    /// <summary>
    /// Writes a measured curve into the text of a sheet: <c>r25</c> and <c>beta</c> for two constants, a <c>table</c> for three. Nothing else of the text
    /// changes; comments and layout stay. The result is compiled before it is given.
    /// </summary>
    /// <param name="name">Name of the sheet, for messages and for what it is like.</param>
    /// <param name="text">The sheet.</param>
    /// <param name="check">The characterised sensor.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static SheetCurve? TryWrite(string name, string text, SensorCheck check, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(check);
        string id = check.Sensor.Id;
        var problems = new ProblemList();
        SheetMap? part = ((SheetText.Read(name, text, problems) as SheetMap)?["parts"] as SheetMap)?[id] as SheetMap;
        SheetEntry[] old = part is null ? [] : [.. part.Entries.Where(e => e.Key is "r25" or "beta" or "table")];
        if (part is null || old.Length == 0)
        {
            problem = $"the curve of {id} does not stand in {name}; write it to the sheet that it is `like`";
            return null;
        }

        string[] entries = Entries(check);
        var edit = new EntryEdit(text, part);
        string? changed = edit.Replace(old, entries);
        if (changed is null)
        {
            problem = $"{old[0].KeyMark}: this is laid out in a way that cannot be changed without touching more; write there: {string.Join(", ", entries)}";
            return null;
        }

        UnitModel? model = SheetFile.Read(name, changed, problems = new());
        if (model is null || problems.HasErrors)
        {
            problem = $"the sheet would no longer be right: {problems.Sorted.First(p => p.Severity == Severity.Error)}";
            return null;
        }

        problem = null;
        ThermistorCurve curve = SensorPart.TryFind(model, id, out _)!.Curve;
        double error = check.Over.Max(a => Math.Abs(curve.Kelvin(check.Fit.Curve.Ohms(a.Kelvin)) - a.Kelvin));
        return new(changed, string.Join(", ", entries), edit.Before, old[0].KeyMark.Line, error, model);
    }

    private static string[] Entries(SensorCheck check)
    {
        SteinhartHart curve = check.Fit.Curve;
        if (check.Fit.Constants == 2) return [$"r25: {Ohms(curve.Ohms(SteinhartHart.NameTemperature))}", string.Create(CultureInfo.InvariantCulture, $"beta: {1 / curve.B:0}")];
        const double zero = 273.15, step = 10;
        double low = Math.Min(check.LowKelvin, check.Readings.Min(r => r.Reading.Bath.Kelvin)), high = Math.Max(check.HighKelvin, check.Readings.Max(r => r.Reading.Bath.Kelvin));
        int first = (int)Math.Floor((low - zero) / step), last = (int)Math.Ceiling((high - zero) / step);
        IEnumerable<string> rows = Enumerable.Range(first, last - first + 1)
            .Select(i => string.Create(CultureInfo.InvariantCulture, $"{i * step} degC: {Ohms(curve.Ohms(zero + (i * step)))}"));
        return [$"table: {{ {string.Join(", ", rows)} }}"];
    }

    /// <summary>Four digits: a tenth of a per cent is a fortieth of a kelvin.</summary>
    private static string Ohms(double ohms)
    {
        (double divisor, string unit) = ohms >= 1e6 ? (1e6, "Mohm") : ohms >= 1e3 ? (1e3, "kohm") : (1.0, "ohm");
        return $"{(ohms / divisor).ToString("G4", CultureInfo.InvariantCulture)} {unit}";
    }

    /// <summary>Changes some entries of one map in a text, in a row of braces or line by line as it stands there.</summary>
    private sealed class EntryEdit(string text, SheetMap map)
    {
        private readonly int[] _lines = Lines(text);

        /// <summary>What stood there.</summary>
        public string Before { get; private set; } = "";

        /// <summary>The text with the new entries in place of the old; null when the layout is not understood.</summary>
        public string? Replace(SheetEntry[] old, string[] entries)
        {
            bool braces = text[At(map.Mark)] == '{';
            var cuts = new List<(int From, int To, string Put)>();
            foreach (SheetEntry entry in old)
            {
                int from = At(entry.KeyMark), to = End(entry.Value);
                if (to < 0) return null;
                Before += (Before.Length > 0 ? ", " : "") + string.Join(' ', text[from..to].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
                bool isFirst = entry.Key == old[0].Key;
                string kept = braces ? "" : Comments(from, to);
                if (isFirst) cuts.Add((from, to, braces ? string.Join(", ", entries) : kept + string.Join("\n" + new string(' ', entry.KeyMark.Column - 1), entries)));
                else if (braces) cuts.AddRange(WithComma(entry, from, to));
                else cuts.Add(WholeLines(from, to, kept));
            }

            if (cuts.Exists(c => c.From < 0)) return null;
            var result = new StringBuilder(text);
            foreach ((int from, int to, string put) in cuts.OrderByDescending(c => c.From)) result.Remove(from, to - from).Insert(from, put);
            return result.ToString();
        }

        private int At(Mark mark) => _lines[mark.Line - 1] + mark.Column - 1;

        private static int[] Lines(string text)
        {
            // A byte order mark is not counted in the columns of the first line.
            List<int> lines = [text.StartsWith('\uFEFF') ? 1 : 0];
            for (int i = 0; i < text.Length; i++) if (text[i] == '\n') lines.Add(i + 1);
            return [.. lines];
        }

        /// <summary>Index behind a value, or -1 when it cannot be told.</summary>
        private int End(SheetNode node)
        {
            int start = At(node.Mark);
            if (text[start] is '{' or '[') return Closing(start);
            if (node is SheetScalar scalar)
            {
                if (text[start] is '"' or '\'') return text.IndexOf(text[start], start + 1) + 1 is > 0 and int behind ? behind : -1;
                return string.CompareOrdinal(text, start, scalar.Text, 0, scalar.Text.Length) == 0 ? start + scalar.Text.Length : -1;
            }

            return node is SheetMap { Entries.Count: > 0 } inner ? End(inner.Entries[^1].Value) : -1;
        }

        private int Closing(int start)
        {
            int depth = 0;
            for (int i = start; i < text.Length; i++)
            {
                if (text[i] is '"' or '\'') i = text.IndexOf(text[i], i + 1) is > 0 and int quote ? quote : text.Length;
                else if (text[i] == '#' && i > 0 && char.IsWhiteSpace(text[i - 1])) i = text.IndexOf('\n', i) is > 0 and int end ? end : text.Length;
                else if (text[i] is '{' or '[') depth++;
                else if (text[i] is '}' or ']' && --depth == 0) return i + 1;
            }

            return -1;
        }

        /// <summary>An entry in braces and the comma before it; a comment between the two stays.</summary>
        private IEnumerable<(int From, int To, string Put)> WithComma(SheetEntry entry, int from, int to)
        {
            SheetEntry before = map.Entries.TakeWhile(e => e.Key != entry.Key).Last();
            int comma = End(before.Value);
            while (comma >= 0 && comma < from && char.IsWhiteSpace(text[comma])) comma++;
            if (comma < 0 || text[comma] != ',') return [(-1, to, "")];
            return text[(comma + 1)..from].Trim().Length == 0 ? [(comma, to, "")] : [(comma, comma + 1, ""), (from, to, "")];
        }

        /// <summary>The lines of an entry, with its comments left behind.</summary>
        private (int From, int To, string Put) WholeLines(int from, int to, string kept)
        {
            int start = text.LastIndexOf('\n', from) + 1, newline = text.IndexOf('\n', to), end = newline < 0 ? text.Length : newline + 1;
            string rest = text[to..end].Trim();
            if (rest.Length > 0 && !rest.StartsWith('#')) return (-1, to, "");
            string indent = text[start..from];
            string comment = rest.Length > 0 ? $"{indent}{rest}\n" : "";
            return (start, end, (kept.Length > 0 ? indent + kept.TrimEnd() + "\n" : "") + comment);
        }

        /// <summary>Comments inside a value of several lines, to be kept in front of what takes its place.</summary>
        private string Comments(int from, int to)
        {
            string indent = new(' ', from - (text.LastIndexOf('\n', from) + 1));
            string[] found = [.. text[from..to].Split('\n').Select(l => l.IndexOf(" #", StringComparison.Ordinal) is >= 0 and int i ? l[i..].Trim() : l.TrimStart().StartsWith('#') ? l.Trim() : "").Where(c => c.Length > 0)];
            return string.Concat(found.Select(c => c + "\n" + indent));
        }
    }
}
