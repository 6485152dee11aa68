using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>How far down each page of a plan is used.</summary>
internal static class PageFill
{
    // Running head and foot, in points from the edges.
    private const double Head = 56;
    private const double Foot = 53;

    /// <summary>No page that is read on is less than a third full, and paper is used to three quarters: our judgement of a well set letter.</summary>
    public static void IsWellUsed(PdfDocument document)
    {
        var fill = Of(document);
        Assert.True(fill.Count > 5);
        Assert.All(fill, share => Assert.True(share > 1 / 3.0, $"A page is used to {share:0.00} only."));
        Assert.True(fill.Average() > 0.75, $"The paper is used to {fill.Average():0.00} only.");
    }

    /// <summary>The used share of every page that is read on: the last one and the card's half sheet may be as short as they are.</summary>
    public static IReadOnlyList<double> Of(PdfDocument document)
    {
        var pages = document.GetPages().ToList();
        var read = pages.TakeWhile(page => page.Height > page.Width).ToList();
        return
        [
            .. read.SkipLast(1).Select(page =>
            {
                var lowest = page.Letters.Where(letter => letter.StartBaseLine.Y > Foot - 5 && letter.Value.Trim().Length > 0).Min(letter => letter.StartBaseLine.Y);
                return (page.Height - Head - lowest) / (page.Height - Head - Foot);
            }),
        ];
    }
}
