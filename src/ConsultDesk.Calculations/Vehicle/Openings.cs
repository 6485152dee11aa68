using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Where a roof vent sits along the van.</summary>
public enum RoofPlace
{
    /// <summary>Over the front third of the room behind the cab.</summary>
    Front,

    /// <summary>Over the middle of the room behind the cab.</summary>
    Middle,

    /// <summary>Over the rear third of the room behind the cab.</summary>
    Rear,
}

/// <summary>Pure edits of a design's openings.</summary>
public static class Openings
{
    // Points this close to a zone's edge count as inside: drawing rounds to the millimetre.
    internal const double EdgeToleranceM = 0.001;

    /// <summary>The zone an opening at this point of a face opens into, or null when no zone reaches it.</summary>
    /// <param name="design">The design.</param>
    /// <param name="face">The face it is cut into.</param>
    /// <param name="x">From the windscreen; ignored on nose and tail.</param>
    /// <param name="z">From the floor; ignored on roof and floor.</param>
    public static Zone? ZoneAt(Design design, Face face, Length x, Length z) =>
        design.Zones.FirstOrDefault(zone => Reaches(design, zone, face, x.Meters, z.Meters));

    /// <summary>
    /// True when the zone lies inside this point of a face. A cupboard reaches its own wall only, and there the zone
    /// around it does not; what is cut into roof, floor or ends beside a cupboard opens into the zone around it.
    /// </summary>
    internal static bool Reaches(Design design, Zone zone, Face face, double xM, double zM)
    {
        Body body = design.Body;
        bool alongInside = Within(xM, zone.From.Meters, zone.To.Meters);
        bool heightInside = Within(zM, zone.Bottom.Meters, zone.Top.Meters);
        if (zone.Cupboard is CupboardPlace place)
        {
            return face == place.Wall && alongInside && heightInside;
        }

        return face switch
        {
            Face.Roof => alongInside && zone.Top.Meters >= body.InteriorHeight.Meters - EdgeToleranceM,
            Face.Floor => alongInside && zone.Bottom.Meters <= EdgeToleranceM,
            Face.Left or Face.Right => alongInside && heightInside
                && !design.Zones.Any(cupboard => cupboard.Cupboard?.HostZoneId == zone.Id && Reaches(design, cupboard, face, xM, zM)),
            Face.Nose => heightInside && zone.From.Meters <= EdgeToleranceM,
            Face.Tail => heightInside && zone.To.Meters >= body.InteriorLength.Meters - EdgeToleranceM,
            _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
        };
    }

    /// <summary>The opening with this id, or null.</summary>
    public static Opening? Find(Design design, string id) => design.Openings.FirstOrDefault(opening => opening.Id == id);

    /// <summary>The design with one opening changed.</summary>
    /// <exception cref="ArgumentException">There is no such opening.</exception>
    public static Design Change(Design design, string id, Func<Opening, Opening> change)
    {
        int index = design.Openings.ToList().FindIndex(opening => opening.Id == id);
        return index >= 0
            ? design with { Openings = design.Openings.SetItem(index, change(design.Openings[index])) }
            : throw new ArgumentException($"There is no opening '{id}'.", nameof(id));
    }

    /// <summary>
    /// The design with an opening moved to a point of its face and given to the zone there. Where no zone reaches the
    /// point its zone stays, and <see cref="DesignCheck"/> says so.
    /// </summary>
    public static Design Move(Design design, string id, Length x, Length y, Length z) => Change(design, id, opening =>
        opening with
        {
            X = x,
            Y = y,
            Z = z,
            ZoneId = ZoneAt(design, opening.Face, x, z)?.Id ?? opening.ZoneId,
        });

    /// <summary>The design with an opening of the roof moved to the front, middle or rear of the room behind the cab.</summary>
    public static Design MoveOnRoof(Design design, string id, RoofPlace place)
    {
        Opening opening = Find(design, id) ?? throw new ArgumentException($"There is no opening '{id}'.", nameof(id));
        return Move(design, id, RoofX(design, place), opening.Y, opening.Z);
    }

