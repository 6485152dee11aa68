using System.Globalization;
using System.Text;
using SkiaSharp;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// A picture decoded from what somebody uploaded. What is kept is always drawn and encoded anew from its pixels, so that nothing
/// else that lay in the file (places, scripts, a second file behind the picture) leaves with it.
/// </summary>
internal sealed class UploadedPicture : IDisposable
{
    /// <summary>Most pixels that are decoded; the header says how many there are before any is.</summary>
    public const long MostPixels = 40_000_000;

    private readonly SKBitmap _pixels;
    private readonly SKEncodedOrigin _origin;

    private UploadedPicture(SKBitmap pixels, SKEncodedOrigin origin) => (_pixels, _origin) = (pixels, origin);

    /// <summary>Decodes a file.</summary>
    /// <param name="file">All of the file.</param>
    /// <param name="accepted">What is accepted, in words, for the message.</param>
    /// <param name="error">What is wrong with it and what was expected; null when it was read.</param>
    /// <returns>The picture, which the caller disposes; null when it could not be read.</returns>
    public static UploadedPicture? Read(byte[] file, string accepted, out string? error)
    {
        error = null;
        if (file.Length == 0)
        {
            error = $"The file is empty. Expected {accepted}.";
            return null;
        }

        if (IsSvg(file))
        {
            error = $"This is an SVG drawing, which may hold scripts and other files, so it is not taken. Save it as PNG with a transparent ground and choose that. Expected {accepted}.";
            return null;
        }

        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data);
        if (codec?.EncodedFormat is not (SKEncodedImageFormat.Png or SKEncodedImageFormat.Jpeg or SKEncodedImageFormat.Webp))
        {
            error = codec is null
                ? $"The file is no picture that can be read. Expected {accepted}."
                : $"A picture of the kind {codec.EncodedFormat.ToString().ToUpperInvariant()} is not taken. Expected {accepted}.";
            return null;
        }

        var (width, height) = (codec.Info.Width, codec.Info.Height);
        if ((long)width * height > MostPixels)
        {
            error = string.Create(CultureInfo.InvariantCulture, $"The picture has {width} by {height} pixels, {width * (double)height / 1e6:0} megapixels. Expected {accepted}.");
            return null;
        }

        using var space = SKColorSpace.CreateSrgb();
        var pixels = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Premul, space));
        if (codec.GetPixels(pixels.Info, pixels.GetPixels()) != SKCodecResult.Success)
        {
            pixels.Dispose();
            error = $"The picture is damaged or not complete. Expected {accepted}.";
            return null;
        }

        return new(pixels, codec.EncodedOrigin);
    }

    /// <summary>The picture upright on a ground, no larger than asked and never enlarged. The caller disposes the surface.</summary>
    public SKSurface Drawn(int mostWidth, int mostHeight, SKColor ground)
    {
        // A camera writes how it was held; from the fifth on the picture lies on its side.
        var lies = _origin >= SKEncodedOrigin.LeftTop;
        var (width, height) = lies ? (_pixels.Height, _pixels.Width) : (_pixels.Width, _pixels.Height);
        var scale = Math.Min(1, Math.Min(mostWidth / (double)width, mostHeight / (double)height));
        var (w, h) = (Math.Max(1, (int)Math.Round(width * scale)), Math.Max(1, (int)Math.Round(height * scale)));
        var surface = SKSurface.Create(new SKImageInfo(w, h, SKColorType.Rgba8888, SKAlphaType.Premul, _pixels.ColorSpace));
        var canvas = surface.Canvas;
        canvas.Clear(ground);
        canvas.Scale(w / (float)width, h / (float)height);
        canvas.Concat(Upright(_origin, _pixels.Width, _pixels.Height));
        using var image = SKImage.FromBitmap(_pixels);
        using var paint = new SKPaint { BlendMode = ground.Alpha == 0 ? SKBlendMode.Src : SKBlendMode.SrcOver };
        canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear), paint);
        return surface;
    }

    /// <inheritdoc />
    public void Dispose() => _pixels.Dispose();

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
