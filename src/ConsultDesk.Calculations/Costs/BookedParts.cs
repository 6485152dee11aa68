using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Costs;

/// <summary>Parts of a design as the price book describes them: proposed, with their key, sizes and facts.</summary>
public static class BookedParts
{
    // Speed of a new roof fan: what people sleep beside. Our judgement.
    internal const double NightFanSpeed = 0.3;

    // Step in which a free place is looked for along a face, and how far to both sides.
    private const double StepM = 0.05;
    private const int Steps = 12;

    /// <summary>
    /// The design with the opening an item describes, as near as possible to a point of a face where nothing stands
    /// against it; null when there is no such place within 0.6 m. It stands open as it would be used: a lid and a vent
    /// fully, a window half, a fan blowing out slowly.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="item">An item that is an opening.</param>
    /// <param name="face">The face it is cut into.</param>
    /// <param name="x">Preferred centre from the windscreen.</param>
    public static Design? Add(Design design, PriceItem item, Face face, Length x)
    {
        ArgumentNullException.ThrowIfNull(design);
        Opening opening = OpeningOf(design, item, face);
        return (
            from step in Enumerable.Range(0, (2 * Steps) + 1)
            let away = (step + 1) / 2 * StepM * (step % 2 == 0 ? 1 : -1)
            let placed = Openings.Add(design, opening with { X = Length.FromMeters(Math.Round(x.Meters + away, 3)) })
            where Possible(design, placed)
            select placed).FirstOrDefault();
    }

    /// <summary>The opening an item describes with its facts; where it goes along the face is left to <see cref="Add"/>.</summary>
    /// <exception cref="ArgumentException">The item is no opening.</exception>
    public static Opening OpeningOf(Design design, PriceItem item, Face face)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(item);
        OpeningKind kind = item.Kind switch
        {
            PriceKind.RoofVent or PriceKind.RoofFan => OpeningKind.RoofVent,
            PriceKind.SlidingWindow => OpeningKind.SlidingWindow,
            PriceKind.HingedWindow => OpeningKind.HingedWindow,
            PriceKind.FloorVent => OpeningKind.FloorVent,
            PriceKind.CabWindowVent => OpeningKind.CabWindowVent,
            _ => throw new ArgumentException($"'{item.Name}' is no opening.", nameof(item)),
        };
        bool window = kind is OpeningKind.SlidingWindow or OpeningKind.HingedWindow;
        OpeningFacts facts = FactsOf(item);
        return new Opening
        {
            Id = Openings.NewId(design, item.Key),
            Name = NameOf(design, item.Name),
            Kind = kind,
            Face = face,
            ZoneId = "",
            X = Length.Zero,
            Y = face is Face.Roof ? design.Body.InteriorWidth / 2 : design.Body.InteriorWidth * 0.2,
            Z = face is Face.Roof ? design.Body.InteriorHeight : face is Face.Floor ? Length.Zero : design.Body.InteriorHeight * 0.65,
            Length = Millimetres(item, "lengthMm"),
            Width = Millimetres(item, "widthMm"),
            FreeShare = PriceFacts.NumberOf(item, "freeShare") ?? 1,
            Position = window && !facts.Fixed ? Position.Half : Position.Full,
            Facts = facts,
            Fan = FanOf(item),
            Pane = PriceFacts.ChoiceOf<GlassKind>(item, "glass") is GlassKind glass ? new Pane(glass, Cover.None) : null,
            PriceKey = item.Key,
        };
    }

    /// <summary>
    /// The same opening bought as another item: its place, position and fan's speed stay; size, facts, fan and glass
    /// become the item's.
    /// </summary>
    public static Design Swap(Design design, string openingId, PriceItem item)
    {
        Opening fresh = OpeningOf(design, item, Openings.Find(design, openingId)!.Face);
        return Openings.Change(design, openingId, old => fresh with
        {
            Id = old.Id,
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

    /// <summary>True when an edit leaves nothing wrong that was right and meets nothing.</summary>
    internal static bool Possible(Design before, Design after) =>
        Placement.Refusal(before, after) is null && !DesignCheck.Errors(after).Except(DesignCheck.Errors(before)).Any();

    private static Fan? FanOf(PriceItem item) => item.Kind != PriceKind.RoofFan
        ? null
        : new Fan
        {
            FreeAirFlow = VolumeFlow.FromCubicMetersPerHour(PriceFacts.NumberOf(item, "freeAirFlowM3PerH")!.Value),
            ShutOffPressure = Pressure.FromPascals(PriceFacts.NumberOf(item, "shutOffPa")!.Value),
            Speed = NightFanSpeed,
            Direction = FanDirection.Exhaust,
            SoundDba = PriceFacts.NumberOf(item, "soundDba"),
        };

    private static Length Millimetres(PriceItem item, string fact) => Length.FromMillimeters(
        PriceFacts.NumberOf(item, fact) ?? throw new ArgumentException($"'{item.Name}' does not state {fact}.", nameof(item)));

    // Two openings with one name could not be told apart in the results.
    private static string NameOf(Design design, string name) => design.Openings.All(opening => opening.Name != name)
        ? name
        : Enumerable.Range(2, design.Openings.Length + 1)
            .Select(number => string.Create(CultureInfo.InvariantCulture, $"{name} ({number})"))
            .First(candidate => design.Openings.All(opening => opening.Name != candidate));
}
