using Ventwright.Workshop.Rigs;

namespace Ventwright.Web.Rigs;

/// <summary>What the bar with STOP says.</summary>
internal sealed record RigStanding(bool IsConnected, bool IsLive, bool IsAlarm, string Title, string Words, string? Page)
{
    public static RigStanding None { get; } = new(false, false, false, "", "", null);

    public static RigStanding Of(BenchRig rig)
    {
        bool isAlarm = rig.LastStop is { IsSafe: false };
        if (rig.Connected is not { } connected) return isAlarm ? new(false, false, true, "Rig:", rig.LastStop!.ToString(), null) : None;
        string page = $"/bench/{connected.Session.Record.Id}/automatic/rig";
        return rig.Step switch
        {
            RigStep.Running => new(true, true, false, RigWords.Of(rig.State) + ".", $"{connected.Definition.Name} at {connected.UnitWords}: outputs are on.", page),
            RigStep.Live => new(true, true, false, "Checking the wiring.", $"{connected.Definition.Name} at {connected.UnitWords}: supply and pump are on.", page),
            RigStep.Confirmed => new(true, true, false, "Ready.", "Outputs may be switched on.", page),
            _ => new(true, false, isAlarm, "Connected.", rig.LastStop?.ToString() ?? "", page),
        };
    }
}
