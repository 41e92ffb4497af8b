using System.Text;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;

namespace Ventwright.Tests.Reports;

/// <summary>A PDF read back with a reader that shares no code with the writer (PdfPig).</summary>
internal sealed class ReadBack : IDisposable
{
    private readonly PdfDocument _document;

    public ReadBack(Action<Stream> write)
    {
        using var stream = new MemoryStream();
        write(stream);
        Bytes = stream.ToArray();
        _document = PdfDocument.Open(Bytes);
        Pages = [.. _document.GetPages()];
    }

    public byte[] Bytes { get; }

    public Page[] Pages { get; }

    /// <summary>All words in reading order as the file has them, one blank between two; compatibility forms of signs made one (NFKC).</summary>
    public string Text => string.Join(' ', Pages.Select(TextOf));

    public static string TextOf(Page page) => string.Join(' ', page.GetWords().Select(w => w.Text)).Normalize(NormalizationForm.FormKC);

    public string Title => _document.Information.Title ?? "";

    public string Created => _document.Information.CreationDate ?? "";

    public void AssertCalm(double margin)
    {
        for (int i = 0; i < Pages.Length; i++)
        {
            AssertInside(Pages[i], i + 1, margin);
            AssertApart(Pages[i], i + 1);
            Assert.Contains($"page {i + 1} of {Pages.Length}", TextOf(Pages[i]), StringComparison.Ordinal);
        }
    }

    public void Dispose() => _document.Dispose();

    private static void AssertInside(Page page, int number, double margin)
    {
        foreach (Letter letter in page.Letters)
        {
            PdfRectangle box = letter.BoundingBox;
            bool inside = box.Left >= margin - 1 && box.Right <= page.Width - margin + 1 && box.Bottom >= margin - 1 && box.Top <= page.Height - margin + 1;
            Assert.True(inside, $"page {number}: '{letter.Value}' at {box} is outside the margins");
        }
    }

    private static void AssertApart(Page page, int number)
    {
        Word[] words = [.. page.GetWords().OrderBy(w => w.BoundingBox.Left)];
        for (int i = 0; i < words.Length; i++)
        {
            PdfRectangle a = words[i].BoundingBox;
            for (int j = i + 1; j < words.Length && words[j].BoundingBox.Left < a.Right - 0.3; j++)
            {
                PdfRectangle b = words[j].BoundingBox;
                bool apart = b.Bottom >= a.Top - 0.3 || a.Bottom >= b.Top - 0.3;
                Assert.True(apart, $"page {number}: '{words[i].Text}' and '{words[j].Text}' overlap");
            }
        }
    }
}
