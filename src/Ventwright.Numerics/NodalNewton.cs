namespace Ventwright.Numerics;

/// <summary>
/// Damped Newton iteration on the balances of a <see cref="NodeGraph"/>: at every free node, the flows that leave, plus a storage term that
/// is linear in the potential, sum to zero. Nothing is allocated after construction. Not thread-safe: one workspace a thread.
/// </summary>
/// <remarks>
/// A step is shortened until the residual along it no longer points back by more than half of what it was. Where flows depend on potential
/// differences only, that is a search for the least of a convex function. For choked flows there is no such proof: the property tests on random
/// networks are the evidence. Where that fails or the matrix is singular (a choked branch does not feel the node behind it) a diagonal term is added
/// and taken away again as steps succeed. Converged means both: balances closed, and the last step small or two more made within closed
/// balances (their size is then round-off).
/// </remarks>
public sealed class NodalNewton
{
    private const int MaxIterations = 100;
    private const int MaxShortenings = 14;
    private const int MaxPolish = 2;
    private const double FirstDamping = 1e-4;
    private const double LargestDamping = 1e6;

    private readonly NodeGraph _graph;
    private readonly SparseLu _lu;
    private readonly double[] _flow, _slopeA, _slopeB, _residual, _step, _trial;

    /// <summary>Makes a workspace for the graph.</summary>
    public NodalNewton(NodeGraph graph)
    {
        _graph = graph;
        _lu = new SparseLu(graph.Pattern);
        (_flow, _slopeA, _slopeB) = (new double[graph.BranchCount], new double[graph.BranchCount], new double[graph.BranchCount]);
        (_residual, _step, _trial) = (new double[graph.Nodes], new double[graph.Nodes], new double[graph.Nodes]);
    }

    /// <summary>Flows of the branches, from A to B, at the last accepted potentials.</summary>
    public ReadOnlySpan<double> Flow => _flow;

    /// <summary>Finds the potentials that close the balances.</summary>
    /// <param name="law">Branch law.</param>
    /// <param name="terms">Per node: what is held, stored, and how large flows there are.</param>
    /// <param name="potential">Start on entry, result on return. Held nodes keep their value.</param>
    /// <typeparam name="TLaw">A struct, so that the law is inlined into the loop.</typeparam>
    public NewtonVerdict Solve<TLaw>(in TLaw law, in NodeTerms terms, Span<double> potential)
        where TLaw : struct, IBranchLaw, allows ref struct
    {
        Evaluate(law, terms, potential);
        double damping = 0.0;
        double lastStep = double.PositiveInfinity;
        int polished = 0;
        for (int iteration = 1; iteration <= MaxIterations; iteration++)
        {
            bool closed = IsClosed(terms);
            polished = closed ? polished + 1 : 0;
            if (closed && (lastStep <= terms.StepTolerance || polished > MaxPolish)) return Verdict(true, iteration - 1, terms);
            if (Direction(terms, damping))
            {
                double taken = Search(law, terms, potential);
                if (taken > 0.0)
                {
                    lastStep = taken;
                    damping = damping > FirstDamping ? damping * 0.1 : 0.0;
                    continue;
                }

                Evaluate(law, terms, potential);
                if (closed) return Verdict(true, iteration, terms);
            }

            damping = damping == 0.0 ? FirstDamping : damping * 10.0;
            if (damping > LargestDamping) return Verdict(false, iteration, terms);
        }

        return Verdict(false, MaxIterations, terms);
    }

    /// <summary>Tries the full step, then shorter ones. Returns the largest change of a potential, infinity for a shortened step, 0 for none.</summary>
    private double Search<TLaw>(in TLaw law, in NodeTerms terms, Span<double> potential)
        where TLaw : struct, IBranchLaw, allows ref struct
    {
        double alpha = 1.0;
        double before = Along();
        for (int shortening = 0; shortening <= MaxShortenings; shortening++)
        {
            double largest = 0.0;
            for (int i = 0; i < _trial.Length; i++)
            {
                double next = Math.Clamp(potential[i] + alpha * _step[i], terms.Lowest, terms.Highest);
                _trial[i] = terms.Held[i] ? potential[i] : next;
                largest = Math.Max(largest, Math.Abs(_trial[i] - potential[i]));
            }

            Evaluate(law, terms, _trial);
            double after = Along();
            if (!(after <= 0.5 * Math.Abs(before)))
            {
                alpha *= Math.Clamp(before / (before - after), 0.1, 0.7);
                continue;
            }

            _trial.CopyTo(potential);
            return shortening == 0 ? Math.Max(largest, double.Epsilon) : double.PositiveInfinity;
        }

        return 0.0;
    }

    /// <summary>Fills flows, slopes and residuals.</summary>
    private void Evaluate<TLaw>(in TLaw law, in NodeTerms terms, ReadOnlySpan<double> x)
        where TLaw : struct, IBranchLaw, allows ref struct
    {
        int[] from = _graph.From, to = _graph.To;
        for (int i = 0; i < _residual.Length; i++) _residual[i] = terms.Storage.IsEmpty ? 0.0 : terms.Storage[i] * x[i] - terms.Source[i];
        for (int k = 0; k < from.Length; k++)
        {
            double flow = law.Flow(k, x[from[k]], x[to[k]], out _slopeA[k], out _slopeB[k]);
            _flow[k] = flow;
            _residual[from[k]] += flow;
            _residual[to[k]] -= flow;
        }

        for (int i = 0; i < _residual.Length; i++) if (terms.Held[i]) _residual[i] = 0.0;
    }

    /// <summary>Residual in the direction of the step.</summary>
    private double Along()
    {
        double sum = 0.0;
        for (int i = 0; i < _residual.Length; i++) sum += _residual[i] * _step[i];
        return sum;
    }

    private bool IsClosed(in NodeTerms terms)
    {
        for (int i = 0; i < _residual.Length; i++)
        {
            if (!(Math.Abs(_residual[i]) <= terms.ResidualTolerance * terms.Scale[i])) return false;
        }

        return true;
    }

    private bool Direction(in NodeTerms terms, double damping)
    {
        _lu.Clear();
        Span<double> values = _lu.Values;
        int[] from = _graph.From, to = _graph.To, diagonal = _graph.Diagonal;
        for (int i = 0; i < diagonal.Length; i++)
        {
            double own = damping * terms.Scale[i] / terms.Drive + (terms.Storage.IsEmpty ? 0.0 : terms.Storage[i]);
            values[diagonal[i]] = terms.Held[i] ? 1.0 : own;
            _step[i] = -_residual[i];
        }

        for (int k = 0; k < from.Length; k++)
        {
            int a = from[k], b = to[k];
            bool heldA = terms.Held[a], heldB = terms.Held[b];
            if (!heldA) values[diagonal[a]] += _slopeA[k];
            if (!heldB) values[diagonal[b]] -= _slopeB[k];
            if (heldA || heldB) continue;
            values[_graph.SlotFromTo[k]] += _slopeB[k];
            values[_graph.SlotToFrom[k]] -= _slopeA[k];
        }

        if (_lu.Factor() >= 0) return false;
        _lu.Solve(_step);
        return true;
    }

    private NewtonVerdict Verdict(bool converged, int iterations, in NodeTerms terms)
    {
        double largest = 0.0;
        int node = -1;
        for (int i = 0; i < _residual.Length; i++)
        {
            if (terms.Held[i] || Math.Abs(_residual[i]) <= largest) continue;
            (largest, node) = (Math.Abs(_residual[i]), i);
        }

        return new NewtonVerdict(converged, iterations, largest, node);
    }
}
