using System.Globalization;
using Ventwright.Bench.SlowDrive;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.Car;

/// <summary>Volts of a servo's feedback against its position, as a sound unit has them; turned round to tell the position from the volts.</summary>
internal sealed class FeedbackTable
{
    private const int Points = 20;
    private readonly (double Volts, double Position)[] _rising;

    private FeedbackTable((double, double)[] rising) => _rising = rising;

    /// <summary>Works the table out.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="look">The servo's feedback.</param>
    /// <param name="setting">How the unit stands otherwise.</param>
    public static FeedbackTable Of(Simulator simulator, SlowLook look, Setting setting)
    {
        UnitModel model = simulator.Model;
        string id = model.Parts[look.Part].Id;
        return new([.. Enumerable.Range(0, Points + 1).Select(i =>
        {
            double position = i / (double)Points;
            (string, string)[] words = [.. setting.Words.Where(w => !Setting.IsAfter(w.Key)).Select(w => (w.Key, w.Value)), ($"stand-in {id}", position.ToString("0.##", CultureInfo.InvariantCulture))];
            Setting held = Setting.TryMake(model, words, out _)!;
            return (Readings.Read(simulator, held, [], simulator.Settle(held, []), look.What).Value, position);
        }).Where(p => double.IsFinite(p.Item1)).OrderBy(p => p.Item1)]);
    }

    /// <summary>The position at some volts; beyond the ends the nearest end. NaN if the feedback shows nothing.</summary>
    public double Position(double volts)
    {
        if (_rising.Length == 0) return double.NaN;
        if (volts <= _rising[0].Volts) return _rising[0].Position;
        if (volts >= _rising[^1].Volts) return _rising[^1].Position;
        int i = 1;
        while (_rising[i].Volts < volts) i++;
        (double v0, double p0) = _rising[i - 1];
        (double v1, double p1) = _rising[i];
        return v1 - v0 < 1e-9 ? p0 : p0 + ((p1 - p0) * (volts - v0) / (v1 - v0));
    }
}
