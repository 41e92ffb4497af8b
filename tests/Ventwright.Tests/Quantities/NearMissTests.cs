using CsCheck;
using Ventwright.Quantities;

namespace Ventwright.Tests.Quantities;

/// <summary>Distance as defined by Damerau (1964), in the restricted form; the sample words are our own.</summary>
public class NearMissTests
{
    [Theory]
    [InlineData("mod.41", "mod.9 mod.14 mod.1", "mod.14")]
    [InlineData("pul-in", "drop-out pull-in", "pull-in")]
    [InlineData("FUSE", "relay fuse", "fuse")]
    [InlineData("v", "A V", "V")]
    [InlineData("inHgg", "mmHg inHg inH2O", "inHg")]
    [InlineData("x", "a b c", null)]
    [InlineData("ab", "cd", null)]
    [InlineData("thermistor", "relay fuse", null)]
    [InlineData("", "a", null)]
    public void The_nearest_word_is_suggested(string word, string candidates, string? expected) =>
        Assert.Equal(expected, NearMiss.Suggest(word, candidates.Split(' ')));

    [Fact]
    public void One_slip_in_a_word_is_always_mended()
    {
        Gen.Select(Gen.String[Gen.Char['a', 'z'], 3, 12], Gen.Int[0, 2], Gen.Int[0, 100]).Sample((word, slip, place) =>
        {
            int at = place % (word.Length - 1);
            string wrong = slip switch
            {
                0 => word.Remove(at, 1),
                1 => word.Insert(at, "-"),
                _ => word[..at] + word[at + 1] + word[at] + word[(at + 2)..],
            };
            if (wrong != word) Assert.Equal(word, NearMiss.Suggest(wrong, [word]));
        });
    }
}
