using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Simulation;

/// <summary>Settling must not depend on what was settled before. No outside source.</summary>
public sealed class HistoryTests
{
    [Fact]
    public void What_was_settled_before_changes_no_digit()
    {
        UnitModel model = ShippedSheets.Automatic.Model;
        var used = new Simulator(model);
        var random = new Random(3);
        IReadOnlyList<Setting> settings = new BenchCatalog(used).Settings;
        Observable[] looks = [.. model.Points.Where(p => p.When == PointState.Running).Select(p => p.What)];
        for (int i = 0; i < 200; i++)
        {
            Setting setting = settings[random.Next(settings.Count)];
            Fault[] faults = [.. Enumerable.Range(0, random.Next(3)).Select(_ => model.Faults[random.Next(model.Faults.Length)])];
            Settled later = used.Settle(setting, faults);
            if (i % 10 > 0) continue;
            var fresh = new Simulator(model);
            Settled first = fresh.Settle(setting, faults);
            Assert.All(looks, look => Assert.Equal(Readings.Read(fresh, setting, faults, first, look), Readings.Read(used, setting, faults, later, look)));
        }
    }
}
