using SkiaSharp;

namespace ConsultDesk.Web.Demo;

/// <summary>The invented firm's mark, drawn here so that no picture file has to be kept: a fern in a hollow.</summary>
internal static class DemoLogo
{
    private const int Side = 360;

    // Leaflets on each side of the stem, and where the stem begins and ends on the mark, pixels.
    private const int Leaflets = 7;
    private static readonly SKPoint Foot = new(170, 318);
    private static readonly SKPoint Bend = new(150, 170);
    private static readonly SKPoint Tip = new(222, 62);

    /// <summary>The mark as PNG on a clear ground.</summary>
    public static (byte[] Png, int Width, int Height) Draw()
    {
        using var surface = SKSurface.Create(new SKImageInfo(Side, Side, SKColorType.Rgba8888, SKAlphaType.Premul));
        var canvas = surface.Canvas;
        canvas.Clear(SKColors.Transparent);
        using var ground = new SKPaint { Color = SKColor.Parse(DemoDesk.Colour), IsAntialias = true };
        using var leaf = new SKPaint { Color = SKColor.Parse("#e8f1da"), IsAntialias = true };
        using var stem = new SKPaint { Color = leaf.Color, IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeWidth = 9, StrokeCap = SKStrokeCap.Round };
        canvas.DrawRoundRect(8, 8, Side - 16, Side - 16, 84, 84, ground);

        using var way = new SKPathBuilder();
        way.MoveTo(Foot);
        way.QuadTo(Bend, Tip);
        using var path = way.Detach();
        canvas.DrawPath(path, stem);
        for (var pair = 0; pair < Leaflets; pair++)
        {
            var along = 0.2f + (0.74f * pair / (Leaflets - 1));
            var (at, direction) = On(along);
            var length = 104 * (1 - (0.78f * (along - 0.2f)));
            foreach (var side in new[] { -1, 1 })
            {
                canvas.Save();
                canvas.Translate(at);
                canvas.RotateDegrees(direction + (side * 62));
                canvas.DrawOval(SKRect.Create(0, -length * 0.13f, length, length * 0.26f), leaf);
                canvas.Restore();
            }
        }

        using var picture = surface.Snapshot();
        using var png = picture.Encode(SKEncodedImageFormat.Png, 100);
        return (png.ToArray(), Side, Side);
    }

    /// <summary>Point and direction, degrees, at a share of the stem.</summary>
    private static (SKPoint At, float Degrees) On(float t)
    {
        var (u, v) = (1 - t, t);
        var at = new SKPoint((u * u * Foot.X) + (2 * u * v * Bend.X) + (v * v * Tip.X), (u * u * Foot.Y) + (2 * u * v * Bend.Y) + (v * v * Tip.Y));
        var slope = new SKPoint((2 * u * (Bend.X - Foot.X)) + (2 * v * (Tip.X - Bend.X)), (2 * u * (Bend.Y - Foot.Y)) + (2 * v * (Tip.Y - Bend.Y)));
        return (at, MathF.Atan2(slope.Y, slope.X) * 180 / MathF.PI);
    }
}
