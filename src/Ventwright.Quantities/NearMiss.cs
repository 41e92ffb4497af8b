namespace Ventwright.Quantities;

/// <summary>Finds what a person most likely meant to type.</summary>
public static class NearMiss
{
    private const int LongestWord = 64;

    /// <summary>
    /// The candidate closest to <paramref name="word"/>, or null when none is near: one slip for words of two to five letters, one for each
    /// three letters beyond. A slip is a letter added, left out, changed, or two neighbours swapped (optimal string alignment, the restricted
    /// Damerau-Levenshtein distance). Capitals count only to break ties.
    /// </summary>
    public static string? Suggest(string word, IEnumerable<string> candidates)
    {
        if (word.Length is 0 or > LongestWord) return null;
        int allowed = word.Length == 1 ? 0 : Math.Max(1, word.Length / 3);
        string? best = null;
        (int Slips, int WithCase) bestDistance = (allowed + 1, 0);
        foreach (string candidate in candidates)
        {
            if (candidate == word || Math.Abs(candidate.Length - word.Length) > allowed) continue;
            int slips = Distance(Fold(word), Fold(candidate));
            if (slips > allowed || slips >= Math.Max(word.Length, candidate.Length)) continue;
            var distance = (slips, Distance(word, candidate));
            if (distance.CompareTo(bestDistance) >= 0) continue;
            (best, bestDistance) = (candidate, distance);
        }

        return best;
    }

    private static string Fold(string text) => text.ToUpperInvariant();

    private static int Distance(string a, string b)
    {
        int[] beforeLast = new int[b.Length + 1], last = new int[b.Length + 1], current = new int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++) last[j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            current[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int change = a[i - 1] == b[j - 1] ? 0 : 1;
                current[j] = Math.Min(Math.Min(last[j] + 1, current[j - 1] + 1), last[j - 1] + change);
                bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                if (swapped) current[j] = Math.Min(current[j], beforeLast[j - 2] + 1);
            }

            (beforeLast, last, current) = (last, current, beforeLast);
        }

        return last[b.Length];
    }
}
