using System.Collections.Concurrent;
using System.Globalization;
using ConsultDesk.Web.Shell;
using SkiaSharp;

namespace ConsultDesk.Web.Intake;

/// <summary>A photo encoded anew.</summary>
/// <param name="Jpeg">The picture, JPEG, upright, nothing but pixels.</param>
/// <param name="Width">Width, pixels.</param>
/// <param name="Height">Height, pixels.</param>
public sealed record EncodedPhoto(byte[] Jpeg, int Width, int Height);

/// <summary>
/// Turns what a client uploads into photos that are kept: header read first, pixels counted, then decoded, turned upright,
/// made smaller and encoded anew, so that neither a place nor anything else hidden in a file is stored. One at a time for each firm.
/// </summary>
public sealed class IntakePhotos
{
    /// <summary>Largest file that is read, bytes.</summary>
    public const int LargestFile = 10 * 1024 * 1024;

    /// <summary>Longest side of a photo that is kept, pixels: enough to see a rust spot on a screen.</summary>
    public const int LongestSide = 2000;

    /// <summary>What is accepted, in words.</summary>
    public const string Accepted = "JPEG, PNG or WebP, at most 10 MB and 40 megapixels each";

    /// <summary>How long one photo may take before it is given up.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(10);

    private readonly ConcurrentDictionary<Guid, SemaphoreSlim> _turns = new();

    /// <summary>Reads a photo, or says what is wrong with it and what was expected.</summary>
    public async Task<(EncodedPhoto? Photo, string? Error)> ReadAsync(Guid firmId, IFormFile file, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (file.Length > LargestFile)
        {
            return (null, string.Create(CultureInfo.InvariantCulture, $"The file has {file.Length / 1024d / 1024d:0.0} MB. Expected {Accepted}."));
        }

        var bytes = new byte[file.Length];
        await using (var stream = file.OpenReadStream())
        {
            await stream.ReadExactlyAsync(bytes, cancellation);
        }

        return await ReadAsync(firmId, bytes, cancellation);
    }

    /// <summary>Reads a photo out of a file that is no larger than <see cref="LargestFile"/>, or says what is wrong with it and what was expected.</summary>
    public async Task<(EncodedPhoto? Photo, string? Error)> ReadAsync(Guid firmId, byte[] bytes, CancellationToken cancellation)
    {
        var turn = _turns.GetOrAdd(firmId, _ => new(1));
        if (!await turn.WaitAsync(Longest, cancellation))
        {
            return (null, "Another photo is still being worked on. Wait a moment and try again.");
        }

        // The decoder cannot be stopped: the turn is given back when it ends, and nobody waits longer than this.
        var work = Task.Run(
            () =>
            {
                try
                {
                    return Read(bytes);
                }
                finally
                {
                    turn.Release();
                }
            },
            CancellationToken.None);
        try
        {
            return await work.WaitAsync(Longest, cancellation);
        }
        catch (TimeoutException)
        {
            return (null, string.Create(CultureInfo.InvariantCulture, $"It took longer than {Longest.TotalSeconds:0} seconds to read. Expected {Accepted}."));
        }
    }

    /// <summary>Reads a photo out of a file's bytes.</summary>
    internal static (EncodedPhoto? Photo, string? Error) Read(byte[] file)
    {
        if (IsHeic(file))
        {
            return (null, "This is a HEIC photo, which other devices cannot show. In the phone's settings for the camera choose the most compatible format and take it again, "
                + "or open the photo, choose Share and save or send it as JPEG, and add that.");
        }

        if (UploadedPicture.Read(file, Accepted, out var error) is not { } picture)
        {
            return (null, error);
        }

        using (picture)
        {
            using var surface = picture.Drawn(LongestSide, LongestSide, SKColors.White);
            using var image = surface.Snapshot();
            using var jpeg = image.Encode(SKEncodedImageFormat.Jpeg, 82);
            return (new(jpeg.ToArray(), image.Width, image.Height), null);
        }
    }

    /// <summary>True for a file of the ISO base media format that says it holds HEIF pictures (ISO/IEC 23008-12: brands heic, heix, mif1 and kin).</summary>
    private static bool IsHeic(ReadOnlySpan<byte> file) =>
        file.Length >= 12 && file[4..8].SequenceEqual("ftyp"u8)
        && (file[8..12].SequenceEqual("heic"u8) || file[8..12].SequenceEqual("heix"u8) || file[8..12].SequenceEqual("hevc"u8) || file[8..12].SequenceEqual("hevx"u8)
            || file[8..12].SequenceEqual("heim"u8) || file[8..12].SequenceEqual("heis"u8) || file[8..12].SequenceEqual("mif1"u8) || file[8..12].SequenceEqual("msf1"u8));
}
