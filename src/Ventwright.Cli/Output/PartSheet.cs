using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Workshop;

namespace Ventwright.Cli.Output;

/// <summary>All about one part of a unit.</summary>
internal sealed class PartSheet(UnitModel model, int part)
{
    private readonly Dimension[] _units = ParameterUnits.Of(model);

    private PartInfo Info => model.Parts[part];

    private Place Place => model.Places[Info.Place];

    private IEnumerable<Fault> Faults => model.Faults.Where(f => f.Part == part).OrderByDescending(f => f.Weight);

    private IEnumerable<Point> Points => model.Points.Where(p => p.Part == part);

    /// <summary>Writes it for people.</summary>
    public void Write(UnitSystem units)
    {
        Screen.Line(Info.Name == Info.Id ? $"{Info.Id}, {Info.Kind}" : $"{Info.Id}: {Info.Name}, {Info.Kind}");
        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"place: {Place.Name}, {Place.Minutes} min{(Place.Opens is null ? "" : $", opens {Place.Opens}")}"));
        if (Place.Caution is not null) Screen.Line($"caution: {Place.Caution}");
        if (Nodes().Length > 0) Screen.Line($"joins: {string.Join(", ", Nodes())}");
        foreach (string law in Laws.OfPart(model, part)) Screen.Line($"  {law}");
        int[] parameters = Parameters();
        if (parameters.Length > 0) Screen.Table(["quantity", "value", "tolerance"], parameters.Select(p => (string[])[Short(p), Value(p, units), Tolerance(p, units)]));
        if (Faults.Any()) Screen.Table(["fault", "weight", "symptom"], Faults.Select(f => (string[])[f.Id, Plain(f.Weight), f.Symptom]));
        if (Points.Any()) Screen.Table(["where to look", "place", "when", "minutes"], Points.Select(p => (string[])[p.What.ToString(), model.Places[p.Place].Name, When(p), Plain(p.Minutes)]));
    }

    /// <summary>It as other programs read it. Values are SI numbers with their unit; text has them as people read them.</summary>
    public object Json(UnitSystem units) => new
    {
        V = 1,
        Info.Id,
        Info.Name,
        Info.Kind,
        Place = new { Place.Name, Place.Minutes, Place.Opens, Place.Caution },
        Joins = Nodes(),
        Laws = Laws.OfPart(model, part),
        Parameters = Parameters().Select(p => new
        {
            Name = Short(p),
            Value = Output.Json.Number(QuantityText.ToUnit(model.Parameters[p], _units[p], units)),
            Unit = QuantityText.Unit(_units[p], units),
            Text = Value(p, units),
            Tolerance = Tolerance(p, units),
        }),
        Faults = Faults.Select(f => new { f.Id, Weight = Output.Json.Number(f.Weight), f.Symptom, f.CarOnly, f.CommonCause, Intermittent = f.IntermittentShare > 0 }),
        Points = Points.Select(p => new { At = p.What.ToString(), Place = model.Places[p.Place].Name, When = When(p), p.Minutes }),
    };

    private string[] Nodes()
    {
        IEnumerable<string> nets = model.Electric.Where(b => b.Part == part).SelectMany(b => (int[])[b.A, b.B, b.Control]).Where(n => n >= 0).Select(n => model.Nets[n]);
        IEnumerable<string> hoses = model.Vacuum.Where(b => b.Part == part).SelectMany(b => (int[])[b.A, b.B]).Select(h => model.Hoses[h]);
        IEnumerable<string> held = model.VacuumSources.Where(s => s.Part == part).Select(s => model.Hoses[s.Hose]);
        IEnumerable<string> spaces = model.Air.Where(b => b.Part == part).SelectMany(b => (int[])[b.A, b.B]).Select(s => model.Spaces[s]);
        return [.. nets.Concat(hoses).Concat(held).Concat(spaces).Distinct()];
    }

    private int[] Parameters() =>
        [.. Enumerable.Range(0, model.Parameters.Length).Where(p => model.ParameterNames[p].StartsWith(Info.Id + " ", StringComparison.Ordinal) && !double.IsNaN(model.Parameters[p]))];

    private string Short(int parameter) => model.ParameterNames[parameter][(Info.Id.Length + 1)..];

    private string Value(int parameter, UnitSystem units) =>
        double.IsInfinity(model.Parameters[parameter]) ? "none" : ReadingWords.Of(model.Parameters[parameter], _units[parameter], units);

    private string Tolerance(int parameter, UnitSystem units)
    {
        Tolerance? found = Array.Find(model.Tolerances, t => t.Parameter == parameter);
        if (found is null) return "";
        if (found.Relative) return $"{Plain(found.Amount * 100)} %";
        return ReadingWords.Of(found.Amount, _units[parameter] == Dimension.Temperature ? Dimension.TemperatureDifference : _units[parameter], units);
    }

    private static string Plain(double number) => number.ToString("G4", CultureInfo.InvariantCulture);

    private static string When(Point point) => point.When switch
    {
        PointState.Running => "running",
        PointState.Dead => "supply off",
        PointState.HandPump => "alone on a hand pump",
        _ => "alone with direct supply",
    };
}
