namespace Ventwright.Diagnosis;

/// <summary>A fault in one life of its part: from one renewal of the part to the next.</summary>
internal sealed record Atom(int Fault, int Life, int FirstEpoch, int EndEpoch, double LogOdds, int FamilyKey, int CauseKey)
{
    /// <summary>True for the part that is in the unit now.</summary>
    public bool IsCurrent => EndEpoch == int.MaxValue;
}

/// <summary>A reading with everything that does not depend on the hypothesis worked out.</summary>
internal sealed record ReadingView(
    Reading Event, int Check, CheckEntry Entry, int Epoch, MeterAccuracy Meter, int MeterSlot, double Misread, double Broad, bool StartsGroup, bool EndsGroup);

/// <summary>The evidence in an order that does not depend on when the readings came in, and the unknowns that it is about.</summary>
internal sealed class EvidenceView
{
    private EvidenceView(Atom[] atoms, IReadOnlyList<ReadingView> readings, int epochs, int meters)
    {
        Atoms = atoms;
        Readings = readings;
        Epochs = epochs;
        Meters = meters;
        CurrentAtoms = [.. Enumerable.Range(0, atoms.Length).Where(a => atoms[a].IsCurrent).OrderBy(a => atoms[a].Fault)];
    }

    /// <summary>All faults in all lives of their parts; the first life of fault f has index f.</summary>
    public Atom[] Atoms { get; }

    /// <summary>For each fault of the predictor: its atom in the life that its part is in now.</summary>
    public int[] CurrentAtoms { get; }

    /// <summary>Readings by setting, check, epoch and outcome, so that readings of one check lie together.</summary>
    public IReadOnlyList<ReadingView> Readings { get; }

    /// <summary>One more than the number of renewals.</summary>
    public int Epochs { get; }

    /// <summary>Number of different meters.</summary>
    public int Meters { get; }

    public static EvidenceView Of(IFaultPredictor predictor, DiagnosisOptions options, IReadOnlyList<EvidenceEvent> events)
    {
        var timed = new List<(Reading Event, int Epoch)>();
        var renewals = new List<Renewal>();
        var ids = new HashSet<string>(StringComparer.Ordinal);
        foreach (EvidenceEvent e in events)
        {
            if (!ids.Add(e.Id)) throw new ArgumentException($"Two events have the name '{e.Id}'; give each its own.", nameof(events));
            if (e is Renewal renewal) renewals.Add(renewal);
            else if (e is Reading reading) timed.Add((Checked(reading, predictor), renewals.Count));
        }

        Dictionary<int, int> slots = timed.Select(t => Meter(t.Event, predictor).MeterId).Distinct().Order()
            .Select((id, slot) => (id, slot)).ToDictionary(p => p.id, p => p.slot);
        return new([.. ListAtoms(predictor, renewals)], Order(predictor, options, timed, slots), renewals.Count + 1, slots.Count)
        {
            MeterSlots = slots,
        };
    }

    /// <summary>Slot of each meter among the meters used, by its id.</summary>
    public IReadOnlyDictionary<int, int> MeterSlots { get; private init; } = new Dictionary<int, int>();

    /// <summary>Faults that act in an epoch, as indices of the predictor.</summary>
    public FaultSet Acting(FaultSet atoms, int epoch)
    {
        if (Epochs == 1) return atoms;
        return FaultSet.Of(atoms.Where(a => Atoms[a].FirstEpoch <= epoch && epoch < Atoms[a].EndEpoch).Select(a => Atoms[a].Fault));
    }

    /// <summary>Faults that are present in the unit as it stands, as indices of the predictor.</summary>
    public FaultSet Current(FaultSet atoms) => Acting(atoms, Epochs - 1);

    /// <summary>True when two atoms are sizes of one fault in one life of its part.</summary>
    public bool Exclusive(int a, int b) => Atoms[a].FamilyKey == Atoms[b].FamilyKey;

