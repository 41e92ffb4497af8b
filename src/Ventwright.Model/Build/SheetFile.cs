using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Build;

/// <summary>Loads sheets: reads the text, follows <c>like</c>, compiles, checks.</summary>
public static class SheetFile
{
    private const int LongestLikeChain = 8;

    /// <summary>Loads and compiles a sheet file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="problems">Gets every problem found.</param>
    /// <returns>The model, or null if there is any error.</returns>
    public static UnitModel? Load(string path, ProblemList problems)
    {
        ArgumentNullException.ThrowIfNull(problems);
        SheetMap? root = SheetText.ReadFile(path, problems);
        root = root is null ? null : Resolve(root, path, [Path.GetFullPath(path)], problems);
        return root is null ? null : new SheetCompiler(root, problems).Compile();
    }

    /// <summary>Compiles sheet text that is already in memory.</summary>
    /// <param name="name">Name for messages; <c>like</c> is looked up beside it.</param>
    /// <param name="text">The sheet.</param>
    /// <param name="problems">Gets every problem found.</param>
    public static UnitModel? Read(string name, string text, ProblemList problems)
    {
        ArgumentNullException.ThrowIfNull(problems);
        SheetMap? root = SheetText.Read(name, text, problems);
        root = root is null ? null : Resolve(root, name, [Path.GetFullPath(name)], problems);
        return root is null ? null : new SheetCompiler(root, problems).Compile();
    }

    private static SheetMap? Resolve(SheetMap root, string path, List<string> chain, ProblemList problems)
    {
        if (root["like"] is not SheetScalar like) return root;
        string other = Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path)) ?? "", like.Text);
        string full = Path.GetFullPath(other);
        if (chain.Contains(full, StringComparer.Ordinal) || chain.Count >= LongestLikeChain)
        {
            problems.Error("like-cycle", like.Mark, $"`like: {like.Text}` comes back to a sheet that is being read already", "let one of them stand on its own");
            return null;
        }

        chain.Add(full);
        if (!File.Exists(full))
        {
            problems.Error("like-missing", like.Mark, $"there is no sheet `{like.Text}` beside {Path.GetFileName(path)}");
            return null;
        }

        SheetMap? basis = SheetText.ReadFile(full, problems);
        basis = basis is null ? null : Resolve(basis, full, chain, problems);
        return basis is null ? null : Merge(basis, root, 0);
    }

    /// <summary>The sections and parts of <paramref name="over"/> on top of <paramref name="basis"/>; a value <c>none</c> removes an entry.</summary>
    private static SheetMap Merge(SheetMap basis, SheetMap over, int depth)
    {
        var entries = new List<SheetEntry>();
        foreach (SheetEntry entry in basis.Entries)
        {
            if (over.Entry(entry.Key) is not { } changed) entries.Add(entry);
            else if (changed.Value is SheetScalar { Text: "none" }) continue;
            else if (depth < 2 && entry.Value is SheetMap below && changed.Value is SheetMap above) entries.Add(changed with { Value = Merge(below, above, depth + 1) });
            else entries.Add(changed);
        }

        entries.AddRange(over.Entries.Where(e => basis[e.Key] is null && !(depth == 0 && e.Key == "like")));
        return new(over.Mark, entries);
    }
}
