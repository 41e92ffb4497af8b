using Ventwright.Model.Kernel;
using Ventwright.Model.Parts;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <summary>Compiles the root of a sheet into a model, section by section.</summary>
internal sealed partial class SheetCompiler(SheetMap root, ProblemList problems)
{
    private readonly ModelBuilder _unit = new() { Problems = problems };
    private readonly MapReader _keys = new(root, problems);
    private readonly List<(PartKind Kind, PartBuilder Part)> _parts = [];
    private readonly List<PartBuilder> _air = [];

    /// <summary>The model, or null when anything on the sheet is wrong.</summary>
    public UnitModel? Compile()
    {
        if (_keys.Text("sheet", true) is { } version && version != "1")
            problems.Error("sheet-version", _keys.MarkOf("sheet"), $"this program reads sheets of version 1, this one says {version}");
        string title = _keys.Text("unit", true) ?? "";
        double ambient = _keys.Quantity("ambient", Dimension.Pressure, 101325);
        Places();
        Controls();
        Conditions();
        Thermometer();
        if (_keys.Reader("spaces") is { } spaces)
        {
            foreach (string open in spaces.Names("open")) _unit.OpenSpaces.Add(open);
            spaces.Done();
        }

        Supply();
        ListParts();
        int modulePart = ListModule();
        foreach ((PartKind kind, PartBuilder part) in _parts) kind.Declare(part);
        BuildParts();
        if (modulePart >= 0 && _keys.Reader("module") is { } module)
        {
            int place = PlaceOf(module);
            new ModuleCompiler(_unit, module, modulePart, place).Compile();
            module.Done();
        }

        foreach (PartBuilder part in _air)
        {
            AirPart.Build(part);
            Finish(part);
        }

        MixUps();
        _unit.BuildSwaps();
        Stated();
        List<string> spare = _keys.Names("spare");
        _keys.Text("like");
        _keys.Done();
        new SheetChecks(_unit, problems, [.. spare]).Run();
        return problems.HasErrors ? null : Finished(title, ambient);
    }

    private UnitModel Finished(string title, double ambient)
    {
        NodePoints.Add(_unit);
        return _unit.Build(title, ambient);
    }

    private void Places()
    {
        foreach (SheetEntry entry in _keys.Map("places")?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is not { } map) continue;
            var keys = new MapReader(map, problems);
            _unit.Places.Add(new(entry.Key, keys.Number("minutes", 0.5), keys.Text("opens"), keys.Text("caution")));
            keys.Done();
        }

