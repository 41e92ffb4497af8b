using Ventwright.Rig.Channels;

namespace Ventwright.Rig.Running;

/// <summary>What a run is doing.</summary>
public enum RunState
{
    /// <summary>The surroundings go on and set the outputs.</summary>
    Running,

    /// <summary>Time stands still for the surroundings; outputs stay, inputs are read and their limits watched.</summary>
    Paused,

    /// <summary>As paused, and a person sets the outputs.</summary>
    Manual,

    /// <summary>Over; all outputs are in their safe state.</summary>
    Stopped,
}

/// <summary>A round of a run.</summary>
/// <param name="Time">Wall clock.</param>
/// <param name="Seconds">Since the run began.</param>
/// <param name="State">What the run was doing.</param>
/// <param name="Given">Outputs by channel name, SI.</param>
/// <param name="Measured">Inputs by channel name, SI.</param>
/// <param name="Shows">What the surroundings show.</param>
/// <param name="Notes">What was held back by limits in this round, in words.</param>
public sealed record RunSample(
    DateTimeOffset Time, double Seconds, RunState State, IReadOnlyDictionary<string, double> Given, IReadOnlyDictionary<string, double> Measured,
    IReadOnlyList<ShownValue> Shows, IReadOnlyList<string> Notes)
{
    /// <summary>How the panel stood, as name and text: as the run was told, or as the surroundings want it.</summary>
    public IReadOnlyList<(string Name, string Value)> Panel { get; init; } = [];
}

/// <summary>How a run went.</summary>
/// <param name="Why">Why it ended, in words.</param>
/// <param name="IsFault">Whether it ended because something went wrong.</param>
/// <param name="Safe">What came of the safe state.</param>
/// <param name="Statistics">How well it kept its time.</param>
/// <param name="Notes">Outputs that limits held back, each once, in words.</param>
public sealed record RunReport(string Why, bool IsFault, SafeReport Safe, RunStatistics Statistics, IReadOnlyList<string> Notes);

/// <summary>How a run is made.</summary>
public sealed record RunOptions
{
    /// <summary>Time between rounds; 0.2 s unless told.</summary>
    public TimeSpan Period { get; init; } = TimeSpan.FromSeconds(0.2);

    /// <summary>The rig is stopped when no round has ended for so long; 5 s unless told. Longer than the devices' own timeouts.</summary>
    public TimeSpan WatchdogAfter { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>The run ends after so long; never unless told.</summary>
    public TimeSpan? EndsAfter { get; init; }

    /// <summary>How the panel stands, as name and text (<c>mode</c>, <c>auto</c>); goes into the log, so that readings taken from it know.</summary>
    public IReadOnlyList<(string Name, string Value)> Panel { get; init; } = [];

    /// <summary>File of the log; none unless told. It must not be there yet.</summary>
    public string? LogPath { get; init; }

    /// <summary>Called after each round, from the first on, on the run's own thread; be quick. None unless told.</summary>
    public Action<RunSample>? Heard { get; init; }
}
