using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Finds room for an opening on roof or floor.</summary>
internal static class FreePlaces
{
    private const double EdgeM = 0.05;
    private const int Steps = 12;

    /// <summary>
    /// The opening at a place behind the cab where it overlaps no other, cuts nothing known behind the skin, lies under nothing
    /// on the roof and keeps off the heater's exhaust, the nearest to a wished point, or null when the face is full.
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
            .FirstOrDefault(place => !RoofPlan.ClashesOf(design, place).Any() && !NearExhaust(design, place));
    }

    private static bool NearExhaust(Design design, Opening place) => Exhaust.Of(design) is BodyPoint exhaust
        && Exhaust.IsBeside(design, exhaust, place);
}
