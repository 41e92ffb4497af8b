using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <content>How the bench stands, and which checks are offered.</content>
public sealed partial class OpenSession
{
    /// <summary>How the unit stands now: the panel as last set or as the last reading had it, with what is on the bench.</summary>
    public Setting Stands => SettingWords.MakeOfKnown(Unit.Model, [.. PanelWords(), .. OnBench]);

    /// <summary>Parts that are off the bench and nets that are fed directly, as a setting names them.</summary>
    public IReadOnlyList<(string Name, string Value)> OnBench
    {
        get
        {
            var words = new SortedDictionary<string, string>(StringComparer.Ordinal);
            foreach (BenchBody body in Entries.Where(e => e is { Kind: SessionEventKind.Bench, Undone: false }).Select(WrittenEntries.Body<BenchBody>))
            {
                if (body.Value is null) words.Remove(body.Name);
                else words[body.Name] = body.Value;
            }

            return [.. words.Select(w => (w.Key, w.Value))];
        }
    }

    /// <summary>Checks to make next, best first, without those that were passed over or cannot be reached.</summary>
    public IReadOnlyList<Advice> Next
    {
        get
        {
            if (Findings is not { } found) return [];
            long last = Evidence is [.., { } latest] ? latest.Number : 0;
            var standing = Entries.Where(e => !e.Undone).ToArray();
            var unreachable = standing.Where(e => e.Kind == SessionEventKind.Unreachable).Select(e => WrittenEntries.Body<CheckBody>(e).At).ToHashSet(StringComparer.Ordinal);
            var skipped = standing.Where(e => e.Kind == SessionEventKind.Skipped && e.Number > last).Select(e => KeyOf(WrittenEntries.Body<CheckBody>(e))).ToHashSet(StringComparer.Ordinal);
            var absent = OnBench.Where(w => w.Name.StartsWith("absent ", StringComparison.Ordinal)).Select(w => w.Name["absent ".Length..]).ToHashSet(StringComparer.Ordinal);
            return [.. found.Findings.Next.Select(a => Without(a, look => unreachable.Contains(look.ToString()) || IsAbsent(look, absent))).OfType<Advice>()
                .Where(a => !skipped.Contains($"{a.Setting.Key} {a.What}"))];
        }
    }

    /// <summary>Boxes of the function chart that are ticked, as setting key and check.</summary>
    public IReadOnlySet<(string Setting, string At)> Ticks
    {
        get
        {
            HashSet<(string, string)> ticks = [];
            foreach (TickBody body in Entries.Where(e => e is { Kind: SessionEventKind.Ticked, Undone: false }).Select(WrittenEntries.Body<TickBody>))
            {
                (string, string) box = (SettingWords.KeyOf(Unit.Model, body.Set), body.At);
                if (body.Ticked) ticks.Add(box);
                else ticks.Remove(box);
            }

            return ticks;
        }
    }

    /// <summary>Sets one thing of the panel: a control, a condition, supply, pump, a stand-in, something unplugged.</summary>
    /// <param name="name">Name as a setting has it.</param>
    /// <param name="value">Its text, or null to let it stand as on the sheet.</param>
    /// <param name="by">Who did it.</param>
    /// <exception cref="RefusedException">It does not fit the unit; nothing was kept.</exception>
    public SessionEvent Turn(string name, string? value, string? by = null)
    {
        var words = SettingWords.Pairs(SettingWords.MakeOfKnown(Unit.Model, PanelWords().Where(w => w.Name != name))).ToList();
        if (value is not null) words.Add((name, value));
        return StandAs(words, by);
    }

    /// <summary>Sets the whole panel.</summary>
    /// <exception cref="RefusedException">It does not fit the unit; nothing was kept.</exception>
    public SessionEvent StandAs(IEnumerable<(string Name, string Value)> words, string? by = null) =>
        Keep(SessionEventKind.Panel, new PanelBody(Words(SettingWords.Make(Unit.Model, words.Where(w => !IsBenchWord(w.Name))))), by);

