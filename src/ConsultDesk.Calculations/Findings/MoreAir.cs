using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Ways to let more outdoor air in, the simplest first. A remedy takes the first that is enough.</summary>
internal static class MoreAir
{
    /// <summary>Free area of the low vent a remedy adds.</summary>
    public static readonly Area LowVentArea = Area.FromSquareCentimeters(100);

    /// <summary>Speed of a roof fan by night that people sleep beside, as a share of full speed. Our judgement.</summary>
    public const double NightFanSpeed = NewOpenings.NightFanSpeed;

    /// <summary>
    /// The first way whose night is good enough and that brings no warning the van did not have and no more air than
    /// is worth its heat; or else, of those good enough, the one that brings fewest; or else the best of all. A way that
    /// betters nothing or brings a danger is never taken: then the design stays as it is.
    /// </summary>
    /// <param name="context">The design to better.</param>
    /// <param name="badness">What shall fall, from a design and its night.</param>
    /// <param name="enough">Badness at which to stop.</param>
    /// <param name="ways">The ways to try in order.</param>
    public static Design First(FindingContext context, Func<Design, Assessment, double> badness, double enough, IEnumerable<Func<Design, Design>> ways)
    {
        // The design may have been edited since it was assessed, so even the start is calculated anew.
        Assessment start = context.Reassess(context.Design);
        double startBadness = badness(context.Design, start);
        Lazy<ImmutableHashSet<string>> had = new(() => context.GraveCodes(context.Design, start));
        List<(Design Changed, Assessment Night, double Badness)> better = [];
        (Design Changed, int Price)? enoughAtAPrice = null;
        int priced = 0;
        foreach (Func<Design, Design> way in ways)
        {
            Design changed = way(context.Design);
            if (!DesignCheck.Errors(changed).IsEmpty)
            {
                continue;
            }

            Assessment night = context.Reassess(changed);
            double changedBadness = badness(changed, night);
            if (changedBadness < startBadness)
            {
                better.Add((changed, night, changedBadness));
            }

            if (changedBadness <= enough && Price(context, changed, start, night, had.Value) is int price)
            {
                if (price == 0)
                {
                    return changed;
                }

                priced++;
                enoughAtAPrice = enoughAtAPrice is { } cheapest && cheapest.Price <= price ? cheapest : (changed, price);
                if (priced == PricedWays)
                {
                    break;
                }
            }
        }

        return enoughAtAPrice?.Changed
            ?? better.OrderBy(way => way.Badness).Select(way => way.Changed).FirstOrDefault(changed => !BringsDanger(context, changed, had.Value))
            ?? context.Design;
    }

    /// <summary>True when each sleeper gets so much outdoor air in the cold that more of it costs heat and brings nothing.</summary>
    public static bool Plenty(Design design, Assessment night) => design.Household.Sleepers > 0
        && night.Weather.Temperature.DegreesCelsius < FindingLimits.Of("cold-outdoors")
        && FindingContext.AirPerSleeper(design, night).CubicMetersPerHour > FindingLimits.Of("air-plenty") * Defaults.High("night-air-per-sleeper");

    // Ways that are enough and whose price is looked at before the cheapest is taken.
    private const int PricedWays = 4;

    // What a way costs: each warning it brings, and air beyond what is worth its heat. Null when it brings a danger.
    private static int? Price(FindingContext context, Design changed, Assessment start, Assessment night, ImmutableHashSet<string> had)
    {
        if (BringsDanger(context, changed, had))
        {
            return null;
        }

        bool overAired = Plenty(changed, night) && night.Air.OutdoorAir.CubicMetersPerHour > start.Air.OutdoorAir.CubicMetersPerHour;
        return context.GraveCodes(changed, night).Except(had).Count + (overAired ? 1 : 0);
    }

    private static bool BringsDanger(FindingContext context, Design changed, ImmutableHashSet<string> had) =>
        !context.DangerCodes(changed).Except(had).IsEmpty;

    /// <summary>Ways to let air in: windows ajar to full, a low vent, both.</summary>
    public static IEnumerable<Func<Design, Design>> Inlets =>
    [
        design => Windows(design, Position.Ajar),
        design => Windows(design, Position.Half),
        design => Windows(design, Position.Full),
        AddLowVent,
        design => AddLowVent(Windows(design, Position.Full)),
        design => AddLowVent(AddLowVent(Windows(design, Position.Full))),
    ];

