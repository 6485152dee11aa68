using System.IO.Compression;
using ConsultDesk.Reports.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace ConsultDesk.Reports.Pdf;

/// <summary>The page being drawn: its graphics, its structure, its colours. Lengths in points, the origin top left.</summary>
internal sealed class PdfSheet(PdfDocument document, StructureBuilder structure, PdfPalette palette)
{
    private XGraphics? _graphics;
    private PdfPage? _page;

    public StructureBuilder Structure => structure;

    public PdfPalette Palette => palette;

    public XGraphics Graphics => _graphics ?? throw new InvalidOperationException("No page was begun.");

    public PdfPage Page => _page ?? throw new InvalidOperationException("No page was begun.");

    /// <summary>Begins a page; the one before can no longer be drawn on.</summary>
    public void BeginPage(PdfPaper paper)
    {
        EndPage();
        _page = document.AddPage();
        _page.Width = XUnit.FromPoint(paper.Width);
        _page.Height = XUnit.FromPoint(paper.Height);

        // Tab follows the structure (ISO 14289-1, clause 7.18.3).
        _page.Elements.SetName("/Tabs", "/S");
        _graphics = XGraphics.FromPdfPage(_page);
    }

    /// <summary>Ends the last page.</summary>
    public void EndPage()
    {
        _graphics?.Dispose();
        _graphics = null;
        if (_page is not null)
        {
            Compress(_page);
        }

        _page = null;
    }

    // The library's own compression leaves the end of the zlib stream off, which strict readers complain about.
    private static void Compress(PdfPage page)
    {
        foreach (var content in page.Contents)
        {
            using var compressed = new MemoryStream();
            using (var zlib = new ZLibStream(compressed, CompressionLevel.Optimal, leaveOpen: true))
            {
                zlib.Write(content.Stream.Value);
            }

            content.Stream.Value = compressed.ToArray();
            content.Elements.SetName("/Filter", "/FlateDecode");
        }
    }

    /// <summary>A box in the page's own space, whose origin is the bottom left corner: the library does not turn bounding boxes.</summary>
    public XRect InPageSpace(double left, double top, double width, double height) =>
        new(left, Page.Height.Point - top - height, width, height);

    /// <summary>Draws what carries no meaning for a reader who listens: rules, running heads, repeated table heads.</summary>
    public void Artifact(Action draw)
    {
        structure.BeginArtifact();
        draw();
        structure.End();
    }

    /// <summary>Draws inside a block-level element of the structure.</summary>
    public void Tagged(PdfBlockLevelElementTag tag, Action draw)
    {
        structure.BeginElement(tag);
        draw();
        structure.End();
    }

    /// <summary>Draws a line of text on a baseline.</summary>
    public void Text(string text, double x, double baseline, double size, XColor colour, bool bold = false, double? rightEdge = null)
    {
        if (text.Length == 0)
        {
            return;
        }

        var left = rightEdge is { } right ? right - ReportFonts.Width(text, size, bold) : x;
        Graphics.DrawString(text, PdfFonts.Font(size, bold), new XSolidBrush(colour), left, baseline);
    }

    public void Rule(double x1, double y1, double x2, double y2, XColor colour, double width) =>
        Graphics.DrawLine(new XPen(colour, width), x1, y1, x2, y2);

    public void Fill(double x, double y, double width, double height, XColor colour) =>
        Graphics.DrawRectangle(null, new XSolidBrush(colour), x, y, width, height);

    /// <summary>Says of the current table cell that it heads its column or its row.</summary>
    // The library has no call for it: the attribute is set by hand (ISO 32000-1, table 349).
    public void HeadsA(string scope)
    {
        var attributes = new PdfDictionary(document);
        attributes.Elements.SetName("/O", "/Table");
        attributes.Elements.SetName("/Scope", "/" + scope);
        structure.CurrentStructureElement.Elements["/A"] = attributes;
    }
}
