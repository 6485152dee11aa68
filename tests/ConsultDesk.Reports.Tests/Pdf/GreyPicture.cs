using System.Diagnostics;
using SkiaSharp;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>A page as a small grey picture: what poppler's pdftoppm makes of it.</summary>
internal sealed record GreyPicture(int Width, int Height, byte[] Pixels)
{
    /// <summary>Resolution of the kept pictures, pixels an inch: lines of text can be told apart, letters cannot.</summary>
    public const int Resolution = 30;

    // Kept pictures have this many greys, which makes them small.
    private const int Greys = 8;

    /// <summary>A pixel differs when its grey does by more than this, of 255: more than smoothed edges move by.</summary>
    private const int GreyThatDiffers = 80;

    /// <summary>The share of pixels that differ, 1 where the sizes do.</summary>
    public double ShareThatDiffersFrom(GreyPicture other)
    {
        if (Width != other.Width || Height != other.Height)
        {
            return 1;
        }

        return Pixels.Zip(other.Pixels).Count(pair => Math.Abs(pair.First - pair.Second) > GreyThatDiffers) / (double)Pixels.Length;
    }

    /// <summary>The pages of a document, with the greys that are kept.</summary>
    /// <exception cref="InvalidOperationException">pdftoppm failed; the message is its own.</exception>
    public static async Task<IReadOnlyList<GreyPicture>> PagesOf(byte[] document, CancellationToken cancellation)
    {
        var folder = Directory.CreateTempSubdirectory("desk-pages");
        try
        {
            var file = Path.Combine(folder.FullName, "plan.pdf");
            await File.WriteAllBytesAsync(file, document, cancellation);
            var start = new ProcessStartInfo("pdftoppm", ["-r", $"{Resolution}", "-gray", "-png", file, Path.Combine(folder.FullName, "page")]) { RedirectStandardError = true };
            using var process = Process.Start(start)!;
            var errors = await process.StandardError.ReadToEndAsync(cancellation);
            await process.WaitForExitAsync(cancellation);
            return process.ExitCode == 0
                ? [.. folder.GetFiles("page*.png").OrderBy(page => page.Name, StringComparer.Ordinal).Select(page => Read(page.FullName).WithFewGreys())]
                : throw new InvalidOperationException(errors);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    public static GreyPicture Read(string file)
    {
        using var read = SKBitmap.Decode(file) ?? throw new InvalidOperationException($"{file} is no picture.");
        return new GreyPicture(read.Width, read.Height, [.. read.Pixels.Select(pixel => pixel.Red)]);
    }

    public void Write(string file)
    {
        using var grey = new SKBitmap(new SKImageInfo(Width, Height, SKColorType.Gray8, SKAlphaType.Opaque), Width);
        Pixels.CopyTo(grey.GetPixelSpan());
        using var data = grey.Encode(SKEncodedImageFormat.Png, 100);
        File.WriteAllBytes(file, data.ToArray());
    }

    /// <summary>The picture, the one it should be like, and where they differ, beside one another.</summary>
    public GreyPicture Beside(GreyPicture other)
    {
        var (width, height) = (Math.Max(Width, other.Width), Math.Max(Height, other.Height));
        var pixels = new byte[3 * width * height];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                var (here, there) = (At(x, y), other.At(x, y));
                var row = y * 3 * width;
                pixels[row + x] = there;
                pixels[row + width + x] = here;
                pixels[row + (2 * width) + x] = Math.Abs(here - there) > GreyThatDiffers ? (byte)0 : (byte)255;
            }
        }

        return new GreyPicture(3 * width, height, pixels);
    }

    private byte At(int x, int y) => x < Width && y < Height ? Pixels[(y * Width) + x] : (byte)255;

    private GreyPicture WithFewGreys() =>
        this with { Pixels = [.. Pixels.Select(grey => (byte)Math.Round(Math.Round(grey / 255.0 * (Greys - 1)) * 255 / (Greys - 1)))] };
}
