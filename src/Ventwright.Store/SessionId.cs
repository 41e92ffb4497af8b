using System.Security.Cryptography;

namespace Ventwright.Store;

/// <summary>Session ids such as <c>b7k2</c>: letter and digit by turns, without the ones that are taken for each other (i, l, o, 0, 1).</summary>
internal static class SessionId
{
    private const string Letters = "abcdefghjkmnpqrstuvwxyz";
    private const string Digits = "23456789";

    /// <summary>Draws an id of the given number of letter-digit pairs; two pairs make 33 856 ids.</summary>
    internal static string Draw(int pairs) => string.Concat(Enumerable.Range(0, pairs).Select(_ => $"{One(Letters)}{One(Digits)}"));

    private static char One(string from) => from[RandomNumberGenerator.GetInt32(from.Length)];
}
