namespace Ventwright.Reports.Page;

/// <summary>Size of the paper.</summary>
public enum PaperSize
{
    /// <summary>210 x 297 mm (ISO 216).</summary>
    A4,

    /// <summary>8.5 x 11 in (ANSI/ASME Y14.1, size A).</summary>
    Letter,
}

/// <summary>A sheet of paper with its margins, in whole points of 1/72 inch, as PDF pages are cut; y runs down from the top edge.</summary>
internal sealed record Paper(float Width, float Height)
{
    /// <summary>Margin on all four sides: 14 mm, more than office printers leave white.</summary>
    public const float Margin = 40;

    private const float HeadHeight = 26, FootHeight = 20;

    /// <summary>Where the body begins.</summary>
    public const float Left = Margin, BodyTop = Margin + HeadHeight;

    public float Right => Width - Margin;

    public float BodyBottom => Height - Margin - FootHeight;

    public float BodyWidth => Right - Left;

    public static Paper Of(PaperSize size, bool landscape = false)
    {
        (float width, float height) = size == PaperSize.Letter ? (612f, 792f) : (595f, 842f);
        return landscape ? new(height, width) : new(width, height);
    }
}
