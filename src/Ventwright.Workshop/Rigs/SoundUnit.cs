using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;

namespace Ventwright.Workshop.Rigs;

/// <summary>A sound unit in the place of the one that a run measured, with a car of its own round it. Not thread-safe.</summary>
internal sealed class SoundUnit
{
    /// <summary>Longest time between two looks of the car at a unit that takes its time, s: as a rig that makes five rounds a second.</summary>
    private const double Round = 0.2;

    private readonly Simulator _simulator;
    private readonly RunDrive _drive;
    private readonly MeasuredCar _car;
    private readonly Readout _readout;
    private UnitRun? _run;
    private Settled? _settled;
    private Setting _setting;

    /// <summary>Lays the unit on the bench.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="drive">What the run is about.</param>
    /// <param name="car">The car round it; it must not have gone yet.</param>
    public SoundUnit(Simulator simulator, RunDrive drive, MeasuredCar car)
    {
        (_simulator, _drive, _car) = (simulator, drive, car);
        _readout = new(simulator, [.. car.Needs.Select(n => Observable.TryParse(n, out Observable what, out _) ? what : throw new ArgumentException($"'{n}' is no check", nameof(car)))]);
        _setting = Under();
        Stand();
    }

    /// <summary>Lets unit and car go on, and keeps the moment if asked to.</summary>
    public void Advance(double seconds, bool keeps)
    {
        int rounds = _drive.IsAtRest ? 1 : Math.Max(1, (int)Math.Ceiling((seconds / Round) - 1e-9));
        for (int i = 0; i < rounds; i++)
        {
            _run?.Advance(seconds / rounds);
            if (_run is not null) _settled = _run.Now();
            Shown[] shown = _readout.Read(_setting, [], _settled!);
            _car.Step(_car.Needs.Zip(shown).Where(s => !s.Second.Unsteady).ToDictionary(s => s.First, s => s.Second.Value, StringComparer.Ordinal), seconds / rounds);
            Stand();
        }

        if (keeps) _car.Keep();
    }

    /// <summary>The car's drive as far as it was kept.</summary>
    public DriveRecord Record() => _car.Record();

    /// <summary>Puts the unit under what the car makes its sensors feel now.</summary>
    private void Stand()
    {
        Setting under = Under();
        bool isNew = under.Key != _setting.Key;
        _setting = under;
        if (_drive.IsAtRest)
        {
            if (isNew || _settled is null) _settled = _simulator.Settle(under, [], _settled is { Verdict: Verdict.Settled } ? _settled : null);
        }
        else if (_run is null) _run = new(_simulator, under, []);
        else if (isNew) _run.Set(under);
    }

    private Setting Under() => SettingWords.Make(_simulator.Model,
    [
        .. _car.Panel.Where(p => !_drive.Hands.ContainsKey(p.Name)), .. _drive.HandWords,
        .. _car.Resistances.Where(r => _drive.Sensors.ContainsKey(r.Part)).Select(r => ($"stand-in {r.Part}", Ohms(r.Ohms, _drive.Sensors[r.Part]))),
    ]);

    private static string Ohms(double ohms, double[] limits) => Math.Clamp(ohms, limits[0], limits[1]).ToString("0.###", CultureInfo.InvariantCulture) + " ohm";
}