    /// <summary>Centre of the front, middle or rear third of the roof behind the cab.</summary>
    public static Length RoofX(Design design, RoofPlace place)
    {
        double rearM = design.Body.InteriorLength.Meters;
        double frontM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        double share = place switch
        {
            RoofPlace.Front => 1.0 / 6,
            RoofPlace.Middle => 1.0 / 2,
            RoofPlace.Rear => 5.0 / 6,
            _ => throw new ArgumentOutOfRangeException(nameof(place), place, "Expected front, middle or rear."),
        };
        // To the millimetre: nobody cuts a hole to a hundredth of one.
        return Length.FromMeters(Math.Round(frontM + (share * (rearM - frontM)), 3));
    }

    /// <summary>The place of a roof opening that is nearest to where it sits.</summary>
    public static RoofPlace PlaceOf(Design design, Opening opening) => Enum.GetValues<RoofPlace>()
        .MinBy(place => Math.Abs(RoofX(design, place).Meters - opening.X.Meters));

    /// <summary>The design with an opening set to a position.</summary>
    public static Design SetPosition(Design design, string id, Position position) =>
        Change(design, id, opening => opening with { Position = position });

    /// <summary>The design with one opening more, given to the zone at its place.</summary>
    public static Design Add(Design design, Opening opening) => design with
    {
        Openings = design.Openings.Add(opening with
        {
            ZoneId = ZoneAt(design, opening.Face, opening.X, opening.Z)?.Id ?? opening.ZoneId,
        }),
    };

    /// <summary>The design without an opening.</summary>
    public static Design Remove(Design design, string id) => design with
    {
        Openings = [.. design.Openings.Where(opening => opening.Id != id)],
    };

    /// <summary>An id that no opening has yet: the stem, or the stem with a number.</summary>
    public static string NewId(Design design, string stem) => Find(design, stem) is null
        ? stem
        : Enumerable.Range(2, design.Openings.Length + 1)
            .Select(number => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{stem}-{number}"))
            .First(id => Find(design, id) is null);

    /// <summary>A name that no opening has yet, so that two can be told apart in the results: the name, or the name with a number.</summary>
    public static string NewName(Design design, string name) => design.Openings.All(opening => opening.Name != name)
        ? name
        : Enumerable.Range(2, design.Openings.Length + 1)
            .Select(number => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{name} ({number})"))
            .First(candidate => design.Openings.All(opening => opening.Name != candidate));

    /// <summary>Free area when fully open: frame times the free share.</summary>
    public static Area FullFreeArea(Opening opening) => Area.FromSquareMeters(FullFreeAreaM2(opening));

    /// <summary>Free area as it stands now.</summary>
    public static Area FreeArea(Opening opening) =>
        Area.FromSquareMeters(FullFreeAreaM2(opening) * opening.Position.Share());

    /// <summary>Lower edge above the floor.</summary>
    internal static double BottomM(Body body, Opening opening) => opening.Face switch
    {
        Face.Roof => body.InteriorHeight.Meters,
        Face.Floor => 0,
        _ => opening.Z.Meters - (opening.Width.Meters / 2),
    };

    /// <summary>Upper edge above the floor.</summary>
    internal static double TopM(Body body, Opening opening) => opening.Face switch
    {
        Face.Roof => body.InteriorHeight.Meters,
        Face.Floor => 0,
        _ => opening.Z.Meters + (opening.Width.Meters / 2),
    };

    private static double FullFreeAreaM2(Opening opening) =>
        opening.Length.Meters * opening.Width.Meters * opening.FreeShare;

    private static bool Within(double value, double low, double high) =>
        value >= low - EdgeToleranceM && value <= high + EdgeToleranceM;
}
