using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>Openings to add: generic sizes and facts (our judgement), at the first place where they fit.</summary>
public static class NewOpening
{
    // Step along the van in which a free place is looked for.
    private const double StepM = 0.05;

    /// <summary>The kinds that can be added, as the buttons say them.</summary>
    public static IReadOnlyList<(string Text, Func<Design, Opening> Make)> Kinds { get; } =
    [
        ("Roof fan", design => RoofVent(design, "roof-fan", "Roof fan, 350 mm") with
        {
            Position = Position.Full,
            Fan = new Fan
            {
                FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.42),
                ShutOffPressure = Pressure.FromPascals(40),
                Speed = 0.3,
                Direction = FanDirection.Exhaust,
            },
        }),
        ("Roof vent", design => RoofVent(design, "roof-vent", "Roof vent, 350 mm")),
        ("Sliding window", design => Window(design, OpeningKind.SlidingWindow, "sliding-window", "Sliding window", freeShare: 0.45)),
        ("Hinged window", design => Window(design, OpeningKind.HingedWindow, "hinged-window", "Hinged window", freeShare: 0.7)),
        ("Floor vent", design => new Opening
        {
            Id = Openings.NewId(design, "floor-vent"),
            Name = Named(design, "Floor vent"),
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
        }),
    ];

    /// <summary>
    /// The design with the opening at the place behind the cab, nearest to the preferred one, where nothing is wrong
    /// with it, or null when there is none. A window is tried in the other wall when its own is full.
    /// </summary>
    public static Design? Place(Design design, Opening opening)
    {
        var before = DesignCheck.Errors(design);
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        double fromM = cabM + (opening.Length.Meters / 2);
        double toM = design.Body.InteriorLength.Meters - (opening.Length.Meters / 2);
        double[] places =
        [
            opening.X.Meters,
            .. Enumerable.Range(0, 1 + (int)Math.Max(0, (toM - fromM) / StepM))
                .Select(step => Math.Round(fromM + (step * StepM), 3))
                .OrderBy(place => Math.Abs(place - opening.X.Meters)),
        ];
        Face[] faces = opening.Face switch
        {
            Face.Left => [Face.Left, Face.Right],
            Face.Right => [Face.Right, Face.Left],
            _ => [opening.Face],
        };
        return (
            from face in faces
            from place in places
            where place >= fromM && place <= toM
            select Openings.Add(design, opening with { Face = face, X = Length.FromMeters(place) }))
            .FirstOrDefault(candidate => !DesignCheck.Errors(candidate).Except(before).Any());
    }

    private static Opening RoofVent(Design design, string stem, string name) => new()
    {
        Id = Openings.NewId(design, stem),
        Name = Named(design, name),
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
        Name = Named(design, name),
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
        Facts = new OpeningFacts { OpenAsleep = true, Screened = true },
        Pane = new Pane(GlassKind.AcrylicDouble, Cover.None),
    };

    // Two openings with one name could not be told apart in the results.
    private static string Named(Design design, string name) => design.Openings.All(opening => opening.Name != name)
        ? name
        : Enumerable.Range(2, design.Openings.Length + 1)
            .Select(number => FormattableString.Invariant($"{name} ({number})"))
            .First(candidate => design.Openings.All(opening => opening.Name != candidate));
}
