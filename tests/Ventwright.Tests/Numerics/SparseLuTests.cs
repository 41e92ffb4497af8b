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
    public void What_is_eliminated_last_can_be_changed_and_solved_again_without_the_rest()
    {
        Gen.Select(Gen.Int[3, 30], Gen.Int[0, int.MaxValue]).Sample((size, seed) =>
        {
            var random = new Random(seed);
            var pairs = Enumerable.Range(0, size * 2).Select(_ => (I: random.Next(size), J: random.Next(size))).Where(p => p.I != p.J).ToArray();
            int[] last = [.. Enumerable.Range(0, size).Where(_ => random.Next(3) == 0)];
            var pattern = SparsePattern.Build(size, pairs, last);
            Assert.Equal(size - last.Length, pattern.Head);
            Assert.All(last, i => Assert.True(pattern.Step[i] >= pattern.Head));
            var lu = new SparseLu(pattern);
            var dense = Matrix<double>.Build.Dense(size, size);
            void Add(int i, int j, double v)
            {
                lu.Values[pattern.Slot(i, j)] += v;
                dense[i, j] += v;
            }

            void Join(int i, int j, double g)
            {
                Add(i, i, g);
                Add(j, j, g);
                Add(i, j, -g);
                Add(j, i, -g);
            }

            for (int i = 0; i < size; i++) Add(i, i, 0.1);
            foreach ((int i, int j) in pairs) Join(i, j, random.NextDouble() * 10);
            double[] b = [.. Enumerable.Range(0, size).Select(_ => random.NextDouble() - 0.5)], head = new double[size];
            for (int i = 0; i < size; i++) head[pattern.Step[i]] = b[i];
            Assert.Equal(-1, lu.FactorHead());
            lu.Forward(head);
            double[] tail = lu.Tail.ToArray();
            for (int change = 0; change < 3; change++)
            {
                tail.CopyTo(lu.Tail);
                var before = dense.Clone();
                foreach ((int i, int j) in pairs.Where(p => last.Contains(p.I) && last.Contains(p.J))) Join(i, j, random.NextDouble() * 10);
                Assert.Equal(-1, lu.FactorTail());
                double[] y = [.. head];
                lu.SolveTail(y);
                lu.SolveHead(y);
                var expected = dense.Solve(Vector<double>.Build.DenseOfArray(b));
                for (int i = 0; i < size; i++) Assert.Equal(expected[i], y[pattern.Step[i]], 1e-9);
                before.CopyTo(dense);
            }
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
