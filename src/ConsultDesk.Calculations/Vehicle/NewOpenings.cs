using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Openings to add: generic sizes and facts (our judgement), at the first place where they fit.</summary>
public static class NewOpenings
{
    /// <summary>Speed of a new roof fan as a share of full speed: what people sleep beside. Our judgement.</summary>
    internal const double NightFanSpeed = 0.3;

    // Step along the van in which a free place is looked for.
    private const double StepM = 0.05;

    /// <summary>The kinds that can be added, as the buttons say them.</summary>
    public static IReadOnlyList<(string Text, Func<Design, Opening> Make)> Kinds { get; } =
    [
        ("Roof fan", RoofFan),
        ("Roof vent", RoofVent),
        ("Hooded roof fan", HoodedRoofFan),
        ("Sliding window", SlidingWindow),
        ("Hinged window", HingedWindow),
        ("Sliding-door window", SlidingDoorWindow),
        ("Cab window", design => CabWindow(design, "Cab window", usableInRain: false)),
        ("Cab window with deflector", CabWindowWithDeflector),
        ("Cab window grille", CabWindowGrille),
        ("Fresh-air flap", design => Another(design, FactoryOpenings.FreshAirFlap(design))),
        ("Pressure-relief flaps", design => Another(design, FactoryOpenings.ReliefFlaps(design))),
        ("Floor vent", FloorVent),
    ];

