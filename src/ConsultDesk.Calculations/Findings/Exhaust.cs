using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Where the gases of a heater with a pipe to outside leave, and what is near.</summary>
internal static class Exhaust
{
    /// <summary>The end of the exhaust, or null where there is none or nobody knows.</summary>
    public static BodyPoint? Of(Design design) => design.Heater.Kind.HasExhaust()
        ? design.Equipment.HeaterExhaust
        : null;

    /// <summary>The opening nearest to a point and how far its frame is from there in a straight line; null without openings.</summary>
    public static (Opening Opening, Length Distance)? Nearest(Design design, BodyPoint point) => design.Openings
        .Select(opening => ((Opening Opening, Length Distance)?)(opening, DistanceTo(design.Body, point, opening)))
        .MinBy(pair => pair!.Value.Distance.Meters);

    /// <summary>True when an opening is so near a point that gases leaving there would be taken in.</summary>
    public static bool IsBeside(Design design, BodyPoint point, Opening opening) =>
        DistanceTo(design.Body, point, opening).Meters < FindingLimits.Of("exhaust-to-opening");

    /// <summary>Height of a point above the ground.</summary>
    public static Length AboveGround(Body body, BodyPoint point) =>
        Length.FromMeters(body.FloorAboveGround.Meters + OnFace(body, point.Face, point.X.Meters, point.Y.Meters, point.Z.Meters).Z);

    /// <summary>How far the frame of an opening is from a point in a straight line.</summary>
    public static Length DistanceTo(Body body, BodyPoint point, Opening opening)
    {
        (double px, double py, double pz) = OnFace(body, point.Face, point.X.Meters, point.Y.Meters, point.Z.Meters);
        (double ox, double oy, double oz) = OnFace(body, opening.Face, opening.X.Meters, opening.Y.Meters, opening.Z.Meters);
        double half = opening.Length.Meters / 2;
        double side = opening.Width.Meters / 2;
        (double sx, double sy, double sz) = opening.Face switch
        {
            Face.Roof or Face.Floor => (half, side, 0.0),
            Face.Left or Face.Right => (half, 0.0, side),
            Face.Nose or Face.Tail => (0.0, half, side),
            _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
        };
        return Length.FromMeters(Math.Sqrt(Square(Gap(px - ox, sx)) + Square(Gap(py - oy, sy)) + Square(Gap(pz - oz, sz))));
    }

    /// <summary>How far two points of the body are apart in a straight line.</summary>
    public static Length Between(Body body, BodyPoint a, BodyPoint b)
    {
        (double ax, double ay, double az) = OnFace(body, a.Face, a.X.Meters, a.Y.Meters, a.Z.Meters);
        (double bx, double by, double bz) = OnFace(body, b.Face, b.X.Meters, b.Y.Meters, b.Z.Meters);
        return Length.FromMeters(Math.Sqrt(Square(ax - bx) + Square(ay - by) + Square(az - bz)));
    }

    private static double Gap(double away, double half) => Math.Max(0, Math.Abs(away) - half);

    private static double Square(double value) => value * value;

    // The coordinate a face fixes is that of the face.
    private static (double X, double Y, double Z) OnFace(Body body, Face face, double x, double y, double z) => face switch
    {
        Face.Roof => (x, y, body.InteriorHeight.Meters),
        Face.Floor => (x, y, 0),
        Face.Left => (x, 0, z),
        Face.Right => (x, body.InteriorWidth.Meters, z),
        Face.Nose => (0, y, z),
        Face.Tail => (body.InteriorLength.Meters, y, z),
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };
}