    private static Reading Checked(Reading reading, IFaultPredictor predictor)
    {
        if (reading.Check < 0 || reading.Check >= predictor.Checks.Count)
            throw new ArgumentException($"Reading '{reading.Id}' names check number {reading.Check}, but there are {predictor.Checks.Count} checks.");
        CheckEntry check = predictor.Checks[reading.Check];
        bool fits = reading.Outcome.Kind switch
        {
            OutcomeKind.Number => check.IsNumber && double.IsFinite(reading.Outcome.Value),
            OutcomeKind.Word => !check.IsNumber && reading.Outcome.WordIndex >= 0 && reading.Outcome.WordIndex < check.Words.Count,
            _ => true,
        };
        if (!fits) throw new ArgumentException($"Reading '{reading.Id}' of check '{check.Id}' must be {(check.IsNumber ? "a number" : "one of its words")}.");
        if (!check.IsNumber) return reading;
        if (reading.Outcome.Kind != OutcomeKind.Number) return reading;
        return reading with { Outcome = Outcome.Number(Math.Clamp(reading.Outcome.Value, check.RangeLow, check.RangeHigh)) };
    }

    private static MeterAccuracy Meter(Reading reading, IFaultPredictor predictor) => reading.Meter ?? predictor.Checks[reading.Check].Meter;

    private static List<Atom> ListAtoms(IFaultPredictor predictor, List<Renewal> renewals)
    {
        var families = new Dictionary<(string, int), int>();
        var causes = new Dictionary<string, int>(StringComparer.Ordinal);
        var atoms = new List<Atom>();
        int End(string part, int from)
        {
            int at = renewals.FindIndex(from, r => r.Part == part);
            return at < 0 ? int.MaxValue : at + 1;
        }

        void Add(int f, int first, double factor)
        {
            FaultEntry entry = predictor.Faults[f];
            if (!families.TryGetValue((entry.Family, first), out int family)) families[(entry.Family, first)] = family = families.Count;
            int cause = -1;
            if (first == 0 && entry.CommonCause is { } name && !causes.TryGetValue(name, out cause)) causes[name] = cause = causes.Count;
            atoms.Add(new(f, first, first, End(entry.Part, first), Math.Log(entry.Odds * factor), family, cause));
        }

        for (int f = 0; f < predictor.Faults.Count; f++) Add(f, 0, 1);
        for (int r = 0; r < renewals.Count; r++)
        {
            for (int f = 0; f < predictor.Faults.Count; f++)
            {
                if (predictor.Faults[f].Part == renewals[r].Part) Add(f, r + 1, renewals[r].OddsFactor);
            }
        }

        return atoms;
    }

    private static ReadingView[] Order(
        IFaultPredictor predictor, DiagnosisOptions options, List<(Reading Event, int Epoch)> timed, Dictionary<int, int> slots)
    {
        var sorted = timed
            .OrderBy(t => predictor.Checks[t.Event.Check].Setting).ThenBy(t => t.Event.Check).ThenBy(t => t.Epoch)
            .ThenBy(t => t.Event.Outcome.Kind).ThenBy(t => t.Event.Outcome.Value).ThenBy(t => t.Event.Outcome.WordIndex)
            .ThenBy(t => t.Event.MisreadShare ?? options.MisreadShare).ThenBy(t => Meter(t.Event, predictor).MeterId)
            .ThenBy(t => Meter(t.Event, predictor).Absolute).ToArray();
        var views = new ReadingView[sorted.Length];
        for (int i = 0; i < sorted.Length; i++)
        {
            Reading reading = sorted[i].Event;
            CheckEntry check = predictor.Checks[reading.Check];
            MeterAccuracy meter = Meter(reading, predictor);
            views[i] = new(
                reading,
                reading.Check,
                check,
                sorted[i].Epoch,
                meter,
                slots[meter.MeterId],
                reading.MisreadShare ?? options.MisreadShare,
                OutcomeLaw.Broad(check, reading.Outcome, options),
                i == 0 || sorted[i - 1].Event.Check != reading.Check,
                i == sorted.Length - 1 || sorted[i + 1].Event.Check != reading.Check);
        }

        return views;
    }
}
