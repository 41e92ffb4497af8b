using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>Places as a person says them.</summary>
public static class PlaceWords
{
    private static readonly string[] Where = ["at ", "in ", "on ", "under ", "behind ", "over "];

    /// <summary>Where that is: <c>at the blower</c>, <c>in the box</c>.</summary>
    /// <param name="place">The place.</param>
    public static string At(Place place)
    {
        ArgumentNullException.ThrowIfNull(place);
        string name = place.Name.Replace('-', ' ');
        return Array.Exists(Where, w => name.StartsWith(w, StringComparison.OrdinalIgnoreCase)) ? name : $"at {name}";
    }

    /// <summary>Where that is, with what must be opened to get there: <c>at the vacuum pack, opens side cover</c>.</summary>
    /// <param name="place">The place.</param>
    public static string WithWay(Place place) => $"{At(place)}{(place.Opens is null ? "" : $", opens {place.Opens}")}";
}
