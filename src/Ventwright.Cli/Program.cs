using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

var problems = new ProblemList();
UnitModel? model = SheetFile.Load(args[0], problems);
foreach (Problem p in problems.Sorted.Take(40)) Console.WriteLine(p);
if (model is null) return 2;
Console.WriteLine($"{model.Parts.Length} parts {model.Nets.Length} nets {model.Electric.Length} el {model.Variables.Length} vars {model.Faults.Length} faults {model.Tolerances.Length} tol {model.Points.Length} points");
var sim = new Simulator(model);
if (args.Length > 1 && args[1] == "study")
{
    var watch = System.Diagnostics.Stopwatch.StartNew();
    var study = new Ventwright.Bench.InjectionStudy(sim, 1);
    foreach (var c in study.Run(int.Parse(args[2], System.Globalization.CultureInfo.InvariantCulture), int.Parse(args[3], System.Globalization.CultureInfo.InvariantCulture)))
        Console.WriteLine($"{watch.Elapsed.TotalSeconds:0.0} {string.Join("+", c.Truth)} found {c.Found} p {c.Probability:0.00} readings {c.Readings} min {c.Minutes:0.0}");
    return 0;
}
foreach (string a in args.Skip(1))
{
    Setting? s = Setting.TryMake(model, a.Split(';').Where(x => x.Length > 0).Select(x => (x.Split('=')[0], x.Split('=')[1])), out string? bad);
    if (s is null) { Console.WriteLine(bad); continue; }
    var sw = System.Diagnostics.Stopwatch.StartNew();
    Settled r = sim.Settle(s, []);
    for (int i = 0; i < 3000; i++) r = sim.Settle(s, []);
    Console.WriteLine($"== {a}: {r.Verdict} {r.Note} {sw.Elapsed.TotalMilliseconds / 3001:0.000} ms res {r.Residual:e1}");
    foreach (Point p in model.Points.Where(p => p.When == PointState.Running && p.What.Kind is not (ObservableKind.Volts)))
    {
        Shown sh = Readings.Read(sim, s, [], r, p.What);
        Console.Write($"{p.What}={(sh.Word ?? sh.Value.ToString("g4", System.Globalization.CultureInfo.InvariantCulture))} ");
    }
    Console.WriteLine();
}
return 0;