        if (_unit.Places.Count == 0) _unit.Places.Add(new("bench", 0.2, null, null));
    }

    private int PlaceOf(MapReader keys)
    {
        if (keys.Scalar("place") is not { } name) return 0;
        int place = _unit.Places.FindIndex(p => string.Equals(p.Name, name.Text, StringComparison.Ordinal));
        if (place >= 0) return place;
        string? near = NearMiss.Suggest(name.Text, _unit.Places.Select(p => p.Name));
        problems.Error("unknown-name", name.Mark, $"no place `{name.Text}`", near is null ? $"places are {string.Join(", ", _unit.Places.Select(p => p.Name))}" : $"did you mean `{near}`?");
        return 0;
    }

    private void Controls()
    {
        foreach (SheetEntry entry in _keys.Map("controls")?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is not { } map) continue;
            var keys = new MapReader(map, problems);
            if (keys.Has("dial"))
            {
                (double low, double high) = keys.Band("dial", Dimension.None) ?? (0, 1);
                double at = keys.Number("at", low);
                int variable = _unit.Variable(entry.Key, -1, VariableLaw.Given, start: at);
                _unit.Controls.Add(new(entry.Key, variable, [], low, high));
            }
            else
            {
                string[] positions = [.. keys.Names("positions", true)];
                int variable = _unit.Variable(entry.Key, -1, VariableLaw.Given);
                _unit.Controls.Add(new(entry.Key, variable, positions, 0, Math.Max(1, positions.Length - 1)));
            }

            keys.Done();
        }
    }

    private void Conditions()
    {
        foreach (SheetEntry entry in _keys.Map("conditions")?.Entries ?? [])
        {
            string text = ValueReader.Text(entry.Value, entry.Key, problems) ?? "";
            Dimension dimension = Dimension.Temperature;
            if (!QuantityText.TryParse(text, Dimension.Temperature, out double value, out string? problem))
            {
                dimension = Dimension.Pressure;
                if (!QuantityText.TryParse(text, Dimension.Pressure, out value, out _))
                    problems.Error("quantity", entry.Value.Mark, problem ?? $"'{text}' is no temperature or pressure", "write 22 degC, 72 degF or 0 bar");
            }

            if (_unit.FindVariable(entry.Key) >= 0) problems.Error("duplicate-id", entry.KeyMark, $"`{entry.Key}` is a control already");
            _unit.Conditions.Add(new(entry.Key, _unit.Variable(entry.Key, -1, VariableLaw.Given, start: value), dimension));
        }
    }

    /// <summary>How well the temperatures of the surroundings are known: one error that everything which feels a temperature shares.</summary>
    private void Thermometer()
    {
        double known = _keys.Quantity("thermometer", Dimension.TemperatureDifference, 0, Allowed.NotNegative);
        if (!(known > 0)) return;
        _unit.AmbientOffset = _unit.Parameter("surroundings warmer than told by", 0);
        _unit.Tolerances.Add(new(_unit.AmbientOffset, known, false, -1, "ambient"));
    }

    private void Supply()
    {
        if (_keys.Reader("supply", true) is not { } keys) return;
        _unit.Parts.Add(new("supply", "supply", "bench supply", 0, keys.Mark));
        var part = new PartBuilder(_unit, 0, keys);
        int branch = part.Electric(
            "supply", ElectricLaw.Source, _unit.Net(ModelBuilder.Battery), 0, 0,
            [
                ("supply voltage", keys.Quantity("volts", Dimension.Volt, 13.2)), ("supply resistance", keys.Quantity("source", Dimension.Ohm, 0.02, Allowed.Positive)),
                ("supply current limit", keys.Quantity("limit", Dimension.Ampere, double.PositiveInfinity)),
            ]);
        _unit.SupplyBranch = branch;
        _unit.Tolerances.Add(new(part.ElectricParameter(branch), keys.Quantity("tolerance", Dimension.Volt, 0.3), false, 0, "supply"));
        part.Watch(ObservableKind.Amps, "supply", minutes: 0.2);
        keys.Done();
    }

    private void ListParts()
    {
        var ids = new Dictionary<string, Mark>(StringComparer.Ordinal);
        foreach (SheetEntry entry in _keys.Map("parts", true)?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is not { } map) continue;
            string? kind = map.Entries.Select(e => e.Key).FirstOrDefault(PartKinds.All.ContainsKey);
            if (kind is null)
            {
                string first = map.Entries.Count > 0 ? map.Entries[0].Key : "";
                string? near = NearMiss.Suggest(first, PartKinds.All.Keys);
                problems.Error("unknown-kind", entry.Value.Mark, $"{entry.Key}: `{first}` is not a kind of part", near is null ? $"kinds are {string.Join(", ", PartKinds.All.Keys)}" : $"did you mean `{near}`?");
                continue;
            }

            _parts.Add((PartKinds.All[kind], AddPart(entry, map, kind, ids)));
        }

        foreach (SheetEntry entry in _keys.Map("air")?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is { } map) _air.Add(AddPart(entry, map, AirPart.KindOf(map), ids));
        }
    }

    private PartBuilder AddPart(SheetEntry entry, SheetMap map, string kind, Dictionary<string, Mark> ids)
    {
        if (!ids.TryAdd(entry.Key, entry.KeyMark)) problems.Error("duplicate-id", entry.KeyMark, $"there are two parts `{entry.Key}`", "give one of them another id", ids[entry.Key]);
        if (_unit.FindVariable(entry.Key) >= 0) problems.Error("duplicate-id", entry.KeyMark, $"`{entry.Key}` is the name of a control or condition already");
        var keys = new MapReader(map, problems);
        _unit.Parts.Add(new(entry.Key, kind, keys.Text("name") ?? keys.Text("vent") ?? entry.Key, PlaceOf(keys), entry.KeyMark));
        return new(_unit, _unit.Parts.Count - 1, keys);
    }

    private int ListModule()
    {
        if (_keys.Map("module") is not { } map) return -1;
        _unit.Parts.Add(new("module", "module", "control module", PlaceOf(new MapReader(map, problems)), map.Mark));
        return _unit.Parts.Count - 1;
    }

    private void BuildParts()
    {
        // Potentiometers, air gates and switches look movers up by name, so everything that makes a named variable is built first.
        foreach ((PartKind kind, PartBuilder part) in _parts.OrderBy(p => p.Kind is Potentiometer ? 1 : 0))
        {
            kind.Build(part);
            part.Keys.Text("pack");
            Finish(part);
        }
    }

    private static void Finish(PartBuilder part)
    {
        FaultKeys.Apply(part);
        part.Keys.Text("notes");
        part.Keys.Done();
    }
}
