using Ventwright.Model.Kernel;

namespace Ventwright.Workshop;

/// <summary>A check in words with what was read or seen there: <c>Current through Left blower (M1): 9.2 A</c>.</summary>
public static class CheckAnswer
{
    /// <summary>The check and its answer; a check that is asked as a question keeps its question mark alone.</summary>
    public static string Of(UnitModel model, Observable what, string? got) => Join(CheckTitles.Of(model, what), got);

    /// <summary>The same for a check as it was written; left so when this sheet does not know it.</summary>
    public static string Of(UnitModel model, string at, string got) => Join(Title(model, at), got);

    /// <summary>A check as it was written, in words where this sheet knows it.</summary>
    public static string Title(UnitModel model, string at) => Observable.TryParse(at, out Observable what, out _) ? CheckTitles.Of(model, what) : at;

    private static string Join(string title, string? got) => title.EndsWith('?') ? $"{title} {got}" : $"{title}: {got}";
}
