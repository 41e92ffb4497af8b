namespace Ventwright.Drawing;

/// <summary>Places things in a row as near to where they want to be as their order and sizes allow (least squares, pool adjacent violators).</summary>
internal static class Spacing
{
    /// <summary>Tops of the things.</summary>
    /// <param name="wanted">Where each wants its top.</param>
    /// <param name="sizes">How much room each takes with the space after it.</param>
    /// <param name="limit">Room there is, from 0; more is taken if they do not fit.</param>
    public static double[] Place(double[] wanted, double[] sizes, double limit)
    {
        var blocks = new List<(double Sum, int Count, double Size)>();
        double before = 0;
        for (int i = 0; i < wanted.Length; i++)
        {
            // Without the room that those before it take, the tops must not fall.
            (double Sum, int Count, double Size) block = (wanted[i] - before, 1, sizes[i]);
            before += sizes[i];
            while (blocks.Count > 0 && blocks[^1].Sum / blocks[^1].Count > block.Sum / block.Count)
            {
                block = (block.Sum + blocks[^1].Sum, block.Count + blocks[^1].Count, block.Size + blocks[^1].Size);
                blocks.RemoveAt(blocks.Count - 1);
            }

            blocks.Add(block);
        }

        double most = Math.Max(0, limit - before), taken = 0;
        var tops = new List<double>();
        int next = 0;
        foreach ((double sum, int count, _) in blocks)
        {
            double at = Math.Clamp(sum / count, 0, most);
            for (int k = 0; k < count; k++)
            {
                tops.Add(at + taken);
                taken += sizes[next++];
            }
        }

        return [.. tops];
    }
}
