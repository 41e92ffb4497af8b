namespace Ventwright.Web;

/// <summary>How the app is started.</summary>
/// <param name="StorePath">The store's file.</param>
/// <param name="Port">Port to listen on; 0 for any that is free.</param>
/// <param name="Lan">Whether other devices in the workshop's network may join after pairing.</param>
public sealed record AppOptions(string StorePath, int Port, bool Lan);
