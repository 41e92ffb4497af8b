using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Draws the faults that a study puts into its units, by the weights on the sheet.</summary>
internal sealed class StudyTruths
{
    private const int MostTries = 200;
    private readonly Simulator _simulator;
    private readonly Setting[] _settings;
    private readonly Fault[] _lasting, _fleeting;

    /// <summary>Gathers the faults that some check can show.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="settings">Settings in which masks and odd parts are looked for.</param>
    /// <param name="shows">Whether any check on the bench shows a fault, by index.</param>
    public StudyTruths(Simulator simulator, IEnumerable<Setting> settings, Func<int, bool> shows)
    {
        (_simulator, _settings) = (simulator, [.. settings]);
        Fault[] shown = [.. simulator.Model.Faults.Where((f, i) => !f.CarOnly && shows(i))];
        _lasting = [.. shown.Where(f => f.IntermittentShare == 0)];
        _fleeting = [.. shown.Where(f => f.IntermittentShare > 0)];
    }

    /// <summary>Faults of one case.</summary>
    public Fault[] Draw(StudyFaults kind, Random random)
    {
        switch (kind)
        {
            case StudyFaults.Single:
                return [Pick(_lasting, random)];
            case StudyFaults.Intermittent:
                return [Pick(_fleeting, random)];
            case StudyFaults.OffSheet:
                return [FarOff(random)];
            case StudyFaults.Masked:
                for (int i = 0; i < MostTries; i++)
                {
                    Fault[] pair = Pair(random);
                    if (Masks(pair[0], pair[1]) || Masks(pair[1], pair[0])) return pair;
                }

                return Pair(random);
            default:
                return Pair(random);
        }
    }

    private Fault[] Pair(Random random)
    {
        Fault first = Pick(_lasting, random), second;
        do second = Pick(_lasting, random);
        while (second.Family == first.Family);
        return [first, second];
    }

    /// <summary>Whether there is a setting in which the second alone shows, but beside the first changes nothing.</summary>
    private bool Masks(Fault first, Fault second) => _settings.Any(setting =>
    {
        Observable[] looks = [.. _simulator.Model.Points.Where(p => p.When == PointState.Running).Select(p => p.What).Distinct()];
        var readout = new Readout(_simulator, looks);
        Shown[] Show(params Fault[] faults) => readout.Read(setting, faults, _simulator.Settle(setting, faults));
        Shown[] sound = Show(), alone = Show(second);
        if (!Differ(sound, alone)) return false;
        return !Differ(Show(first), Show(first, second));
    });

    private static bool Differ(Shown[] a, Shown[] b) => a.Where((s, i) => s.Unsteady != b[i].Unsteady || Math.Abs(s.Value - b[i].Value) > 0.02 * (1 + Math.Abs(s.Value))).Any();

    /// <summary>A toleranced parameter at a third or at three times its value: shown by some check, but on no list of faults.</summary>
    private Fault FarOff(Random random)
    {
        UnitModel model = _simulator.Model;
        for (int i = 0; i < MostTries; i++)
        {
            Tolerance t = model.Tolerances[random.Next(model.Tolerances.Length)];
            if (t.Part < 0 || t.Shared is not null || !t.Relative) continue;
            double factor = random.Next(2) == 0 ? 1.0 / 3 : 3;
            var fault = new Fault(
                $"{model.ParameterNames[t.Parameter]} x {factor:0.00}", "off-sheet", t.Part, "far off", 1, "", [new Edit(t.Parameter, EditKind.Scale, factor)], []);
            if (_settings.Any(s => Shows(s, fault))) return fault;
        }

        return Pick(_lasting, random);
    }

    private bool Shows(Setting setting, Fault fault)
    {
        var readout = new Readout(_simulator, [.. _simulator.Model.Points.Where(p => p.When == PointState.Running).Select(p => p.What).Distinct()]);
        return Differ(readout.Read(setting, [], _simulator.Settle(setting, [])), readout.Read(setting, [fault], _simulator.Settle(setting, [fault])));
    }

    private static Fault Pick(Fault[] possible, Random random)
    {
        double at = random.NextDouble() * possible.Sum(f => f.Weight);
        foreach (Fault fault in possible)
        {
            at -= fault.Weight;
            if (at <= 0) return fault;
        }

        return possible[^1];
    }
}
