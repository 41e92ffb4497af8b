using Ventwright.Bench.StepTest;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Automatic;

/// <summary>The latest standing readings of a session, found by setting and check: what of the step test is done, whoever entered it and on whichever page.</summary>
public sealed class StepReadings
{
    private readonly OpenSession _session;
    private readonly Dictionary<(string Setting, string At), SessionEvent> _readings = [];

    /// <summary>Looks through the readings as they stand now.</summary>
    public StepReadings(OpenSession session)
    {
        ArgumentNullException.ThrowIfNull(session);
        _session = session;
        foreach (SessionEvent entry in session.Evidence.Where(e => e.Kind == SessionEventKind.Reading))
        {
            ReadingBody body = WrittenEntries.Body<ReadingBody>(entry);
            _readings[(SettingWords.KeyOf(session.Unit.Model, body.Set), body.At)] = entry;
        }
    }

    /// <summary>The setting of a step with the parts that are off the bench and the nets that are fed.</summary>
    public Setting SettingOf(TestStep step) => _session.OnThisBench(step.Setting);

    /// <summary>The reading of a look, or null while it is not made.</summary>
    public SessionEvent? Of(TestStep step, Observable what) =>
        _readings.GetValueOrDefault((SettingOf(step).Key, what.ToString()));

    /// <summary>Whether every look of a step has its reading.</summary>
    public bool IsDone(TestStep step) => step.Looks.All(l => Of(step, l.What) is not null);

    /// <summary>How many looks of a test have their reading.</summary>
    public int Count(AutomaticTest test) => test.Steps.Sum(s => s.Looks.Count(l => Of(s, l.What) is not null));
}
