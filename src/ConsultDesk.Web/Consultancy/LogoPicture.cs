using System.Globalization;
using System.Text;
using SkiaSharp;

namespace ConsultDesk.Web.Consultancy;

/// <summary>
/// A logo as it is kept: decoded from what was uploaded and encoded again, so that nothing else that lay in the file
/// (places, scripts, a second file behind the picture) gets onto a plan.
/// </summary>
/// <param name="Png">The picture, PNG, transparency kept.</param>
/// <param name="Width">Width, pixels.</param>
/// <param name="Height">Height, pixels.</param>
internal sealed record LogoPicture(byte[] Png, int Width, int Height)
{
    /// <summary>Largest file that is read, bytes.</summary>
    public const int LargestFile = 5 * 1024 * 1024;

    /// <summary>Most pixels that are decoded; the header says how many there are before any is.</summary>
    public const long MostPixels = 40_000_000;

    /// <summary>Widest logo that is kept; sharp on paper at the width a plan gives it.</summary>
    public const int MostWidth = 1200;

    /// <summary>Tallest logo that is kept.</summary>
    public const int MostHeight = 400;

    /// <summary>What is accepted, in words.</summary>
    public const string Accepted = "PNG, JPEG or WebP, at most 5 MB and 40 megapixels";

    /// <summary>What is wrong with a file by its size alone; null when it may be read.</summary>
    public static string? TooLarge(long bytes) => bytes > LargestFile
        ? string.Create(CultureInfo.InvariantCulture, $"The file has {bytes / 1024d / 1024d:0.0} MB. Expected {Accepted}.")
        : null;

    /// <summary>Reads a picture out of a file's bytes.</summary>
    /// <param name="file">All of the file.</param>
    /// <param name="error">What is wrong with it and what was expected; null when it was read.</param>
    public static LogoPicture? Read(byte[] file, out string? error)
    {
        error = TooLarge(file.LongLength) ?? (file.Length == 0 ? $"The file is empty. Expected {Accepted}." : null);
        if (error is not null)
        {
            return null;
        }

        if (IsSvg(file))
        {
            error = $"This is an SVG drawing, which may hold scripts and other files, so it is not taken. Save it as PNG with a transparent ground and choose that. Expected {Accepted}.";
            return null;
        }

        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data);
        if (codec?.EncodedFormat is not (SKEncodedImageFormat.Png or SKEncodedImageFormat.Jpeg or SKEncodedImageFormat.Webp))
        {
            error = codec is null
                ? $"The file is no picture that can be read. Expected {Accepted}."
                : $"A picture of the kind {codec.EncodedFormat.ToString().ToUpperInvariant()} is not taken. Expected {Accepted}.";
            return null;
        }

        var (width, height) = (codec.Info.Width, codec.Info.Height);
        if ((long)width * height > MostPixels)
        {
            error = string.Create(CultureInfo.InvariantCulture, $"The picture has {width} by {height} pixels, {width * (double)height / 1e6:0} megapixels. Expected {Accepted}.");
            return null;
        }

        using var space = SKColorSpace.CreateSrgb();
        using var pixels = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Premul, space));
        if (codec.GetPixels(pixels.Info, pixels.GetPixels()) != SKCodecResult.Success)
        {
            error = $"The picture is damaged or not complete. Expected {Accepted}.";
            return null;
        }

        return Encode(pixels, codec.EncodedOrigin);
    }

    private static LogoPicture Encode(SKBitmap pixels, SKEncodedOrigin origin)
    {
        // A camera writes how it was held; from the fifth on the picture lies on its side.
        var lies = origin >= SKEncodedOrigin.LeftTop;
        var (width, height) = lies ? (pixels.Height, pixels.Width) : (pixels.Width, pixels.Height);
        var scale = Math.Min(1, Math.Min(MostWidth / (double)width, MostHeight / (double)height));
        var (w, h) = (Math.Max(1, (int)Math.Round(width * scale)), Math.Max(1, (int)Math.Round(height * scale)));
        using var surface = SKSurface.Create(new SKImageInfo(w, h, SKColorType.Rgba8888, SKAlphaType.Premul, pixels.ColorSpace));
        var canvas = surface.Canvas;
        canvas.Clear(SKColors.Transparent);
        canvas.Scale(w / (float)width, h / (float)height);
        canvas.Concat(Upright(origin, pixels.Width, pixels.Height));
        using var image = SKImage.FromBitmap(pixels);
        using var paint = new SKPaint { BlendMode = SKBlendMode.Src };
        canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear), paint);
        using var drawn = surface.Snapshot();
        using var png = drawn.Encode(SKEncodedImageFormat.Png, 100);
        return new(png.ToArray(), w, h);
    }

    /// <summary>Takes the pixels as they lie to where the picture shows them (Exif 2.32, tag Orientation).</summary>
    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => SKMatrix.Identity,
    };

    private static bool IsSvg(byte[] file)
    {
        var start = Encoding.UTF8.GetString(file, 0, Math.Min(file.Length, 4096)).TrimStart('\uFEFF', ' ', '\t', '\r', '\n');
        return start.StartsWith('<') && start.Contains("<svg", StringComparison.OrdinalIgnoreCase);
    }
}
