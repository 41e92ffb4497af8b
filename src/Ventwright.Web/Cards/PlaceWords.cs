using Ventwright.Model.Kernel;

namespace Ventwright.Web.Cards;

/// <summary>Places as a person says them.</summary>
internal static class PlaceWords
{
    private static readonly string[] Where = ["at ", "in ", "on ", "under ", "behind ", "over "];

    /// <summary>Where that is: <c>at the blower</c>, <c>in the box</c>.</summary>
    public static string At(Place place)
    {
        string name = place.Name.Replace('-', ' ');
        return Array.Exists(Where, w => name.StartsWith(w, StringComparison.OrdinalIgnoreCase)) ? name : $"at {name}";
    }
}
