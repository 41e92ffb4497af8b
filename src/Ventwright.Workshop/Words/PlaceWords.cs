using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>Places as a person says them.</summary>
public static class PlaceWords
{
    private static readonly string[] Where = ["at ", "in ", "on ", "under ", "behind ", "over "];

    /// <summary>The place as it is read aloud: <c>vacuum pack</c>.</summary>
    /// <param name="place">The place.</param>
    public static string Name(Place place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.Name.Replace('-', ' ');
    }

    /// <summary>Where that is: <c>at the blower</c>, <c>in the box</c>.</summary>
    /// <param name="place">The place.</param>
    public static string At(Place place)
    {
        string name = Name(place);
        return Array.Exists(Where, w => name.StartsWith(w, StringComparison.OrdinalIgnoreCase)) ? name : $"at {name}";
    }

    /// <summary>Where that is, with what must be opened to get there: <c>at the vacuum pack, opens side cover</c>.</summary>
    /// <param name="place">The place.</param>
    public static string WithWay(Place place) => $"{At(place)}{(place.Opens is null ? "" : $", opens {place.Opens}")}";
}
