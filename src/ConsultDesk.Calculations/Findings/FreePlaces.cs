using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Finds room for an opening on roof or floor.</summary>
internal static class FreePlaces
{
    private const double EdgeM = 0.05;
    private const int Steps = 12;

    /// <summary>
    /// The opening at a place behind the cab where it overlaps no other and cuts nothing known behind the skin, the
    /// nearest to a wished point, or null when the face is full.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="opening">An opening of roof or floor.</param>
    /// <param name="wishedX">Wished centre along the van; the middle of the room by default.</param>
    public static Opening? First(Design design, Opening opening, Length? wishedX = null)
    {
        double roomFromM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        double fromX = roomFromM + (opening.Length.Meters / 2) + EdgeM;
        double toX = design.Body.InteriorLength.Meters - (opening.Length.Meters / 2) - EdgeM;
        double fromY = (opening.Width.Meters / 2) + EdgeM;
        double toY = design.Body.InteriorWidth.Meters - fromY;
        double wishX = wishedX?.Meters ?? (fromX + toX) / 2;
        double wishY = (fromY + toY) / 2;
        return (
            from x in Enumerable.Range(0, Steps + 1).Select(step => fromX + (step * (toX - fromX) / Steps))
            from y in Enumerable.Range(0, Steps + 1).Select(step => fromY + (step * (toY - fromY) / Steps))
            where toX >= fromX && toY >= fromY
            orderby Math.Abs(x - wishX) + Math.Abs(y - wishY)
            select opening with { X = Length.FromMeters(x), Y = Length.FromMeters(y) })
            .FirstOrDefault(place => !design.Openings.Any(other => Overlap(place, other)) && HiddenParts.CutBy(design.Body, place).IsEmpty);
    }

    private static bool Overlap(Opening a, Opening b) =>
        a.Face == b.Face
        && Math.Abs(a.X.Meters - b.X.Meters) < (a.Length.Meters + b.Length.Meters) / 2
        && Math.Abs(a.Y.Meters - b.Y.Meters) < (a.Width.Meters + b.Width.Meters) / 2;
}
