using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>Colours that print well in black and white too.</summary>
internal static class Ink
{
    public static readonly SKColor Text = new(0x1c, 0x1a, 0x17), Soft = new(0x5c, 0x57, 0x4f), Rule = new(0xb4, 0xad, 0xa1), Heavy = new(0x4a, 0x45, 0x3d), Ground = new(0xf2, 0xee, 0xe6),
        Warn = new(0x9c, 0x2f, 0x1b), Accent = new(0x2f, 0x5f, 0x6b);
}

/// <summary>How text looks. Sizes in points.</summary>
internal sealed record TextStyle(float Size, bool Bold, SKColor Colour)
{
    public static readonly TextStyle Title = new(19, true, Ink.Text), Heading = new(11.5f, true, Ink.Text), Body = new(9, false, Ink.Text), Strong = new(9, true, Ink.Text),
        Quiet = new(9, false, Ink.Soft), Small = new(7.5f, false, Ink.Soft), Band = new(10, true, Ink.Text), Head = new(7.5f, true, Ink.Soft), Caution = new(8.5f, true, Ink.Warn);

    /// <summary>From one baseline to the next.</summary>
    public float Leading => Size * 1.32f;

    /// <summary>From the top of a line to its baseline.</summary>
    public float Rise => Size * 1.0f;
}
