namespace ConsultDesk.Calculations.Vehicle;

/// <summary>The outside faces of the zones' boxes.</summary>
internal static class ZoneFaces
{
    /// <summary>Area a zone has on a face of the body, 0 where it does not reach it, m2. What a cupboard covers is the cupboard's.</summary>
    public static double AreaM2(Design design, Zone zone, Face face) =>
        BoxM2(design.Body, zone, face)
        - design.Zones.Where(cupboard => cupboard.Cupboard?.HostZoneId == zone.Id).Sum(cupboard => BoxM2(design.Body, cupboard, face));

    /// <summary>Area a zone has on walls and doors, m2.</summary>
    public static double WallsM2(Design design, Zone zone) =>
        AreaM2(design, zone, Face.Left) + AreaM2(design, zone, Face.Right) + AreaM2(design, zone, Face.Nose) + AreaM2(design, zone, Face.Tail);

    /// <summary>Body area of a zone that is neither glass nor opening, m2.</summary>
    public static double OpaqueM2(Design design, Zone zone) => Enum.GetValues<Face>().Sum(face => OpaqueM2(design, zone, face));

    /// <summary>Area of a zone on a face that is neither glass nor opening, m2.</summary>
    public static double OpaqueM2(Design design, Zone zone, Face face) =>
        AreaM2(design, zone, face)
        - design.Glazings.Where(glazing => glazing.ZoneId == zone.Id && glazing.Face == face).Sum(glazing => glazing.Area.SquareMeters)
        - design.Openings.Where(opening => opening.ZoneId == zone.Id && opening.Face == face).Sum(opening => opening.Length.Meters * opening.Width.Meters);

    /// <summary>Volume of the zone's box, things in it and cupboards carved out of it included, m3.</summary>
    public static double BoxM3(Body body, Zone zone) =>
        (zone.To.Meters - zone.From.Meters) * (zone.Top.Meters - zone.Bottom.Meters) * WidthM(body, zone);

    /// <summary>Volume of the zone's box without the cupboards carved out of it, m3.</summary>
    public static double RoomM3(Design design, Zone zone) =>
        BoxM3(design.Body, zone)
        - design.Zones.Where(cupboard => cupboard.Cupboard?.HostZoneId == zone.Id).Sum(cupboard => BoxM3(design.Body, cupboard));

    private static double WidthM(Body body, Zone zone) => zone.Cupboard?.Depth.Meters ?? body.InteriorWidth.Meters;

    private static double BoxM2(Body body, Zone zone, Face face)
    {
        double lengthM = zone.To.Meters - zone.From.Meters;
        double heightM = zone.Top.Meters - zone.Bottom.Meters;
        double widthM = WidthM(body, zone);
        return face switch
        {
            Face.Left or Face.Right => zone.Cupboard is null || zone.Cupboard.Wall == face ? lengthM * heightM : 0,
            Face.Roof => zone.Top.Meters >= body.InteriorHeight.Meters - Openings.EdgeToleranceM ? lengthM * widthM : 0,
            Face.Floor => zone.Bottom.Meters <= Openings.EdgeToleranceM ? lengthM * widthM : 0,
            Face.Nose => zone.From.Meters <= Openings.EdgeToleranceM ? widthM * heightM : 0,
            Face.Tail => zone.To.Meters >= body.InteriorLength.Meters - Openings.EdgeToleranceM ? widthM * heightM : 0,
            _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
        };
    }
}
