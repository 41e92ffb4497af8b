namespace Ventwright.Rig.Running;

/// <summary>How well a run kept its time.</summary>
/// <param name="Rounds">Rounds made.</param>
/// <param name="Missed">Moments at which a round should have begun, but the one before was still under way.</param>
/// <param name="Seconds">Time from the first round to the last.</param>
/// <param name="LatestS">Largest delay of a beginning behind its moment, s.</param>
/// <param name="JitterS">Standard deviation of the delays, s.</param>
/// <param name="MeanWorkS">Mean time that a round took, s.</param>
/// <param name="LongestWorkS">Longest time that a round took, s.</param>
public sealed record RunStatistics(int Rounds, int Missed, double Seconds, double LatestS, double JitterS, double MeanWorkS, double LongestWorkS)
{
    /// <summary>Rounds in a second; 0 before the second round.</summary>
    public double RateHz => Seconds > 0 ? (Rounds - 1) / Seconds : 0;
}

/// <summary>Collects the times of rounds; the spread by Welford's sums (Technometrics 4, 1962).</summary>
internal sealed class RoundTimes(double periodS)
{
    private int _rounds, _missed;
    private double _first, _last, _mean, _squares, _latest, _work, _longest;

    /// <summary>When the next round is due, s on the clock of the caller.</summary>
    public double NextS { get; private set; } = double.NaN;

    /// <summary>What was collected.</summary>
    public RunStatistics Statistics => new(
        _rounds, _missed, _last - _first, _latest, _rounds > 1 ? Math.Sqrt(_squares / (_rounds - 1)) : 0, _rounds > 0 ? _work / _rounds : 0, _longest);

    /// <summary>Takes a round: when it began and when it ended, s. Moments that passed meanwhile are missed and not made up for.</summary>
    public void Take(double beganS, double endedS)
    {
        if (double.IsNaN(NextS)) (NextS, _first) = (beganS, beganS);
        double late = Math.Max(0, beganS - NextS), before = _mean;
        _rounds++;
        _last = beganS;
        _mean += (late - _mean) / _rounds;
        _squares += (late - before) * (late - _mean);
        _latest = Math.Max(_latest, late);
        _work += endedS - beganS;
        _longest = Math.Max(_longest, endedS - beganS);
        NextS += periodS;
        while (NextS < endedS)
        {
            NextS += periodS;
            _missed++;
        }
    }
}
