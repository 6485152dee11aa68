using System.Globalization;

namespace ConsultDesk.Web.Plans;

/// <summary>
/// A firm's colour made fit for a page: beside the colour itself, an ink of the same hue that reads on light and on
/// dark paper. Contrast is that of WCAG 2.2, success criterion 1.4.3.
/// </summary>
public sealed class BrandColour
{
    /// <summary>Least contrast of text (WCAG 2.2, 1.4.3, level AA).</summary>
    public const double TextContrast = 4.5;

    // The darkest and lightest grounds of desk.css that the ink stands on.
    private static readonly (byte R, byte G, byte B) LightGround = (0xef, 0xeb, 0xe2);
    private static readonly (byte R, byte G, byte B) DarkGround = (0x1f, 0x29, 0x2c);
    private static readonly (byte R, byte G, byte B) White = (0xff, 0xff, 0xff);
    private static readonly (byte R, byte G, byte B) Black = (0, 0, 0);

    private readonly (byte R, byte G, byte B) _colour;

    private BrandColour((byte R, byte G, byte B) colour) => _colour = colour;

    /// <summary>The colour as given, <c>#rrggbb</c>.</summary>
    public string Hex => Text(_colour);

    /// <summary>Text on a ground of the colour.</summary>
    public string On => Text(Contrast(_colour, White) >= Contrast(_colour, Black) ? White : Black);

    /// <summary>Contrast of <see cref="On"/> on the colour, from 1 to 21. Black or white always reaches 4.5.</summary>
    public double ContrastOn => Math.Max(Contrast(_colour, White), Contrast(_colour, Black));

    /// <summary>The colour as ink on light paper, darkened no further than it must be.</summary>
    public string LightInk => Text(Towards(Black, LightGround));

    /// <summary>The colour as ink on dark paper, lightened no further than it must be.</summary>
    public string DarkInk => Text(Towards(White, DarkGround));

    /// <summary>Reads six hexadecimal digits; null when it is something else.</summary>
    public static BrandColour? Read(string hex) =>
        hex.Length == 6 && uint.TryParse(hex, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var rgb)
            ? new(((byte)(rgb >> 16), (byte)(rgb >> 8), (byte)rgb))
            : null;

    /// <summary>The style sheet that gives a plan its firm's colour.</summary>
    public string StyleSheet() =>
        $":root{{--firm:{Hex};--on-firm:{On};--firm-ink:{LightInk}}}" +
        $"@media screen and (prefers-color-scheme:dark){{:root:not([data-theme=\"light\"]){{--firm-ink:{DarkInk}}}}}" +
        $"@media screen{{:root[data-theme=\"dark\"]{{--firm-ink:{DarkInk}}}}}\n";

    private (byte R, byte G, byte B) Towards((byte R, byte G, byte B) end, (byte R, byte G, byte B) ground)
    {
        for (var step = 0; step < 100; step++)
        {
            var mixed = Mix(_colour, end, step / 100d);
            if (Contrast(mixed, ground) >= TextContrast)
            {
                return mixed;
            }
        }

        return end;
    }

    private static (byte R, byte G, byte B) Mix((byte R, byte G, byte B) a, (byte R, byte G, byte B) b, double share) =>
        ((byte)Math.Round(a.R + ((b.R - a.R) * share)), (byte)Math.Round(a.G + ((b.G - a.G) * share)), (byte)Math.Round(a.B + ((b.B - a.B) * share)));

    private static double Contrast((byte R, byte G, byte B) a, (byte R, byte G, byte B) b)
    {
        var (low, high) = (Luminance(a), Luminance(b));
        return (Math.Max(low, high) + 0.05) / (Math.Min(low, high) + 0.05);
    }

    /// <summary>Relative luminance as WCAG 2.2 defines it.</summary>
    private static double Luminance((byte R, byte G, byte B) c)
    {
        static double Linear(byte channel)
        {
            var share = channel / 255d;
            return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Linear(c.R)) + (0.7152 * Linear(c.G)) + (0.0722 * Linear(c.B));
    }

    private static string Text((byte R, byte G, byte B) c) => string.Create(CultureInfo.InvariantCulture, $"#{c.R:x2}{c.G:x2}{c.B:x2}");
}