    /// <summary>Puts a part on the bench or takes it off.</summary>
    /// <exception cref="RefusedException">There is no such part.</exception>
    public SessionEvent SetAbsent(string part, bool absent, string? by = null) => SetBench($"absent {part}", absent ? "yes" : null, by);

    /// <summary>Feeds a net directly, or takes the feed off.</summary>
    /// <param name="net">The net.</param>
    /// <param name="volts">Such as <c>12 V</c>, or null to take the feed off.</param>
    /// <param name="by">Who did it.</param>
    /// <exception cref="RefusedException">There is no such net, or the volts make no sense.</exception>
    public SessionEvent Feed(string net, string? volts, string? by = null) => SetBench($"feed {net}", volts, by);

    /// <summary>Puts something off the bench, unplugs or feeds it, in the words of a setting: <c>absent X</c>, <c>unplug X</c>, <c>feed net</c>.</summary>
    /// <exception cref="RefusedException">It does not fit the unit; nothing was kept.</exception>
    public SessionEvent Place(string name, string value, string? by = null) => SetBench(name, value, by);

    /// <summary>Keeps that a check was passed over: until the next reading, or for good because it cannot be reached.</summary>
    public SessionEvent Pass(Setting setting, Observable what, bool unreachable, string? by = null) =>
        Keep(unreachable ? SessionEventKind.Unreachable : SessionEventKind.Skipped, new CheckBody(Words(setting), what.ToString()), by);

    /// <summary>Ticks or clears a box of the function chart.</summary>
    public SessionEvent Tick(Setting setting, Observable what, bool ticked, string? by = null) =>
        Keep(SessionEventKind.Ticked, new TickBody(Words(setting), what.ToString(), ticked), by);

    /// <summary>A suggested setting on the bench as it is: with the parts that are off it and the nets that are fed.</summary>
    public Setting OnThisBench(Setting setting) => SettingWords.MakeOfKnown(Unit.Model, [.. SettingWords.Pairs(setting), .. OnBench]);

    private static bool IsBenchWord(string name) => name.StartsWith("absent ", StringComparison.Ordinal) || name.StartsWith("feed ", StringComparison.Ordinal);

    private IEnumerable<(string Name, string Value)> PanelWords()
    {
        SessionEvent? last = Entries.LastOrDefault(e => !e.Undone && e.Kind is (SessionEventKind.Panel or SessionEventKind.Reading));
        Dictionary<string, string> set = last is null ? []
            : last.Kind == SessionEventKind.Panel ? WrittenEntries.Body<PanelBody>(last).Set : WrittenEntries.Body<ReadingBody>(last).Set;
        return set.Where(w => !IsBenchWord(w.Key) && !w.Key.StartsWith("wiggle ", StringComparison.Ordinal) && !Setting.IsAfter(w.Key)).Select(w => (w.Key, w.Value));
    }

    /// <summary>The advice without some of what it says to look at; null when nothing is left.</summary>
    private Advice? Without(Advice advice, Func<Observable, bool> gone)
    {
        Observable[] left = [.. advice.Looks.Where(look => !gone(look))];
        if (left.Length == 0) return null;
        Place? place = left[0] == advice.What ? null : CheckTitles.PlaceOf(Unit.Model, left[0]);
        return advice with { What = left[0], Also = left[1..], Place = place ?? advice.Place };
    }

    private string KeyOf(CheckBody body) => $"{SettingWords.KeyOf(Unit.Model, body.Set)} {body.At}";

    private bool IsAbsent(Observable what, HashSet<string> absent) =>
        absent.Contains(what.Target) || (CheckTitles.PointOf(Unit.Model, what) is { } point && absent.Contains(Unit.Model.Parts[point.Part].Id));

    private SessionEvent SetBench(string name, string? value, string? by)
    {
        SettingWords.Make(Unit.Model, [(name, value ?? (name.StartsWith("feed ", StringComparison.Ordinal) ? "0 V" : "yes"))]);
        return Keep(SessionEventKind.Bench, new BenchBody(name, value), by);
    }
}
