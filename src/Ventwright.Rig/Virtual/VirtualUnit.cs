using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Rig.Virtual;

/// <summary>The unit that a virtual rig is wired to. Safe to be used from several threads at once.</summary>
public interface IVirtualUnit
{
    /// <summary>The unit's sheet.</summary>
    UnitModel Model { get; }

    /// <summary>Puts the unit under what the rig's outputs give.</summary>
    /// <param name="words">The outputs as a setting: <c>stand-in RT1</c>, <c>feed mod.7</c>, <c>supply</c>, <c>pump</c>, each with its text.</param>
    void Drive(IReadOnlyCollection<(string Name, string Value)> words);

    /// <summary>What a check shows now, SI; NaN where there is nothing steady.</summary>
    double Measure(Observable check);

    /// <summary>A condition of the surroundings, SI.</summary>
    double Condition(string name);
}

/// <summary>The simulated unit, at rest under whatever the outputs give, with faults if wanted. Its panel is turned with <see cref="Turn(string, string)"/>.</summary>
public sealed class VirtualUnit : IVirtualUnit
{
    private readonly Lock _gate = new();
    private readonly Simulator _simulator;
    private readonly Fault[] _faults;
    private readonly Dictionary<string, string> _panel = new(StringComparer.Ordinal);
    private (string Name, string Value)[] _driven = [];
    private Setting _setting;
    private Settled? _settled, _before;

    /// <summary>Lays a unit on the virtual bench.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="faults">Faults that are there.</param>
    public VirtualUnit(Simulator simulator, params Fault[] faults)
    {
        (_simulator, _faults) = (simulator, faults);
        _setting = Setting.Default(simulator.Model);
    }

    /// <inheritdoc/>
    public UnitModel Model => _simulator.Model;

    /// <summary>Turns a control or changes a condition, as a hand at the bench would: <c>mode</c> to <c>auto</c>, <c>cabin</c> to <c>30 degC</c>.</summary>
    /// <exception cref="ArgumentException">There is no such control or condition, or no such position.</exception>
    public void Turn(string name, string value)
    {
        lock (_gate)
        {
            if (_panel.GetValueOrDefault(name) == value) return;
            _panel[name] = value;
            if (Make(out string? problem) is { } setting) Stand(setting);
            else
            {
                _panel.Remove(name);
                throw new ArgumentException(problem, nameof(name));
            }
        }
    }

    /// <summary>Turns several, as <see cref="Turn(string, string)"/> does; those that stand so already are left alone.</summary>
    /// <exception cref="ArgumentException">There is no such control or condition, or no such position.</exception>
    public void Turn(IEnumerable<(string Name, string Value)> panel)
    {
        foreach ((string name, string value) in panel) Turn(name, value);
    }

    /// <inheritdoc/>
    public void Drive(IReadOnlyCollection<(string Name, string Value)> words)
    {
        lock (_gate)
        {
            _driven = [.. words];
            Stand(Make(out string? problem) ?? throw new ArgumentException(problem, nameof(words)));
        }
    }

    /// <inheritdoc/>
    public double Measure(Observable check)
    {
        lock (_gate)
        {
            return Readings.Read(_simulator, _setting, _faults, Now(), check) is { Unsteady: false } shown ? shown.Value : double.NaN;
        }
    }

    /// <inheritdoc/>
    public double Condition(string name)
    {
        lock (_gate)
        {
            Condition? condition = Array.Find(Model.Conditions, c => c.Name == name);
            return condition is null ? double.NaN : Now().Variable(Model, Model.Variables[condition.Variable].Name);
        }
    }

    private Setting? Make(out string? problem) =>
        Setting.TryMake(Model, _panel.Select(p => (p.Key, p.Value)).Concat(_driven), out problem);

    private void Stand(Setting setting)
    {
        if (setting.Key == _setting.Key) return;
        (_before, _settled, _setting) = (_settled ?? _before, null, setting);
    }

    private Settled Now()
    {
        if (_settled is not null) return _settled;
        _settled = _simulator.Settle(_setting, _faults, _before is { Verdict: Verdict.Settled } ? _before : null);
        return _settled;
    }
}
