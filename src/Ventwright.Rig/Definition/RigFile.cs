using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig.Devices;

namespace Ventwright.Rig.Definition;

/// <summary>Loads rig files (docs/rig.md) and checks them against the sheet of the unit.</summary>
public static class RigFile
{
    private const int KnownVersion = 1;

    /// <summary>Loads a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="model">The unit that the rig is wired to.</param>
    /// <param name="problems">Gets every problem found.</param>
    /// <returns>The rig, or null if there is any error.</returns>
    public static RigDefinition? Load(string path, UnitModel model, ProblemList problems) => Build(SheetText.ReadFile(path, problems), model, problems);

    /// <summary>Reads text that is already in memory.</summary>
    /// <param name="name">Name for messages.</param>
    /// <param name="text">The rig file.</param>
    /// <param name="model">The unit that the rig is wired to.</param>
    /// <param name="problems">Gets every problem found.</param>
    public static RigDefinition? Read(string name, string text, UnitModel model, ProblemList problems) => Build(SheetText.Read(name, text, problems), model, problems);

    /// <summary>Reads <c>timeout</c>.</summary>
    internal static TimeSpan Timeout(MapReader keys, double usualS) => TimeSpan.FromSeconds(Math.Min(60, keys.Quantity("timeout", Dimension.Second, usualS, Allowed.Positive)));

    private static RigDefinition? Build(SheetMap? root, UnitModel model, ProblemList problems)
    {
        if (root is null) return null;
        var keys = new MapReader(root, problems);
        if (keys.Whole("rig", true) is { } version && version != KnownVersion)
            problems.Error("version", keys.MarkOf("rig"), $"this rig file is of version {version}; version {KnownVersion} is known", $"write 'rig: {KnownVersion}'");
        string name = keys.Text("name") ?? "Rig";
        Dictionary<string, DeviceDefinition> devices = ReadDevices(keys.Map("devices", true), problems);
        foreach (var shared in devices.Values.Where(d => d.Settings.Line is Lines.SerialAddress).GroupBy(d => ((Lines.SerialAddress)d.Settings.Line!).Port).Where(g => g.Count() > 1))
        {
            string names = string.Join(" and ", shared.Select(d => d.Name));
            problems.Error("double-port", keys.MarkOf("devices"), $"{names} use the same port {shared.Key}", "make one device of them; for Modbus give each channel its 'unit'");
        }

        var reader = new ChannelReader(model, devices, problems);
        List<OutputDefinition> outputs = [.. Channels(keys.Map("outputs"), problems).Select(reader.Output).OfType<OutputDefinition>()];
        List<InputDefinition> inputs = [.. Channels(keys.Map("inputs"), problems).Select(reader.Input).OfType<InputDefinition>()];
        keys.Done();
        CheckPairs(outputs, inputs, problems);
        return problems.HasErrors ? null : new(name, [.. devices.Values], outputs, inputs);
    }

    private static Dictionary<string, DeviceDefinition> ReadDevices(SheetMap? map, ProblemList problems)
    {
        var devices = new Dictionary<string, DeviceDefinition>(StringComparer.Ordinal);
        foreach (SheetEntry entry in map?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is not { } inner) continue;
            var keys = new MapReader(inner, problems);
            string? kind = keys.Word("kind", [.. RigDrivers.All.Select(d => d.Kind)], true);
            if (RigDrivers.All.FirstOrDefault(d => d.Kind == kind) is not { } driver) continue;
            devices[entry.Key] = new(driver, driver.ReadDevice(entry.Key, keys));
            keys.Done();
        }

        return devices;
    }

    private static IEnumerable<(SheetEntry Entry, MapReader Keys)> Channels(SheetMap? map, ProblemList problems)
    {
        foreach (SheetEntry entry in map?.Entries ?? [])
        {
            if (ValueReader.Map(entry.Value, entry.Key, problems) is { } inner) yield return (entry, new MapReader(inner, problems));
        }
    }

    /// <summary>No name twice, nothing driven by two outputs, no point of a device used twice.</summary>
    private static void CheckPairs(List<OutputDefinition> outputs, List<InputDefinition> inputs, ProblemList problems)
    {
        foreach (var pair in outputs.Cast<ChannelDefinition>().Concat(inputs).GroupBy(c => c.Name, StringComparer.Ordinal).Where(g => g.Count() > 1))
            problems.Error("double-name", pair.Last().At, $"two channels are called '{pair.Key}'", "give each a name of its own", pair.First().At);
        foreach (var pair in outputs.Where(o => o.Wired.Role != OutputRole.Supply).GroupBy(o => o.Wired.Name, StringComparer.Ordinal).Where(g => g.Count() > 1))
            problems.Error("double-wire", pair.Last().At, $"two outputs are wired to {pair.Key}", "wire one of them elsewhere, or take it out", pair.First().At);
        var used = outputs.SelectMany(o => o.Points.Select(p => (o.Device, Point: p, o.At))).Concat(inputs.Select(i => (i.Device, i.Point, i.At)));
        foreach (var pair in used.Where(u => u.Point is not Virtual.VirtualPoint).GroupBy(u => (u.Device, u.Point)).Where(g => g.Count() > 1))
            problems.Error("double-point", pair.Last().At, $"{pair.Key.Device} {pair.Key.Point} is used twice", "is one of the numbers wrong?", pair.First().At);
    }
}
