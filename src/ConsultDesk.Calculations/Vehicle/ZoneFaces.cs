namespace ConsultDesk.Calculations.Vehicle;

/// <summary>The outside faces of the zones' boxes.</summary>
internal static class ZoneFaces
{
    /// <summary>Area a zone has on a face of the body, 0 where it does not reach it, m2.</summary>
    public static double AreaM2(Body body, Zone zone, Face face)
    {
        double lengthM = zone.To.Meters - zone.From.Meters;
        double heightM = zone.Top.Meters - zone.Bottom.Meters;
        double widthM = body.InteriorWidth.Meters;
        return face switch
        {
            Face.Left or Face.Right => lengthM * heightM,
            Face.Roof => zone.Top.Meters >= body.InteriorHeight.Meters - Openings.EdgeToleranceM ? lengthM * widthM : 0,
            Face.Floor => zone.Bottom.Meters <= Openings.EdgeToleranceM ? lengthM * widthM : 0,
            Face.Nose => zone.From.Meters <= Openings.EdgeToleranceM ? widthM * heightM : 0,
            Face.Tail => zone.To.Meters >= body.InteriorLength.Meters - Openings.EdgeToleranceM ? widthM * heightM : 0,
            _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
        };
    }

    /// <summary>Area a zone has on walls and doors, m2.</summary>
    public static double WallsM2(Body body, Zone zone) =>
        AreaM2(body, zone, Face.Left) + AreaM2(body, zone, Face.Right) + AreaM2(body, zone, Face.Nose) + AreaM2(body, zone, Face.Tail);

    /// <summary>Body area of a zone that is neither glass nor opening, m2.</summary>
    public static double OpaqueM2(Design design, Zone zone) => Enum.GetValues<Face>().Sum(face => OpaqueM2(design, zone, face));

    /// <summary>Area of a zone on a face that is neither glass nor opening, m2.</summary>
    public static double OpaqueM2(Design design, Zone zone, Face face) =>
        AreaM2(design.Body, zone, face)
        - design.Glazings.Where(glazing => glazing.ZoneId == zone.Id && glazing.Face == face).Sum(glazing => glazing.Area.SquareMeters)
        - design.Openings.Where(opening => opening.ZoneId == zone.Id && opening.Face == face).Sum(opening => opening.Length.Meters * opening.Width.Meters);
}
