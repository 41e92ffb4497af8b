using System.Runtime.InteropServices;

namespace Ventwright.Rig.Channels;

/// <summary>
/// Puts a rig into its safe state when the program is told to end: Ctrl+C, SIGTERM, the terminal closed, or the program's own end. What nobody can catch (the
/// computer hangs, kill -9, power lost) it cannot help: for that there is the switch within reach.
/// </summary>
public sealed class SafeOnExit : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(15);

    private readonly RigBench _rig;
    private readonly Action? _ended;
    private readonly List<PosixSignalRegistration> _signals = [];

    /// <summary>Starts to watch.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="ended">Called once the rig is safe, to end the work; without it the signal goes its usual way afterwards.</param>
    public SafeOnExit(RigBench rig, Action? ended = null)
    {
        (_rig, _ended) = (rig, ended);
        foreach (PosixSignal signal in (PosixSignal[])[PosixSignal.SIGINT, PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGQUIT])
        {
            try
            {
                _signals.Add(PosixSignalRegistration.Create(signal, context =>
                {
                    Stop(signal == PosixSignal.SIGINT ? "Ctrl+C" : "the program was told to end");
                    if (_ended is null) return;
                    context.Cancel = true;
                    _ended();
                }));
            }
            catch (PlatformNotSupportedException)
            {
                // Not every system has every signal.
            }
        }

        AppDomain.CurrentDomain.ProcessExit += OnExit;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        AppDomain.CurrentDomain.ProcessExit -= OnExit;
        foreach (PosixSignalRegistration signal in _signals) signal.Dispose();
    }

    private void OnExit(object? sender, EventArgs e) => Stop("the program ended");

    private void Stop(string why) => _rig.HeldSafeAsync(why).Wait(Patience);
}
