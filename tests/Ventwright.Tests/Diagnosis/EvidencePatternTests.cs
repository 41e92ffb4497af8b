using CsCheck;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>What a union of faults is taken to reach before it is worked out. No outside source.</summary>
public sealed class EvidencePatternTests
{
    private static readonly double[] Sharpest = [1, 1, 1, 1];

    [Fact]
    public void A_reading_that_one_part_alone_acts_on_is_explained_as_that_part_explains_it()
    {
        EvidencePattern one = Pattern([-1, -20, -3, -7], 1, 3), other = Pattern([-2, -2, -9, -5], 2, 3);
        Assert.Equal(-1 - 20 - 9 - 5, one.Unmasked(other), 1e-4);
        Assert.Equal(-1 - 2 - 3 - 5, one.Likely(other), 1e-4);
        Assert.Equal(-1 - 2 - 3 + 1, one.Bound(other), 1e-4);
    }

    [Fact]
    public void A_pair_that_was_worked_out_is_taken_as_it_was_found()
    {
        EvidencePattern one = Pattern([-1, -20, -3, -7], 1, 3), other = Pattern([-2, -2, -9, -5], 2, 3), third = Pattern([-1, -2, -3, -4]);
        Assert.Equal(-1 - 20 - 9 - 5, one.Union(other).Unmasked(third), 1e-4);
        EvidencePattern found = one.Union(other).Sharpened([-1, -20, -9, -0.5], one, other);
        Assert.Equal(-1 - 20 - 9 - 0.5, found.Unmasked(third), 1e-4);
    }

    [Fact]
    public void It_is_never_more_than_the_better_part_gives_and_that_never_more_than_the_bound()
    {
        Gen<EvidencePattern> pattern = Gen.Select(Gen.Double[-30, 0].Array[4], Gen.Int[0, 3].Array[0, 4], Pattern);
        Gen.Select(pattern, pattern, pattern).Sample((one, other, third) =>
        {
            foreach (EvidencePattern first in (EvidencePattern[])[one, one.Union(other)])
            {
                Assert.True(first.Unmasked(third) <= first.Likely(third) + 1e-3);
                Assert.True(first.Likely(third) <= first.Bound(third) + 1e-3);
            }
        });
    }

    private static EvidencePattern Pattern(double[] factors, params int[] acts) => EvidencePattern.Of(factors, Sharpest, acts.Contains);
}
