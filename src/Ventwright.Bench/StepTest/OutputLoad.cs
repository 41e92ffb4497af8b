using Ventwright.Model.Kernel;

namespace Ventwright.Bench.StepTest;

/// <summary>What an output of the module works: the coil, motor, stage or lamp at the end of its wire.</summary>
internal static class OutputLoad
{
    /// <summary>What a wire passes through on its way.</summary>
    private static readonly HashSet<string> Passed = new(StringComparer.Ordinal) { "wire", "connector", "fuse" };

    /// <summary>Name of the load with the output's own name, or the output's name alone where its wire leads nowhere.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="output">The output.</param>
    public static string Name(UnitModel model, ModuleOutput output)
    {
        string pin = model.Parts[output.Part].Name, own = pin.Contains(output.Name, StringComparison.Ordinal) ? pin : $"{pin} ({output.Name})";
        int load = output.Servo >= 0 ? model.Variables[output.Servo].Part : Load(model, output);
        return load < 0 ? own : $"{model.Parts[load].Name} at {output.Name}";
    }

    private static int Load(UnitModel model, ModuleOutput output)
    {
        var reached = new HashSet<int>();
        var open = new Queue<int>(model.Electric.Where(b => b.Part == output.Part).Select(b => b.A).Where(n => n != 0));
        int best = -1;
        while (open.TryDequeue(out int net))
        {
            if (!reached.Add(net)) continue;
            foreach (ElectricBranch branch in model.Electric.Where(b => b.A == net || b.B == net))
            {
                string kind = model.Parts[branch.Part].Kind;
                if (Passed.Contains(kind)) open.Enqueue(branch.A == net ? branch.B : branch.A);
                else if (!kind.StartsWith("module", StringComparison.Ordinal) && branch.Law is not ElectricLaw.Diode && kind is not ("ground-point" or "supply") && best < 0) best = branch.Part;
            }

            foreach (ElectricBranch stage in model.Electric.Where(b => b.Control == net && b.Law == ElectricLaw.Stage)) best = best < 0 ? stage.Part : best;
        }

        return best;
    }
}
