using System.Buffers.Binary;
using System.Text;
using ConsultDesk.Web.Consultancy;
using SkiaSharp;
using Xunit;

namespace ConsultDesk.Web.Tests.Consultancy;

public sealed class LogoPictureTests
{
    [Theory]
    [InlineData(300, 100, 300, 100)]
    [InlineData(1200, 400, 1200, 400)]
    [InlineData(2400, 400, 1200, 200)]
    [InlineData(800, 1600, 200, 400)]
    [InlineData(5000, 2, 1200, 1)]
    public void A_logo_is_made_smaller_to_1200_by_400_and_never_larger(int width, int height, int expectedWidth, int expectedHeight)
    {
        var read = LogoPicture.Read(Encoded(width, height, SKColors.Teal), out var error);

        Assert.Null(error);
        Assert.Equal((expectedWidth, expectedHeight), (read!.Width, read.Height));
        using var kept = SKBitmap.Decode(read.Png);
        Assert.Equal((expectedWidth, expectedHeight), (kept.Width, kept.Height));
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Png)]
    [InlineData(SKEncodedImageFormat.Webp)]
    public void Transparency_is_kept(SKEncodedImageFormat format)
    {
        var read = LogoPicture.Read(Encoded(1600, 800, new SKColor(200, 30, 60, 128), format, square: true), out _)!;

        using var kept = SKBitmap.Decode(read.Png);
        Assert.Equal(0, kept.GetPixel(2, 2).Alpha);
        var inside = kept.GetPixel(kept.Width / 2, kept.Height / 2);
        Assert.InRange(inside.Alpha, 120, 136);
        Assert.InRange(inside.Red, 190, 210);
    }

    [Fact]
    public void What_lay_in_the_file_beside_the_picture_is_gone()
    {
        byte[] file = [.. Encoded(60, 20, SKColors.Navy), .. "GPSLatitude marker-of-a-place <script>"u8];

        var read = LogoPicture.Read(file, out _)!;

        Assert.DoesNotContain("marker", Encoding.Latin1.GetString(read.Png), StringComparison.Ordinal);
    }

    // Exif 2.32, 4.6.4.A, tag 274: with value 6 the stored rows are the columns of the picture, the first row at its right.
    [Fact]
    public void A_picture_taken_with_the_camera_on_its_side_stands_upright()
    {
        using var stored = new SKBitmap(40, 20);
        stored.Erase(SKColors.White);
        using (var canvas = new SKCanvas(stored))
        {
            using var red = new SKPaint { Color = SKColors.Red };
            canvas.DrawRect(0, 0, 40, 5, red);
        }

        using var image = SKImage.FromBitmap(stored);
        using var jpeg = image.Encode(SKEncodedImageFormat.Jpeg, 95);

        var read = LogoPicture.Read(WithOrientation(jpeg.ToArray(), 6), out var error)!;

        Assert.Null(error);
        Assert.Equal((20, 40), (read.Width, read.Height));
        using var kept = SKBitmap.Decode(read.Png);
        Assert.True(kept.GetPixel(18, 20) is { Red: > 200, Green: < 80 }, "The first stored row stands at the right.");
        Assert.True(kept.GetPixel(2, 20) is { Red: > 200, Green: > 200 });
    }

    [Fact]
    public void A_file_of_thirty_megabytes_is_refused_with_its_size()
    {
        Assert.Null(LogoPicture.Read(new byte[30 * 1024 * 1024], out var error));
        Assert.Equal("The file has 30.0 MB. Expected PNG, JPEG or WebP, at most 5 MB and 40 megapixels.", error);
    }

    [Fact]
    public void A_picture_of_more_than_forty_megapixels_is_refused_by_its_header()
    {
        // A header that claims 100,000 by 100,000 pixels, with nothing behind it to decode.
        Assert.Null(LogoPicture.Read(PngHeader(100_000, 100_000), out var error));
        Assert.Contains("10000 megapixels", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'/>")]
    [InlineData("\uFEFF<?xml version='1.0'?>\n<!-- drawn by hand -->\n<svg/>")]
    public void An_SVG_is_refused_with_the_way_out(string text)
    {
        Assert.Null(LogoPicture.Read(Encoding.UTF8.GetBytes(text), out var error));
        Assert.Contains("SVG", error, StringComparison.Ordinal);
        Assert.Contains("Save it as PNG", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("not a picture at all")]
    [InlineData("%PDF-1.7")]
    [InlineData("MZ")]
    public void What_is_no_picture_is_refused(string text)
    {
        Assert.Null(LogoPicture.Read(Encoding.UTF8.GetBytes(text), out var error));
        Assert.EndsWith("Expected PNG, JPEG or WebP, at most 5 MB and 40 megapixels.", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kind_of_picture_that_is_not_taken_is_named()
    {
        // The smallest GIF: one white pixel (GIF89a, sections 17 to 27).
        byte[] gif = [.. "GIF89a"u8, 1, 0, 1, 0, 0x80, 0, 0, 255, 255, 255, 0, 0, 0, 0x2C, 0, 0, 0, 0, 1, 0, 1, 0, 0, 2, 2, 0x44, 1, 0, 0x3B];

        Assert.Null(LogoPicture.Read(gif, out var error));
        Assert.StartsWith("A picture of the kind GIF is not taken.", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_picture_cut_short_is_refused()
    {
        var whole = Encoded(400, 300, SKColors.Olive);

        Assert.Null(LogoPicture.Read(whole[..(whole.Length / 2)], out var error));
        Assert.StartsWith("The picture is damaged or not complete.", error, StringComparison.Ordinal);
    }

    [Fact]
    public void Damaged_bytes_never_do_more_than_be_refused()
    {
        var whole = Encoded(64, 32, SKColors.Olive);
        var random = new Random(20_260_204);
        var refused = 0;
        for (var round = 0; round < 500; round++)
        {
            var damaged = whole.ToArray();
            damaged[random.Next(damaged.Length)] ^= (byte)(1 << random.Next(8));
            var read = LogoPicture.Read(damaged, out var error);
            Assert.True(read is null != error is null);
            refused += read is null ? 1 : 0;
        }

        Assert.InRange(refused, 1, 500);
    }

    /// <summary>A picture of one colour, or a square of it on a clear ground.</summary>
    internal static byte[] Encoded(int width, int height, SKColor colour, SKEncodedImageFormat format = SKEncodedImageFormat.Png, bool square = false)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Premul));
        bitmap.Erase(square ? SKColors.Transparent : colour);
        using (var canvas = new SKCanvas(bitmap))
        {
            using var paint = new SKPaint { Color = colour, BlendMode = SKBlendMode.Src };
            canvas.DrawRect(width / 4f, height / 4f, width / 2f, height / 2f, paint);
        }

        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(format, 100);
        return data.ToArray();
    }

    /// <summary>Signature and header chunk of a PNG (ISO/IEC 15948, 5.2 and 11.2.2).</summary>
    private static byte[] PngHeader(int width, int height)
    {
        var chunk = new byte[17];
        "IHDR"u8.CopyTo(chunk);
        BinaryPrimitives.WriteInt32BigEndian(chunk.AsSpan(4), width);
        BinaryPrimitives.WriteInt32BigEndian(chunk.AsSpan(8), height);
        (chunk[12], chunk[13]) = (8, 6);
        var check = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(check, Crc32(chunk));
        return [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13, .. chunk, .. check, 0, 0, 0, 0, .. "IDAT"u8, 0x35, 0xAF, 0x06, 0x1E];
    }

    /// <summary>The check sum of a chunk (ISO/IEC 15948, annex D).</summary>
    private static uint Crc32(byte[] bytes)
    {
        var sum = uint.MaxValue;
        foreach (var one in bytes)
        {
            sum ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) == 0 ? sum >> 1 : (sum >> 1) ^ 0xEDB88320;
            }
        }

        return ~sum;
    }

    /// <summary>The picture with an Exif segment that holds nothing but how it is turned.</summary>
    private static byte[] WithOrientation(byte[] jpeg, byte orientation)
    {
        byte[] exif = [.. "Exif\0\0"u8, .. "MM"u8, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0, 0, 0, 0, 0];
        return [.. jpeg[..2], 0xFF, 0xE1, 0, (byte)(exif.Length + 2), .. exif, .. jpeg[2..]];
    }
}
