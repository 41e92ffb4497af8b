using System.Globalization;
using Microsoft.AspNetCore.Components;
using Ventwright.Model.Kernel;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Web.Cards;

/// <summary>A card of the bench page: shows the session, and says in one sentence what it could not do.</summary>
public abstract class SessionCard : ComponentBase
{
    /// <summary>The session.</summary>
    [Parameter, EditorRequired] public OpenSession Session { get; set; } = null!;

    /// <summary>What the person chose for this browser.</summary>
    [CascadingParameter] public Preferences Preferences { get; set; } = new();

    /// <summary>What could not be done, or null.</summary>
    protected string? Problem { get; set; }

    /// <summary>The unit.</summary>
    protected UnitModel Model => Session.Unit.Model;

    /// <summary>A share in whole per cent, as the person reads numbers.</summary>
    protected string WholePercent(double share) => Preferences.Show(share.ToString("0 %", CultureInfo.InvariantCulture));

    /// <summary>Width of a bar that stands for a share, for a style.</summary>
    protected static string Width(double share) => (100 * share).ToString("0.#", CultureInfo.InvariantCulture) + "%";

    /// <summary>Does something; what the person gave and cannot be used ends up in <see cref="Problem"/>.</summary>
    /// <returns>Whether it was done.</returns>
    protected bool Try(Action action)
    {
        try
        {
            action();
            Problem = null;
            return true;
        }
        catch (Exception e) when (e is RefusedException or StoreException)
        {
            Problem = Sentence.Of(e.Message);
            return false;
        }
    }
}
