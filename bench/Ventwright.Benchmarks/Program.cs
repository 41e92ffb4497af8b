using System.Globalization;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using Ventwright.Benchmarks;

if (args is ["spice", ..])
{
    return SpiceRace.Run(args.Length > 1 && int.TryParse(args[1], CultureInfo.InvariantCulture, out int rounds) ? rounds : SpiceRace.UsualRounds);
}

// In one process: the sheets lie beside the solution, and nothing is restored or built anew for each benchmark.
IConfig config = DefaultConfig.Instance.AddJob(Job.ShortRun.WithToolchain(InProcessEmitToolchain.Instance));
BenchmarkSwitcher.FromAssembly(typeof(Unit).Assembly).Run(args, config);
return 0;
