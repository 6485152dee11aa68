using ConsultDesk.Calculations.Costs;
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
        ("Hooded roof fan", design => RoofVent(design, "roof-fan", "Roof fan, 350 mm, rain hood") with
        {
            Position = Position.Full,
            Facts = new OpeningFacts { UsableInRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
            Fan = new Fan
            {
                FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.39),
                ShutOffPressure = Pressure.FromPascals(40),
                Speed = 0.3,
                Direction = FanDirection.Exhaust,
            },
        }),
        ("Sliding window", design => Window(design, OpeningKind.SlidingWindow, "sliding-window", "Sliding window", freeShare: 0.45)),
        ("Hinged window", design => Window(design, OpeningKind.HingedWindow, "hinged-window", "Hinged window", freeShare: 0.7)),
        ("Sliding-door window", design => Window(design, OpeningKind.SlidingWindow, "door-window", "Half-slider window in the sliding door", freeShare: 0.4) with
        {
            Face = Face.Right,
            Length = Length.FromMillimeters(900),
            Width = Length.FromMillimeters(450),
            Pane = new Pane(GlassKind.SinglePane, Cover.None),
        }),
        ("Cab window", design => CabWindow(design, "Cab window", usableInRain: false)),
        ("Cab window with deflector", design => CabWindow(design, "Cab window with deflector", usableInRain: true)),
        ("Cab window grille", design => CabWindow(design, "Grille in a cab window", usableInRain: true) with
        {
            Id = Openings.NewId(design, "cab-grille"),
            Kind = OpeningKind.CabWindowVent,
            Length = Length.FromMillimeters(600),
            Width = Length.FromMillimeters(60),
            FreeShare = 0.5,
            Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
        }),
        ("Fresh-air flap", design => Flap(design, OpeningKind.FreshAirFlap, "fresh-air-flap", "The van's fresh-air flap", Face.Nose, 0.45)),
        ("Pressure-relief flap", design => Flap(design, OpeningKind.PressureReliefFlap, "relief-flap", "The van's pressure-relief flap", Face.Tail, 0.2)),
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

    /// <summary>What of the price book <see cref="From"/> makes an opening of.</summary>
    public static IReadOnlyList<PriceKind> Sold { get; } =
        [PriceKind.RoofFan, PriceKind.RoofVent, PriceKind.SlidingWindow, PriceKind.HingedWindow, PriceKind.FloorVent, PriceKind.CabWindowVent, PriceKind.CabWindowDeflector];

    /// <summary>An opening as an item of the price book describes it, one of <see cref="Sold"/>; it is not in the design yet.</summary>
    public static Opening From(Design design, PriceItem item)
    {
        var like = item.Kind switch
        {
            PriceKind.RoofFan => "Roof fan",
            PriceKind.RoofVent => "Roof vent",
            PriceKind.SlidingWindow => "Sliding window",
            PriceKind.HingedWindow => "Hinged window",
            PriceKind.FloorVent => "Floor vent",
            PriceKind.CabWindowVent => "Cab window grille",
            PriceKind.CabWindowDeflector => "Cab window with deflector",
            _ => throw new ArgumentException($"A {item.Kind} is no opening.", nameof(item)),
        };
        var opening = Kinds.First(kind => kind.Text == like).Make(design);
        return opening with
        {
            Name = Named(design, item.Name),
            Length = PriceFacts.NumberOf(item, "lengthMm") is { } length ? Length.FromMillimeters(length) : opening.Length,
            Width = PriceFacts.NumberOf(item, "widthMm") is { } width ? Length.FromMillimeters(width) : opening.Width,
            FreeShare = PriceFacts.NumberOf(item, "freeShare") ?? opening.FreeShare,
            Position = PriceFacts.Says(item, "fixed") ? Position.Full : opening.Position,
            PriceKey = item.Key,
            Fan = opening.Fan is { } fan ? fan with
            {
                FreeAirFlow = PriceFacts.NumberOf(item, "freeAirFlowM3PerH") is { } flow ? VolumeFlow.FromCubicMetersPerHour(flow) : fan.FreeAirFlow,
                ShutOffPressure = PriceFacts.NumberOf(item, "shutOffPa") is { } pressure ? Pressure.FromPascals(pressure) : fan.ShutOffPressure,
                SoundDba = PriceFacts.NumberOf(item, "soundDba"),
            } : null,
            Pane = PriceFacts.ChoiceOf<GlassKind>(item, "glass") is { } glass ? new Pane(glass, Cover.None) : opening.Pane,
            Facts = BookedParts.FactsOf(item),
        };
    }

    /// <summary>
    /// The design with the opening at the place, nearest to the preferred one, where nothing is wrong with it, or null
    /// when there is none: behind the cab, at the cab's doors what belongs to them, across the nose or the tail what sits
    /// there. A window is tried in the other wall when its own is full.
    /// </summary>
    public static Design? Place(Design design, Opening opening)
    {
        var before = DesignCheck.Errors(design);
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        bool inCab = opening.Kind is OpeningKind.CabWindow or OpeningKind.CabWindowVent;
        bool atEnd = opening.Face is Face.Nose or Face.Tail;
        double half = opening.Length.Meters / 2;
        double fromM = (inCab || atEnd ? 0 : cabM) + half;
        double toM = (atEnd ? design.Body.InteriorWidth.Meters : inCab ? cabM : design.Body.InteriorLength.Meters) - half;
        double preferredM = (atEnd ? opening.Y : opening.X).Meters;
        double[] places =
        [
            preferredM,
            .. Enumerable.Range(0, 1 + (int)Math.Max(0, (toM - fromM) / StepM))
                .Select(step => Math.Round(fromM + (step * StepM), 3))
                .OrderBy(place => Math.Abs(place - preferredM)),
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
            let there = Length.FromMeters(place)
            select Openings.Add(design, atEnd ? opening with { Y = there } : opening with { Face = face, X = there }))
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

    // The pane of a cab window is counted with the cab's glass, so the opening has none of its own.
    private static Opening CabWindow(Design design, string name, bool usableInRain)
    {
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(1).Max();
        return new()
        {
            Id = Openings.NewId(design, "cab-window"),
            Name = Named(design, name),
            Kind = OpeningKind.CabWindow,
            Face = Face.Left,
            ZoneId = "",
            X = Length.FromMeters(Math.Round(cabM * 0.6, 3)),
            Y = Length.Zero,
            Z = design.Body.InteriorHeight * 0.6,
            Length = Length.FromMillimeters(Math.Min(600, Math.Floor(cabM * 1000))),
            Width = Length.FromMillimeters(350),
            FreeShare = 0.9,
            Position = Position.Shut,
            Facts = new OpeningFacts { UsableInRain = usableInRain, OpenAsleep = usableInRain, SeenThrough = true },
        };
    }

    // Flaps the van came with: they are there, and say nothing of how far they were covered since.
    private static Opening Flap(Design design, OpeningKind kind, string stem, string name, Face face, double heightShare) => new()
    {
        Id = Openings.NewId(design, stem),
        Name = Named(design, name),
        Kind = kind,
        Face = face,
        ZoneId = "",
        X = face == Face.Nose ? Length.Zero : design.Body.InteriorLength,
        Y = design.Body.InteriorWidth / 2,
        Z = design.Body.InteriorHeight * heightShare,
        Length = Length.FromMillimeters(200),
        Width = Length.FromMillimeters(100),
        FreeShare = 0.5,
        Position = kind == OpeningKind.FreshAirFlap ? Position.Shut : Position.Ajar,
        State = PartState.Fitted,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true },
    };

    // Two openings with one name could not be told apart in the results.
    private static string Named(Design design, string name) => design.Openings.All(opening => opening.Name != name)
        ? name
        : Enumerable.Range(2, design.Openings.Length + 1)
            .Select(number => FormattableString.Invariant($"{name} ({number})"))
            .First(candidate => design.Openings.All(opening => opening.Name != candidate));
}
