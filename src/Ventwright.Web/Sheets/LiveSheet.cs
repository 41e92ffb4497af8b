using Ventwright.Drawing;
using Ventwright.Model.Editing;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Web.Scene;
using Ventwright.Workshop;

namespace Ventwright.Web.Sheets;

/// <summary>What is known of the text at a moment.</summary>
/// <param name="Text">The text.</param>
/// <param name="Problems">What is wrong with it.</param>
/// <param name="Good">The unit of the last text that was sound, or null before the first.</param>
/// <param name="Drawing">Its drawing as SVG, or null where it cannot be drawn.</param>
/// <param name="Names">Names that the text uses, or the last one that was YAML.</param>
/// <param name="Note">What is to be said about the drawing, or null.</param>
internal sealed record LiveLook(string Text, IReadOnlyList<Problem> Problems, UnitModel? Good, string? Drawing, SheetNames Names, string? Note)
{
    /// <summary>Number of errors.</summary>
    public int Errors => Problems.Count(p => p.Severity == Severity.Error);
}

/// <summary>A sheet while it is written: every text is kept first, then checked and drawn in the background, the newest only.</summary>
internal sealed class LiveSheet(SheetVersions sheets, string id, Action changed)
{
    private const int MostPartsDrawn = 500;
    private readonly Lock _lock = new();
    private string? _next, _lastSound;
    private bool _isRunning;

    /// <summary>The latest look; it may be that of an earlier text while <see cref="IsChecking"/>.</summary>
    public LiveLook Look { get; private set; } = new("", [], null, null, SheetNames.None, null);

    /// <summary>Whether a newer text is being checked.</summary>
    public bool IsChecking { get; private set; }

    /// <summary>Keeps a text as the draft and has it checked.</summary>
    /// <returns>When it was put on disk.</returns>
    /// <exception cref="RefusedException">It is larger than a sheet may be.</exception>
    public DateTimeOffset Type(string text)
    {
        DateTimeOffset kept = sheets.Keep(id, text).Kept;
        Check(text);
        return kept;
    }

    /// <summary>Has the first text checked.</summary>
    /// <param name="text">The text.</param>
    /// <param name="lastSound">An earlier text without errors, which is drawn while the first one has some; null where there is none.</param>
    public void Start(string text, string? lastSound)
    {
        _lastSound = lastSound;
        Check(text);
    }

    private void Check(string text)
    {
        lock (_lock)
        {
            _next = text;
            IsChecking = true;
            if (_isRunning) return;
            _isRunning = true;
        }

        _ = Task.Run(Run);
    }

    private void Run()
    {
        while (Next() is { } text)
        {
            Look = Newest(text);
            lock (_lock) IsChecking = _next is not null;
            changed();
        }
    }

    private string? Next()
    {
        lock (_lock)
        {
            (string? text, _next) = (_next, null);
            _isRunning = text is not null;
            return text;
        }
    }

    private LiveLook Newest(string text)
    {
        LiveLook look = LookAt(text);
        (string? sound, _lastSound) = (_lastSound, null);
        if (look.Good is not null || sound is null) return look;
        Look = LookAt(sound);
        return LookAt(text);
    }

    private LiveLook LookAt(string text)
    {
        try
        {
            SheetReading reading = SheetVersions.Read(id, text);
            SheetNames names = SheetNames.Of(id, text) ?? Look.Names;
            if (reading.Model is not { } model) return Look with { Text = text, Problems = reading.Problems, Names = names, Note = Look.Drawing is null ? null : "The drawing is that of the last text without errors." };
            bool isLarge = model.Parts.Length > MostPartsDrawn;
            return new(text, reading.Problems, model, isLarge ? null : Draw(model), names, isLarge ? $"With {model.Parts.Length} parts the unit is not drawn while you type." : null);
        }
#pragma warning disable CA1031 // Whatever a text does to the compiler or the drawing, the person goes on writing and is told.
        catch (Exception e)
#pragma warning restore CA1031
        {
            return Look with { Text = text, Problems = [new("not-checked", Mark.WholeFile(id), $"this text could not be checked: {e.Message}", "it is kept all the same")] };
        }
    }

    private static string Draw(UnitModel model)
    {
        UnitLayout layout = UnitScene.Of(model).Layout;
        return SvgDrawing.Write(layout, DrawingState.Of(new Simulator(model), Setting.Default(model)));
    }
}
