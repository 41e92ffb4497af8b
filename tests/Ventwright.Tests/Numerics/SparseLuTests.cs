using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using Ventwright.Numerics;

namespace Ventwright.Tests.Numerics;

/// <summary>Reference program: MathNet.Numerics dense LU on the same random matrices.</summary>
public class SparseLuTests
{
    [Fact]
    public void Solution_equals_dense_solution_on_random_networks()
    {
        Gen.Select(Gen.Int[2, 30], Gen.Int[0, int.MaxValue]).Sample((size, seed) =>
        {
            var random = new Random(seed);
            var pairs = Enumerable.Range(0, size * 2).Select(_ => (random.Next(size), random.Next(size))).ToArray();
            var pattern = SparsePattern.Build(size, pairs);
            var lu = new SparseLu(pattern);
            var dense = Matrix<double>.Build.Dense(size, size);
            void Add(int i, int j, double v)
            {
                lu.Values[pattern.Slot(i, j)] += v;
                dense[i, j] += v;
            }

            for (int i = 0; i < size; i++) Add(i, i, 0.1);
            foreach ((int i, int j) in pairs.Where(p => p.Item1 != p.Item2))
            {
                double g = random.NextDouble() * 10;
                Add(i, i, g);
                Add(j, j, g);
                Add(i, j, -g);
                Add(j, i, -g * random.NextDouble());
            }

            double[] b = [.. Enumerable.Range(0, size).Select(_ => random.NextDouble() - 0.5)];
            var expected = dense.Solve(Vector<double>.Build.DenseOfArray(b));
            Assert.Equal(-1, lu.Factor());
            lu.Solve(b);
            for (int i = 0; i < size; i++) Assert.Equal(expected[i], b[i], 1e-9);
        });
    }

    [Fact]
    public void A_row_that_nothing_determines_is_named()
    {
        var pattern = SparsePattern.Build(3, [(0, 1)]);
        var lu = new SparseLu(pattern);
        lu.Values[pattern.Slot(0, 0)] = 1;
        lu.Values[pattern.Slot(1, 1)] = 1;
        Assert.Equal(2, lu.Factor());
    }
}