    /// <summary>
    /// The design with the opening at the place, nearest to the preferred one, where nothing is wrong with it and it meets
    /// nothing, or null when there is none: behind the cab, at the cab's doors what belongs to them, across the nose or the
    /// tail what sits there. A window is tried in the other wall when its own is full.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="opening">The opening at its preferred place; it is not in the design yet.</param>
    public static Design? Place(Design design, Opening opening)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(opening);
        Face[] faces = opening.Face switch
        {
            Face.Left => [Face.Left, Face.Right],
            Face.Right => [Face.Right, Face.Left],
            _ => [opening.Face],
        };
        return (
            from face in faces
            from place in Places(design, opening)
            select At(design, opening with { Face = face }, place))
            .FirstOrDefault(placed => Placement.IsPossible(design, placed));
    }

    /// <summary>As <see cref="Place(Design, Opening)"/>, on the opening's own face and no farther than this from the preferred place.</summary>
    public static Design? Place(Design design, Opening opening, Length within)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(opening);
        return Places(design, opening)
            .TakeWhile(place => Math.Abs(place - Preferred(opening)) <= within.Meters + Openings.EdgeToleranceM)
            .Select(place => At(design, opening, place))
            .FirstOrDefault(placed => Placement.IsPossible(design, placed));
    }

    // Centres along the face, the nearest to the preferred one first.
    private static IEnumerable<double> Places(Design design, Opening opening)
    {
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        bool inCab = opening.Kind is OpeningKind.CabWindow or OpeningKind.CabWindowVent;
        double half = opening.Length.Meters / 2;
        double fromM = (inCab || AtEnd(opening) ? 0 : cabM) + half;
        double toM = (AtEnd(opening) ? design.Body.InteriorWidth.Meters : inCab ? cabM : design.Body.InteriorLength.Meters) - half;
        double preferredM = Preferred(opening);
        double[] places =
        [
            preferredM,
            .. Enumerable.Range(0, 1 + (int)Math.Max(0, (toM - fromM) / StepM))
                .Select(step => Math.Round(fromM + (step * StepM), 3))
                .OrderBy(place => Math.Abs(place - preferredM)),
        ];
        return places.Where(place => place >= fromM && place <= toM);
    }

    private static bool AtEnd(Opening opening) => opening.Face is Face.Nose or Face.Tail;

    private static double Preferred(Opening opening) => (AtEnd(opening) ? opening.Y : opening.X).Meters;

    private static Design At(Design design, Opening opening, double placeM)
    {
        Length there = Length.FromMeters(placeM);
        return Openings.Add(design, AtEnd(opening) ? opening with { Y = there } : opening with { X = there });
    }

    internal static Opening RoofFan(Design design) => Fanned(RoofVent(design, "roof-fan", "Roof fan, 350 mm"), cubicMetresPerSecond: 0.42);

    internal static Opening RoofVent(Design design) => RoofVent(design, "roof-vent", "Roof vent, 350 mm");

    internal static Opening SlidingWindow(Design design) => Window(design, OpeningKind.SlidingWindow, "sliding-window", "Sliding window", freeShare: 0.45);

    internal static Opening HingedWindow(Design design) => Window(design, OpeningKind.HingedWindow, "hinged-window", "Hinged window", freeShare: 0.7);

    internal static Opening CabWindowWithDeflector(Design design) => CabWindow(design, "Cab window with deflector", usableInRain: true);

    internal static Opening CabWindowGrille(Design design) => CabWindow(design, "Grille in a cab window", usableInRain: true) with
    {
        Id = Openings.NewId(design, "cab-grille"),
        Kind = OpeningKind.CabWindowVent,
        Length = Length.FromMillimeters(600),
        Width = Length.FromMillimeters(60),
        FreeShare = 0.5,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
    };

    internal static Opening FloorVent(Design design) => new()
    {
        Id = Openings.NewId(design, "floor-vent"),
        Name = Openings.NewName(design, "Floor vent"),
        Kind = OpeningKind.FloorVent,
        Face = Face.Floor,
        ZoneId = "",
        X = Openings.RoofX(design, RoofPlace.Front),
        Y = design.Body.InteriorWidth * 0.2,
        Z = Length.Zero,
        Length = Length.FromMillimeters(100),
        Width = Length.FromMillimeters(100),
        FreeShare = 0.6,
        Position = Position.Full,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
    };

    private static Opening HoodedRoofFan(Design design) => Fanned(RoofVent(design, "roof-fan", "Roof fan, 350 mm, rain hood"), cubicMetresPerSecond: 0.39) with
    {
        Facts = new OpeningFacts { UsableInRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
    };

    private static Opening SlidingDoorWindow(Design design) =>
        Window(design, OpeningKind.SlidingWindow, "door-window", "Half-slider window in the sliding door", freeShare: 0.4) with
        {
            Face = Face.Right,
            Length = Length.FromMillimeters(900),
            Width = Length.FromMillimeters(450),
            Pane = new Pane(GlassKind.SinglePane, Cover.None),
        };

    private static Opening Fanned(Opening vent, double cubicMetresPerSecond) => vent with
    {
        Position = Position.Full,
        Fan = new Fan
        {
            FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(cubicMetresPerSecond),
            ShutOffPressure = Pressure.FromPascals(40),
            Speed = NightFanSpeed,
            Direction = FanDirection.Exhaust,
            // As its like in the price book; our judgement.
            SoundDba = 64,
        },
    };

    private static Opening RoofVent(Design design, string stem, string name) => new()
    {
        Id = Openings.NewId(design, stem),
        Name = Openings.NewName(design, name),
        Kind = OpeningKind.RoofVent,
        Face = Face.Roof,
        ZoneId = "",
        X = Openings.RoofX(design, RoofPlace.Front),
        Y = design.Body.InteriorWidth / 2,
        Z = design.Body.InteriorHeight,
        Length = Length.FromMillimeters(350),
        Width = Length.FromMillimeters(350),
        FreeShare = 1,
        Position = Position.Shut,
        Facts = new OpeningFacts { OpenAsleep = true, Screened = true },
    };

    private static Opening Window(Design design, OpeningKind kind, string stem, string name, double freeShare) => new()
    {
        Id = Openings.NewId(design, stem),
        Name = Openings.NewName(design, name),
        Kind = kind,
        Face = Face.Left,
        ZoneId = "",
        X = Openings.RoofX(design, RoofPlace.Front),
        Y = Length.Zero,
        Z = design.Body.InteriorHeight * 0.65,
        Length = Length.FromMillimeters(600),
        Width = Length.FromMillimeters(350),
        FreeShare = freeShare,
        Position = Position.Shut,
        Facts = new OpeningFacts { OpenAsleep = true, SeenThrough = true, Screened = true },
        Pane = new Pane(GlassKind.AcrylicDouble, Cover.None),
    };

    private static Opening CabWindow(Design design, string name, bool usableInRain) => FactoryOpenings.CabWindow(design, Face.Left) with
    {
        Id = Openings.NewId(design, "cab-window"),
        Name = Openings.NewName(design, name),
        Facts = new OpeningFacts { UsableInRain = usableInRain, OpenAsleep = usableInRain, SeenThrough = true },
    };

    private static Opening Another(Design design, Opening flap) => flap with { Id = Openings.NewId(design, flap.Id), Name = Openings.NewName(design, flap.Name) };
}
