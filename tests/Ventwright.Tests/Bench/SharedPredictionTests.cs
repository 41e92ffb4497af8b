using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What several threads ask of one predictor at the same moment. No outside source.</summary>
public sealed class SharedPredictionTests
{
    private const int Threads = 4;

    /// <summary>Faults that show the same are known by their prediction being the same object, so no thread may be left with one of its own.</summary>
    [Fact]
    public void All_threads_get_the_same_prediction()
    {
        Simulator unit = ShippedSheets.Manual;
        var predictor = new SheetPredictor(unit);
        Setting setting = ShippedSheets.Set(unit, "fan=2, mode=vent");
        int[] checks = predictor.Check([.. unit.Model.Points.Where(p => p.When == PointState.Running).Select(p => (setting, p.What))]);
        (FaultSet Set, int Check)[] asked = [.. Enumerable.Range(0, predictor.Faults.Count).SelectMany(f => checks.Select(c => (FaultSet.One(f), c)))];
        using var together = new Barrier(Threads);
        (Prediction, CompiledPrediction)[][] got = [.. Enumerable.Range(0, Threads).Select(_ => new (Prediction, CompiledPrediction)[asked.Length])];
        Thread[] threads = [.. got.Select(mine => new Thread(() => Ask(mine)))];
        foreach (Thread thread in threads) thread.Start();
        foreach (Thread thread in threads) thread.Join();
        for (int i = 0; i < asked.Length; i++)
        {
            Assert.All(got, mine => Assert.Same(got[0][i].Item1, mine[i].Item1));
            Assert.All(got, mine => Assert.Same(got[0][i].Item2, mine[i].Item2));
        }

        void Ask((Prediction, CompiledPrediction)[] mine)
        {
            for (int i = 0; i < asked.Length; i++)
            {
                (FaultSet set, int check) = asked[i];
                if (check == checks[0]) together.SignalAndWait();
                Prediction prediction = predictor.Predict(set, check);
                mine[i] = (prediction, prediction.Compiled(predictor.Checks[check]));
            }
        }
    }
}
