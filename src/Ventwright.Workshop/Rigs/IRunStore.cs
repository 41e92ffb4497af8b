using Ventwright.Rig.Running;

namespace Ventwright.Workshop.Rigs;

/// <summary>How a run of a rig began, as it is kept.</summary>
/// <param name="Session">Id of the session that it belongs to.</param>
/// <param name="Rig">Name of the rig.</param>
/// <param name="Unit">What it was wired to, in words: the real unit, or the simulated one with its fault.</param>
/// <param name="What">What was played, in words: the scenario, or that values were held.</param>
/// <param name="Started">When.</param>
/// <param name="By">Who started it.</param>
/// <param name="Heads">Heads of the columns of its samples (<see cref="RunTable"/>).</param>
/// <param name="Drive">What the drive was about, so that a sound unit can make it too; null where it was none with the car, or was kept before this was.</param>
public sealed record RigRunStart(string Session, string Rig, string Unit, string What, DateTimeOffset Started, string By, IReadOnlyList<string> Heads, RunDrive? Drive = null);

/// <summary>How a run of a rig ended, as it is kept.</summary>
/// <param name="Ended">When.</param>
/// <param name="Why">Why, in words.</param>
/// <param name="IsFault">Whether it ended because something went wrong.</param>
/// <param name="Outputs">What state the outputs were left in, in words.</param>
/// <param name="Statistics">How well it kept its time.</param>
/// <param name="Notes">What limits held back, in words.</param>
public sealed record RigRunEnd(DateTimeOffset Ended, string Why, bool IsFault, string Outputs, RunStatistics Statistics, IReadOnlyList<string> Notes)
{
    /// <summary>The end of a run from its report.</summary>
    public static RigRunEnd Of(RunReport report, DateTimeOffset now) => new(now, report.Why, report.IsFault, report.Safe.ToString(), report.Statistics, report.Notes);
}

/// <summary>A run of a rig as it is kept.</summary>
/// <param name="Number">Its number in the store.</param>
/// <param name="Start">How it began.</param>
/// <param name="End">How it ended; null while it is under way, and for ever where the program was ended while it ran.</param>
/// <param name="Samples">Number of samples kept.</param>
public sealed record RigRunRecord(long Number, RigRunStart Start, RigRunEnd? End, int Samples);

/// <summary>Keeps runs of rigs with their samples. What a call has returned is on disk. Safe to use from several threads.</summary>
public interface IRunStore
{
    /// <summary>Keeps that a run began.</summary>
    /// <returns>Its number.</returns>
    /// <exception cref="RefusedException">There is no such session.</exception>
    long BeginRun(RigRunStart start);

    /// <summary>Keeps samples of a run, in one go.</summary>
    /// <param name="run">Number of the run.</param>
    /// <param name="first">Number of the first of them within the run, from 1.</param>
    /// <param name="rows">Cells, one for each head.</param>
    void AddSamples(long run, int first, IReadOnlyList<IReadOnlyList<string>> rows);

    /// <summary>Keeps how a run ended.</summary>
    void EndRun(long run, RigRunEnd end);

    /// <summary>Runs of a session, the latest first.</summary>
    IReadOnlyList<RigRunRecord> Runs(string session);

    /// <summary>A run by its number, or null.</summary>
    RigRunRecord? FindRun(long run);

    /// <summary>Samples of a run by number.</summary>
    IReadOnlyList<IReadOnlyList<string>> Samples(long run);
}
