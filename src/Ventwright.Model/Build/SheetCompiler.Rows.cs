using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <content>Mix-ups and stated rows.</content>
internal sealed partial class SheetCompiler
{
    private void MixUps()
    {
        foreach (SheetNode item in _keys.List("mix-ups")?.Items ?? [])
        {
            if (ValueReader.Map(item, "mix-up", problems) is not { } map) continue;
            var keys = new MapReader(map, problems);
            if (keys.Has("pins")) SwapPins(keys);
            else SwapParts(keys, keys.Has("hoses") ? "hoses" : "parts");
            keys.Done();
        }
    }

    private void SwapPins(MapReader keys)
    {
        List<SheetScalar> pins = keys.Scalars("pins", true);
        var ports = pins.Select(p => p.Text.LastIndexOf('.') is var dot and > 0 ? (_unit.FindPart(p.Text[..dot]), p.Text[(dot + 1)..]) : (-1, p.Text)).ToArray();
        if (ports.Length != 2 || ports.Any(p => !_unit.Ports.ContainsKey(p)))
        {
            problems.Error("mix-up", keys.Mark, "a mix-up of pins names two joining pins of connectors", "write pins: [C3.1, C3.2]");
            return;
        }

        _unit.SwapPorts(ports[0], ports[1], $"pin-{ports[0].Item2}-swapped-with-{pins[1].Text}", 0.1);
    }

    private void SwapParts(MapReader keys, string key)
    {
        List<SheetScalar> names = keys.Scalars(key, true);
        int[] parts = [.. names.Select(n => _unit.FindPart(n.Text))];
        for (int i = 0; i < parts.Length; i++)
        {
            if (parts[i] >= 0) continue;
            string? near = NearMiss.Suggest(names[i].Text, _unit.Parts.Select(p => p.Id));
            problems.Error("unknown-name", names[i].Mark, $"no part `{names[i].Text}`", near is null ? null : $"did you mean `{near}`?");
        }

        if (parts.Any(p => p < 0)) return;
        string[] shared = parts.Length == 2
            ? [.. _unit.Ports.Keys.Where(p => p.Part == parts[0]).Select(p => p.Port).Where(p => _unit.Ports.ContainsKey((parts[1], p)))]
            : [];
        if (shared.Length == 0)
        {
            problems.Error("mix-up", keys.MarkOf(key), $"{string.Join(" and ", names.Select(n => n.Text))} have no joints that could be exchanged", "name two parts of one kind: actuators, solenoid valves, thermistors, servos");
            return;
        }

        string what = key == "hoses" ? "hose" : "place";
        _unit.SwapFault(parts[0], $"{what}-swapped-with-{_unit.Parts[parts[1]].Id}", 0.15, shared.Select(port => ((parts[0], port), (parts[1], port))));
    }

    private void Stated()
    {
        foreach (SheetNode item in _keys.List("stated")?.Items ?? [])
        {
            if (ValueReader.Map(item, "stated row", problems) is not { } map) continue;
            var keys = new MapReader(map, problems);
            var settings = (keys.Map("set")?.Entries ?? []).Select(e => (e.Key, ValueReader.Text(e.Value, e.Key, problems) ?? "")).ToList();
            string source = keys.Text("source", true) ?? "";
            if (keys.Scalar("at", true) is { } at && keys.Scalar("is", true) is { } value) StatedRow(at, value, settings, source, map.Mark);
            keys.Done();
        }
    }

    private void StatedRow(SheetScalar at, SheetScalar value, List<(string, string)> settings, string source, Mark mark)
    {
        if (!Observable.TryParse(at.Text, out Observable what, out string? problem))
        {
            problems.Error("stated-check", at.Mark, problem ?? "not a check");
            return;
        }

        Dimension dimension = what.Dimension();
        if (dimension == Dimension.None)
        {
            _unit.Stated.Add(new(what, settings, double.NaN, double.NaN, value.Text, source, mark));
            return;
        }

        if (QuantityText.TryParseBand(value.Text, dimension, out double low, out double high, out problem)) _unit.Stated.Add(new(what, settings, low, high, null, source, mark));
        else problems.Error("stated-value", value.Mark, problem ?? $"'{value.Text}' is no band", "write it as `4.6 .. 5.0 V`");
    }
}