    /// <summary>Ways to let air in and out: inlets first, then roof lids, a running fan, a lid over the bed, and all together.</summary>
    public static IEnumerable<Func<Design, Design>> All =>
    [
        .. Inlets,
        Lids,
        design => AddLowVent(Lids(design)),
        design => AddLowVent(RunFan(Lids(design))),
        design => AddLowVent(RunFan(Windows(Lids(design), Position.Half))),
        design => AddLowVent(RunFan(Windows(Lids(design), Position.Full))),
        AddBedLid,
        design => AddBedLid(AddLowVent(RunFan(Windows(Lids(design), Position.Full)))),
    ];

    /// <summary>Single steps a person can take or have fitted, the smallest first, in words.</summary>
    public static IEnumerable<(string Words, Func<Design, Design> Way)> Steps =>
    [
        ("the windows ajar by night", design => Windows(design, Position.Ajar)),
        ("a low vent in the floor", AddLowVent),
        ("the windows half open by night", design => Windows(design, Position.Half)),
        ("the roof lid fully open and a low vent in the floor", design => AddLowVent(Lids(design))),
        ("the roof fan at three tenths and a low vent in the floor", design => AddLowVent(RunFan(Lids(design)))),
        ("the roof fan at three tenths, a low vent in the floor and the windows half open by night", design => AddLowVent(RunFan(Windows(Lids(design), Position.Half)))),
        ("the roof fan at three tenths, two low vents in the floor and the windows fully open by night", design => AddLowVent(AddLowVent(RunFan(Windows(Lids(design), Position.Full))))),
    ];

    /// <summary>Every window that may stay open asleep, opened at least this far.</summary>
    public static Design Windows(Design design, Position position) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening =>
                opening.Kind != OpeningKind.RoofVent && FactoryOpenings.SetByPeople(opening) && opening.Facts.OpenAsleep && opening.Position < position
                    ? opening with { Position = position }
                    : opening),
        ],
    };

    /// <summary>Every roof lid that may stay open asleep, opened fully.</summary>
    public static Design Lids(Design design) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening =>
                opening.Kind == OpeningKind.RoofVent && opening.Facts.OpenAsleep ? opening with { Position = Position.Full } : opening),
        ],
    };

    /// <summary>Fans in open lids, run at least at the speed of the night.</summary>
    public static Design RunFan(Design design) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening =>
                opening.Fan is Fan fan && opening.Position != Position.Shut && fan.Speed < NightFanSpeed
                    ? opening with { Fan = fan with { Speed = NightFanSpeed } }
                    : opening),
        ],
    };

    /// <summary>One more hooded, screened vent in the floor behind the cab, as far from a roof fan as it goes.</summary>
    public static Design AddLowVent(Design design)
    {
        double roomFromM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(0).Max();
        double roomToM = design.Body.InteriorLength.Meters;
        double fanM = design.Openings.Where(opening => opening.Fan is not null).Select(opening => opening.X.Meters).DefaultIfEmpty(roomToM).First();
        bool fanAtRear = fanM > (roomFromM + roomToM) / 2;
        Length width = Length.FromMillimeters(100);
        Opening vent = new()
        {
            Id = Openings.NewId(design, "low-vent"),
            Name = "Low vent in the floor",
            Kind = OpeningKind.FloorVent,
            Face = Face.Floor,
            ZoneId = "",
            X = Length.FromMeters(fanAtRear ? roomFromM + 0.15 : roomToM - 0.15),
            Y = design.Body.InteriorWidth / 2,
            Z = Length.Zero,
            Length = Length.FromMeters(LowVentArea.SquareMeters / 0.5 / width.Meters),
            Width = width,
            FreeShare = 0.5,
            Position = Position.Full,
            Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true },
        };
        return FreePlaces.First(design, vent, vent.X) is Opening placed ? Openings.Add(design, placed) : design;
    }

    /// <summary>One more hooded, screened lid in the roof over the bed, or over the middle of the van without a bed.</summary>
    public static Design AddBedLid(Design design)
    {
        Opening lid = new()
        {
            Id = Openings.NewId(design, "bed-lid"),
            Name = "Hooded roof lid over the bed",
            Kind = OpeningKind.RoofVent,
            Face = Face.Roof,
            ZoneId = "",
            X = BedCentre(design),
            Y = design.Body.InteriorWidth / 2,
            Z = design.Body.InteriorHeight,
            Length = Length.FromMillimeters(350),
            Width = Length.FromMillimeters(350),
            FreeShare = 1,
            Position = Position.Full,
            Facts = new OpeningFacts { UsableInRain = true, OpenAsleep = true, Screened = true },
        };
        return FreePlaces.First(design, lid, lid.X) is Opening placed ? Openings.Add(design, placed) : design;
    }

    /// <summary>Middle of the bed along the van, or of the van without a bed.</summary>
    public static Length BedCentre(Design design) => design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping) is Zone bed
        ? (bed.From + bed.To) / 2
        : design.Body.InteriorLength / 2;
}
