using Microsoft.AspNetCore.Components;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Web.Pages;

/// <summary>A page that shows one session and follows its changes, whoever makes them.</summary>
public abstract class SessionPage : ComponentBase, IDisposable
{
    private UnitOnSheet? _unit;

    /// <summary>Id of the session, from the address.</summary>
    [Parameter] public string Id { get; set; } = "";

    /// <summary>What the person chose for this browser.</summary>
    [CascadingParameter] public Preferences Preferences { get; set; } = new();

    /// <summary>The open sessions.</summary>
    [Inject] public required SessionDesk Desk { get; set; }

    /// <summary>For loading the page again when the session is tied to another sheet.</summary>
    [Inject] public required NavigationManager Addresses { get; set; }

    /// <summary>The session, or null when it cannot be opened.</summary>
    protected OpenSession? Session { get; private set; }

    /// <summary>Whether the page is drawn from the unit and has to be loaded again when the session moves to another version of its sheet.</summary>
    protected virtual bool HangsOnUnit => true;

    /// <summary>Why the session cannot be opened, or null.</summary>
    protected string? Problem { get; private set; }

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        if (Session is not null && string.Equals(Session.Record.Id, Id, StringComparison.OrdinalIgnoreCase)) return;
        Leave();
        try
        {
            Session = Desk.Open(Id);
            Session.Changed += OnChanged;
            Session.Refresh();
            Session.WakeFindings();
            _unit = Session.Unit;
            Problem = null;
        }
        catch (Exception e) when (e is RefusedException or StoreException)
        {
            (Session, Problem) = (null, Sentence.Of(e.Message));
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Leaving();
        Leave();
        GC.SuppressFinalize(this);
    }

    /// <summary>Called when the page is left.</summary>
    protected virtual void Leaving()
    {
    }

    private void Leave()
    {
        if (Session is not null) Session.Changed -= OnChanged;
        Session = null;
    }

    private void OnChanged() => _ = InvokeAsync(() =>
    {
        if (HangsOnUnit && Session is { } session && session.Unit != _unit) Addresses.Refresh(forceReload: true);
        else StateHasChanged();
    });
}
