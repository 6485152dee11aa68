using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Costs;

/// <summary>Parts of a design as the price book describes them: proposed, with their key, sizes and facts.</summary>
public static class BookedParts
{
    // How far from the wished point a place is looked for along a face, to both sides. Our judgement.
    private static readonly Length Reach = Length.FromMeters(0.6);

    /// <summary>What of the price book <see cref="OpeningOf"/> makes an opening of.</summary>
    public static IReadOnlyList<PriceKind> Openable { get; } =
        [PriceKind.RoofFan, PriceKind.RoofVent, PriceKind.SlidingWindow, PriceKind.HingedWindow, PriceKind.FloorVent, PriceKind.CabWindowVent, PriceKind.CabWindowDeflector];

    /// <summary>
    /// The design with the opening an item describes, as near as possible to a point of a face where nothing stands
    /// against it; null when there is no such place within 0.6 m.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="item">An item that is an opening.</param>
    /// <param name="face">The face it is cut into.</param>
    /// <param name="x">Preferred centre from the windscreen.</param>
    public static Design? Add(Design design, PriceItem item, Face face, Length x) =>
        NewOpenings.Place(design, OpeningOf(design, item) with { Face = face, X = x }, Reach);

    /// <summary>
    /// The opening an item describes: the generic one of its kind with the sizes and facts the item states, at the place
    /// where such a thing usually goes; it is not in the design yet. It stands open as it would be used: a lid and a vent
    /// fully, a window half, a fan blowing out slowly, a cab window ajar behind its deflector.
    /// </summary>
    /// <exception cref="ArgumentException">The item is no opening.</exception>
    public static Opening OpeningOf(Design design, PriceItem item)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(item);
        Opening generic = item.Kind switch
        {
            PriceKind.RoofFan => NewOpenings.RoofFan(design),
            PriceKind.RoofVent => NewOpenings.RoofVent(design),
            PriceKind.SlidingWindow => NewOpenings.SlidingWindow(design),
            PriceKind.HingedWindow => NewOpenings.HingedWindow(design),
            PriceKind.FloorVent => NewOpenings.FloorVent(design),
            PriceKind.CabWindowVent => NewOpenings.CabWindowGrille(design),
            PriceKind.CabWindowDeflector => NewOpenings.CabWindowWithDeflector(design),
            _ => throw new ArgumentException($"'{item.Name}' is no opening.", nameof(item)),
        };
        OpeningFacts facts = FactsOf(item);
        return generic with
        {
            Id = Openings.NewId(design, item.Key),
            Name = Openings.NewName(design, item.Name),
            Length = Millimetres(item, "lengthMm") ?? generic.Length,
            Width = Millimetres(item, "widthMm") ?? generic.Width,
            FreeShare = PriceFacts.NumberOf(item, "freeShare") ?? generic.FreeShare,
            Position = facts.Fixed ? Position.Full : generic.Kind switch
            {
                OpeningKind.SlidingWindow or OpeningKind.HingedWindow => Position.Half,
                OpeningKind.CabWindow => Position.Ajar,
                _ => Position.Full,
            },
            Facts = facts,
            Fan = generic.Fan is Fan fan ? fan with
            {
                FreeAirFlow = PriceFacts.NumberOf(item, "freeAirFlowM3PerH") is double flow ? VolumeFlow.FromCubicMetersPerHour(flow) : fan.FreeAirFlow,
                ShutOffPressure = PriceFacts.NumberOf(item, "shutOffPa") is double pressure ? Pressure.FromPascals(pressure) : fan.ShutOffPressure,
                SoundDba = PriceFacts.NumberOf(item, "soundDba"),
            } : null,
            Pane = PriceFacts.ChoiceOf<GlassKind>(item, "glass") is GlassKind glass ? new Pane(glass, Cover.None) : generic.Pane,
            PriceKey = item.Key,
        };
    }

    /// <summary>
    /// The same opening bought as another item: its place, position and fan's speed stay; size, facts, fan and glass
    /// become the item's.
    /// </summary>
    public static Design Swap(Design design, string openingId, PriceItem item)
    {
        Opening fresh = OpeningOf(design, item);
        return Openings.Change(design, openingId, old => fresh with
        {
            Id = old.Id,
            Face = old.Face,
            ZoneId = old.ZoneId,
            X = old.X,
            Y = old.Y,
            Z = old.Z,
            Position = fresh.Facts.Fixed ? fresh.Position : old.Position,
            // A vent that gets a fan has it switched off, so that a swap changes nothing but the part.
            Fan = fresh.Fan is Fan fan ? fan with { Speed = old.Fan?.Speed ?? 0, Direction = old.Fan?.Direction ?? fan.Direction } : null,
            Pane = fresh.Pane is Pane pane && old.Pane is Pane was ? pane with { Cover = was.Cover, CoverState = was.CoverState } : fresh.Pane,
            State = old.State,
        });
    }

    /// <summary>The facts an item states of an opening.</summary>
    public static OpeningFacts FactsOf(PriceItem item) => new()
    {
        UsableInRain = PriceFacts.Says(item, "usableInRain"),
        UsableInDrivingRain = PriceFacts.Says(item, "usableInDrivingRain"),
        OpenAsleep = PriceFacts.Says(item, "openAsleep"),
        OpenLocked = PriceFacts.Says(item, "openLocked"),
        RainSensor = PriceFacts.Says(item, "rainSensor"),
        SeenThrough = PriceFacts.Says(item, "seenThrough"),
        Screened = PriceFacts.Says(item, "screened"),
        Fixed = PriceFacts.Says(item, "fixed"),
    };

    private static Length? Millimetres(PriceItem item, string fact) =>
        PriceFacts.NumberOf(item, fact) is double millimetres ? Length.FromMillimeters(millimetres) : null;
}
