using Microsoft.AspNetCore.Components;
using Ventwright.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Web.Rigs;

/// <summary>A part of the rig's page: what all of them have.</summary>
public abstract class RigPart : ComponentBase
{
    /// <summary>The session.</summary>
    [Parameter, EditorRequired] public OpenSession Session { get; set; } = null!;

    /// <summary>What the person chose for this browser.</summary>
    [CascadingParameter] public Preferences Preferences { get; set; } = new();

    /// <summary>The rig of this computer.</summary>
    [Inject] public required BenchRig Rig { get; set; }

    /// <summary>Kept runs.</summary>
    [Inject] public required IRunStore Runs { get; set; }

    /// <summary>Whether something that was asked for is still under way.</summary>
    protected bool IsBusy { get; private set; }

    /// <summary>Why the last thing that was asked for could not be done, or null.</summary>
    protected string? Problem { get; set; }

    /// <summary>Problems of the rig file, where that was the reason.</summary>
    protected IReadOnlyList<Model.Sheet.Text.Problem> FileProblems { get; private set; } = [];

    /// <summary>Does something that takes a moment; a second tap meanwhile is nothing.</summary>
    protected async Task DoAsync(Func<Task> what)
    {
        ArgumentNullException.ThrowIfNull(what);
        if (IsBusy) return;
        (IsBusy, Problem, FileProblems) = (true, null, []);
        StateHasChanged();
        try
        {
            await Task.Run(what);
        }
        catch (RigFileRefusedException e)
        {
            (Problem, FileProblems) = ("The rig file cannot be used.", e.Problems);
        }
        catch (Exception e) when (e is RefusedException or StoreException)
        {
            Problem = Sentence.Of(e.Message);
        }
        finally
        {
            IsBusy = false;
        }
    }

    /// <summary>Does something that is quick.</summary>
    protected Task DoAsync(Action what) => DoAsync(() =>
    {
        what();
        return Task.CompletedTask;
    });
}
