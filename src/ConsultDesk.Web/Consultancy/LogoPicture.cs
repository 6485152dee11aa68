using System.Globalization;
using ConsultDesk.Web.Shell;
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
        error = TooLarge(file.LongLength);
        if (error is not null)
        {
            return null;
        }

        if (UploadedPicture.Read(file, Accepted, out error) is not { } picture)
        {
            return null;
        }

        using (picture)
        {
            using var surface = picture.Drawn(MostWidth, MostHeight, SKColors.Transparent);
            using var drawn = surface.Snapshot();
            using var png = drawn.Encode(SKEncodedImageFormat.Png, 100);
            return new(png.ToArray(), drawn.Width, drawn.Height);
        }
    }
}
