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
foreach (string a in args.Skip(1))
{
    Setting? s = Setting.TryMake(model, a.Split(';').Where(x => x.Length > 0).Select(x => (x.Split('=')[0], x.Split('=')[1])), out string? bad);
    if (s is null) { Console.WriteLine(bad); continue; }
    var sw = System.Diagnostics.Stopwatch.StartNew();
    Settled r = sim.Settle(s, []);
    for (int i = 0; i < 200; i++) r = sim.Settle(s, []);
    Console.WriteLine($"== {a}: {r.Verdict} {r.Note} {sw.Elapsed.TotalMilliseconds / 201:0.000} ms res {r.Residual:e1}");
    foreach (Point p in model.Points.Where(p => p.When == PointState.Running && p.What.Kind is not (ObservableKind.Volts)))
    {
        Shown sh = Readings.Read(sim, s, [], r, p.What);
        Console.Write($"{p.What}={(sh.Word ?? sh.Value.ToString("g4", System.Globalization.CultureInfo.InvariantCulture))} ");
    }
    Console.WriteLine();
}
return 0;
