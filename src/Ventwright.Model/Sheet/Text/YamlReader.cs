using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Ventwright.Model.Sheet.Text;

/// <summary>Turns the events of the YAML parser into nodes while the limits are watched. One use only.</summary>
/// <param name="file">Name for messages.</param>
/// <param name="text">The text.</param>
/// <param name="problems">Takes what is wrong.</param>
/// <param name="listOf">What the text may be a bare list of; null for a sheet.</param>
internal sealed class YamlReader(string file, string text, ProblemList problems, string? listOf = null)
{
    private readonly Parser _parser = new(new StringReader(text));
    private Mark _last = new(file, 1, 1);
    private int _depth;

    /// <summary>Reads the whole text; null when there is no map to use.</summary>
    public SheetMap? Read()
    {
        try
        {
            return ReadDocument();
        }
        catch (NestedTooDeepException)
        {
            problems.Error("too-deep", _last, $"nested deeper than {SheetText.DeepestNesting} levels", "is a bracket left open?");
        }
        catch (YamlException e)
        {
            problems.Add(SyntaxAdvice.For(e.Start.Line > 0 ? At(e.Start) : _last, e.Message, text));
        }
#pragma warning disable CA1031 // The parser also throws exceptions of other kinds on bad text; each of them means bad text at the last place.
        catch (Exception e) when (e is not OutOfMemoryException)
#pragma warning restore CA1031
        {
            problems.Add(SyntaxAdvice.For(_last, e.Message, text));
        }

        return null;
    }

    private SheetMap? ReadDocument()
    {
        Next();
        if (Next() is not DocumentStart) return Refuse(new Mark(file, 1, 1), IsEmpty);
        SheetNode node = ReadNode(Next());
        Next(); // the end of the document
        if (Next() is DocumentStart second)
            problems.Error("second-document", At(second.Start), "a second document starts here", "keep one sheet in one file, without '---' lines");
        return node switch
        {
            SheetMap map => map,
            SheetList list when listOf is not null => new SheetMap(list.Mark, [new(listOf, list.Mark, list)]),
            SheetScalar { IsMissing: true } => Refuse(node.Mark, IsEmpty),
            _ => Refuse(node.Mark, listOf is null ? $"a sheet is made of keys and values; this is {node.Kind}" : $"this is {node.Kind}, not a list of {listOf}"),
        };
    }

    private string IsEmpty => listOf is null ? "the sheet is empty" : "the file is empty";

    private SheetMap? Refuse(Mark at, string message)
    {
        problems.Error("no-sheet", at, message, listOf is null ? "start with a line such as 'sheet: 1'" : $"start with a line '{listOf}:' or '- '; '[]' is a list with nothing in it");
        return null;
    }

    private SheetNode ReadNode(ParsingEvent start)
    {
        RefuseDecoration(start);
        if (++_depth > SheetText.DeepestNesting) throw new NestedTooDeepException();
        SheetNode read = start switch
        {
            Scalar scalar => ToScalar(scalar),
            MappingStart => ReadMap(At(start.Start)),
            SequenceStart => ReadList(At(start.Start)),
            _ => new SheetScalar(At(start.Start), "", At(start.Start), isQuoted: false), // an alias, already refused
        };
        _depth--;
        return read;
    }

    private void RefuseDecoration(ParsingEvent start)
    {
        string? anchor = start switch
        {
            AnchorAlias alias => $"*{alias.Value.Value}",
            NodeEvent { Anchor.IsEmpty: false } node => $"&{node.Anchor.Value}",
            _ => null,
        };
        if (anchor is not null)
        {
            problems.Error("anchor", At(start.Start), $"'{anchor}' is a YAML anchor or alias, which sheets do not use",
                "write the value out, or put text that starts so in quotes");
        }

        if (start is NodeEvent { Tag.IsEmpty: false } tagged)
        {
            problems.Error("tag", At(start.Start), $"'{tagged.Tag}' is a YAML tag, which sheets do not use",
                "leave it out, or put text that starts with '!' in quotes");
        }
    }

    private SheetScalar ToScalar(Scalar scalar)
    {
        Mark mark = At(scalar.Start);
        Mark textMark = scalar.Style switch
        {
            ScalarStyle.SingleQuoted or ScalarStyle.DoubleQuoted => mark.Plus(1),
            ScalarStyle.Literal or ScalarStyle.Folded => mark with { Line = mark.Line + 1, Column = 1 },
            _ => mark,
        };
        return new SheetScalar(mark, scalar.Value, textMark, scalar.Style != ScalarStyle.Plain);
    }

    private SheetList ReadList(Mark mark)
    {
        var items = new List<SheetNode>();
        for (ParsingEvent e = Next(); e is not SequenceEnd; e = Next()) items.Add(ReadNode(e));
        return new SheetList(mark, items);
    }

    private SheetMap ReadMap(Mark mark)
    {
        var entries = new List<SheetEntry>();
        var places = new Dictionary<string, Mark>(StringComparer.Ordinal);
        for (ParsingEvent e = Next(); e is not MappingEnd; e = Next())
        {
            SheetNode key = ReadNode(e);
            SheetNode value = ReadNode(Next());
            if (key is not SheetScalar { IsMissing: false } word)
                problems.Error("bad-key", key.Mark, $"a key must be one word; this is {(key is SheetScalar ? "empty" : key.Kind)}", "write 'key: value'");
            else if (places.TryAdd(word.Text, word.Mark)) entries.Add(new SheetEntry(word.Text, word.Mark, value));
            else
                problems.Error("double-key", word.Mark, $"'{word.Text}' is already there", "keep one of the two", places[word.Text]);
        }

        return new SheetMap(mark, entries);
    }

    private ParsingEvent Next()
    {
        if (!_parser.MoveNext() || _parser.Current is null) throw new InvalidOperationException("the text ends too early");
        _last = At(_parser.Current.Start);
        return _parser.Current;
    }

    private Mark At(YamlDotNet.Core.Mark mark) => new(file, (int)Math.Max(1, mark.Line), (int)Math.Max(1, mark.Column));

    private sealed class NestedTooDeepException : Exception;
}
