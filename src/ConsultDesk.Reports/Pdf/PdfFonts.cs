using ConsultDesk.Reports.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;

namespace ConsultDesk.Reports.Pdf;

/// <summary>
/// The fonts of the PDF library. Its resolver is one static setting of the whole process, so this is the only place
/// that sets it.
/// </summary>
internal static class PdfFonts
{
    private const string Family = "ConsultDesk Report";

    static PdfFonts() => GlobalFontSettings.FontResolver = new Resolver();

    /// <summary>A font of a size in points.</summary>
    // Unicode encoding for every text: otherwise a text of ASCII letters only would carry no Unicode map.
    public static XFont Font(double size, bool bold = false) => new(
        Family,
        size,
        bold ? XFontStyleEx.Bold : XFontStyleEx.Regular,
        new XPdfFontOptions(PdfFontEncoding.Unicode, PdfFontEmbedding.TryComputeSubset));

    private sealed class Resolver : IFontResolver
    {
        public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
            familyName == Family && !isItalic ? new FontResolverInfo(Face(isBold).Name) : null;

        public byte[]? GetFont(string faceName) =>
            faceName == ReportFonts.Regular.Name ? ReportFonts.Regular.File
            : faceName == ReportFonts.Bold.Name ? ReportFonts.Bold.File
            : null;

        private static FontFace Face(bool bold) => bold ? ReportFonts.Bold : ReportFonts.Regular;
    }
}
