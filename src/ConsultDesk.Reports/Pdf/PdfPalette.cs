using System.Globalization;
using ConsultDesk.Reports.Figures;
using PdfSharp.Drawing;

namespace ConsultDesk.Reports.Pdf;

/// <summary>
/// Colours on white paper. Text inks reach a contrast of 4.5:1 and the other inks 3:1 against white (WCAG 2.2,
/// success criteria 1.4.3 and 1.4.11), so that a plan stays readable when it is printed in grey.
/// </summary>
internal sealed class PdfPalette
{
    private const double TextContrast = 4.5;

    /// <summary>Builds the palette of a firm from its colour.</summary>
    /// <exception cref="FormatException">The colour is not written as <c>#rrggbb</c>.</exception>
    public PdfPalette(string brandHex)
    {
        Brand = Parse(brandHex);
        OnBrand = Contrast(Brand, XColors.White) >= TextContrast || Contrast(Brand, XColors.White) >= Contrast(Brand, XColors.Black)
            ? XColors.White
            : XColors.Black;
        Accent = Contrast(Brand, XColors.White) >= TextContrast ? Brand : Darkened(Brand);
    }

    /// <summary>The firm's colour, for areas.</summary>
    public XColor Brand { get; }

    /// <summary>Black or white, whichever is read better on the firm's colour.</summary>
    public XColor OnBrand { get; }

    /// <summary>The firm's colour for text and thin lines on white, darkened where it would be too pale.</summary>
    public XColor Accent { get; }

    /// <summary>Ground of the box of dangers: pale enough for text, seen in grey.</summary>
    public XColor Pale { get; } = Parse("#f3e7e2");

    public XColor Of(Ink ink) => ink switch
    {
        Ink.None => XColor.Empty,
        Ink.Body => Parse("#4c5759"),
        Ink.Furniture => Parse("#8c8270"),
        Ink.Bed => Parse("#94845c"),
        Ink.Glass => Parse("#3f7690"),
        Ink.Opening => Parse("#2b3638"),
        Ink.AirIn => Parse("#1d5f8a"),
        Ink.AirOut => Parse("#a03c1e"),
        Ink.AirWithin => Parse("#5d6a2a"),
        Ink.Wet => Parse("#6b3fa0"),
        Ink.Dry => Parse("#6f6a5c"),
        Ink.Rule => Parse("#858d8f"),
        Ink.Text => Parse("#1c2325"),
        Ink.Muted => Parse("#566063"),
        Ink.Accent => Accent,
        Ink.Paper => XColors.White,
        Ink.Shade => Parse("#2e7d73"),
        _ => throw new ArgumentOutOfRangeException(nameof(ink), ink, "Expected an ink with a colour."),
    };

    /// <summary>Contrast ratio of two colours by WCAG 2.2, 1 to 21.</summary>
    public static double Contrast(XColor one, XColor other)
    {
        var (lighter, darker) = (Luminance(one), Luminance(other));
        if (lighter < darker)
        {
            (lighter, darker) = (darker, lighter);
        }

        return (lighter + 0.05) / (darker + 0.05);
    }

    internal static XColor Parse(string hex) =>
        hex.Length == 7 && hex[0] == '#' && int.TryParse(hex.AsSpan(1), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var value)
            ? XColor.FromArgb((value >> 16) & 0xFF, (value >> 8) & 0xFF, value & 0xFF)
            : throw new FormatException($"'{hex}' is not a colour; expected #rrggbb.");

    private static XColor Darkened(XColor colour)
    {
        var darker = colour;
        for (var share = 0.95; Contrast(darker, XColors.White) < TextContrast; share -= 0.05)
        {
            darker = XColor.FromArgb((int)(colour.R * share), (int)(colour.G * share), (int)(colour.B * share));
        }

        return darker;
    }

    private static double Luminance(XColor colour)
    {
        return (0.2126 * Linear(colour.R)) + (0.7152 * Linear(colour.G)) + (0.0722 * Linear(colour.B));

        static double Linear(byte channel)
        {
            var share = channel / 255.0;
            return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
        }
    }
}
