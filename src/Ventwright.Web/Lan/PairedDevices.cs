using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;

namespace Ventwright.Web.Lan;

/// <summary>
/// Devices of the workshop's network that may join. A device joins by a secret that is good for one device only; from then on it carries a token. Nothing
/// is written down: after a restart devices join anew. Thread-safe.
/// </summary>
internal sealed class PairedDevices
{
    private const int SecretBytes = 16, TokenBytes = 32;
    private readonly ConcurrentDictionary<string, byte> _tokens = new(StringComparer.Ordinal);
    private string _secret = Draw(SecretBytes);

    /// <summary>Raised after a device joined. On any thread.</summary>
    public event Action? Changed;

    /// <summary>The secret by which the next device joins.</summary>
    public string Secret => Volatile.Read(ref _secret);

    /// <summary>How many devices have joined.</summary>
    public int Count => _tokens.Count;

    /// <summary>Takes a secret; the first to bring the present one gets a token, and there is a new secret for the next.</summary>
    /// <returns>The device's token, or null when the secret is not the present one.</returns>
    public string? Join(string secret)
    {
        string present = Secret;
        if (!CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(secret), Encoding.UTF8.GetBytes(present))) return null;
        if (Interlocked.CompareExchange(ref _secret, Draw(SecretBytes), present) != present) return null;
        string token = Draw(TokenBytes);
        _tokens[Digest(token)] = 0;
        Changed?.Invoke();
        return token;
    }

    /// <summary>Whether a token is that of a device that joined.</summary>
    public bool Knows(string? token) => token is not null && _tokens.ContainsKey(Digest(token));

    /// <summary>Lets no device in that joined before.</summary>
    public void ForgetAll()
    {
        _tokens.Clear();
        Changed?.Invoke();
    }

    private static string Draw(int bytes) => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(bytes));

    private static string Digest(string token) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}
