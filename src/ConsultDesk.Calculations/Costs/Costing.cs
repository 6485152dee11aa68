using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>
/// What a design still costs by a price book. What is fitted or owned costs nothing more; what the van came with (its
/// cab windows, flaps and steel skin) has no line.
/// </summary>
public static class Costing
{
    // Sizes this close are the same: stored lengths are rounded.
    private const double SameSizeShare = 0.005;

    /// <summary>Every part of the design with its price, and the totals.</summary>
    public static CostSheet Of(Design design, PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(book);
        ImmutableArray<CostLine> lines = [.. Parts(design).Select(part => Priced(part, book))];
        return new CostSheet(
            lines,
            lines.Where(line => line.State == PartState.Proposed).Sum(line => line.Whole ?? 0),
            lines.Where(line => line.State == PartState.Later).Sum(line => line.Whole ?? 0),
            lines.Count(line => line.ToBuy && line.Item is null));
    }

    /// <summary>The kind of item an opening is bought as; null for what the van came with.</summary>
    public static PriceKind? KindOf(Opening opening)
    {
        ArgumentNullException.ThrowIfNull(opening);
        return opening.Kind switch
        {
            OpeningKind.RoofVent => opening.Fan is null ? PriceKind.RoofVent : PriceKind.RoofFan,
            OpeningKind.SlidingWindow => PriceKind.SlidingWindow,
            OpeningKind.HingedWindow => PriceKind.HingedWindow,
            OpeningKind.FloorVent => PriceKind.FloorVent,
            OpeningKind.CabWindowVent => PriceKind.CabWindowVent,
            // A bare cab window lets rain in: what makes it usable is a deflector that somebody buys.
            OpeningKind.CabWindow => opening.Facts.UsableInRain ? PriceKind.CabWindowDeflector : null,
            OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap => null,
            _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Kind, "Expected a kind of opening."),
        };
    }

    private static IEnumerable<Part> Parts(Design design)
    {
        foreach (Opening opening in design.Openings)
        {
            if (KindOf(opening) is PriceKind kind)
            {
                yield return new Part($"openings[{opening.Id}]", opening.Name, opening.State, opening.PriceKey, kind)
                {
                    Distance = item => kind == PriceKind.CabWindowDeflector ? 0 : FrameDistance(item, opening.Length.Millimeters, opening.Width.Millimeters),
                    Unlike = item => UnlikeFacts(item, opening),
                };
            }

            if (CoverOf($"openings[{opening.Id}].pane.cover", opening.Name, opening.Pane, opening.Length.Meters * opening.Width.Meters) is Part cover)
            {
                yield return cover;
            }
        }

        foreach (Glazing glazing in design.Glazings)
        {
            if (CoverOf($"glazings[{glazing.Id}].pane.cover", glazing.Name, glazing.Pane, glazing.Area.SquareMeters) is Part cover)
            {
                yield return cover;
            }
        }

        foreach (Part layer in Layers(design, "walls", "walls", design.Walls, Face.Left, Face.Right, Face.Nose, Face.Tail)
            .Concat(Layers(design, "roof", "roof", design.Roof, Face.Roof))
            .Concat(Layers(design, "floor", "floor", design.Floor, Face.Floor)))
        {
            yield return layer;
        }

        if (design.Heater.Kind != HeaterKind.None)
        {
            yield return new Part("heater", "Heater", design.Heater.State, design.Heater.PriceKey, PriceKind.Heater)
            {
                Fits = item => PriceFacts.ChoiceOf<HeaterKind>(item, "heaterKind") == design.Heater.Kind,
                Distance = item => RelativeDistance(item, "heatW", (double)design.Heater.RatedOutput.Watts),
            };
        }

        foreach (CirculationFan fan in design.CirculationFans)
        {
            yield return new Part($"circulationFans[{fan.Id}]", fan.Name, fan.State, fan.PriceKey, PriceKind.CirculationFan)
            {
                Distance = item => RelativeDistance(item, "freeAirFlowM3PerH", fan.Flow.CubicMetersPerHour),
            };
        }

        foreach (Dryer dryer in design.Dryers)
        {
            yield return new Part($"dryers[{dryer.Id}]", dryer.Name, dryer.State, dryer.PriceKey, PriceKind.Dryer)
            {
                Fits = item => PriceFacts.ChoiceOf<DryerKind>(item, "dryerKind") == dryer.Kind,
                Distance = item => RelativeDistance(item, "removedKgPerDay", dryer.RemovedPerDay.Kilograms),
            };
        }

        if (BedArea(design) is double bedM2)
        {
            yield return new Part("bedBase", "Bed base", design.BedBaseState, null, PriceKind.BedBase)
            {
                AreaM2 = bedM2,
                Fits = item => PriceFacts.ChoiceOf<BedBase>(item, "bedBase") == design.BedBase,
            };
        }

        if (design.CabDivider != CabDivider.Open)
        {
            yield return new Part("cabDivider", "Cab divider", design.CabDividerState, null, PriceKind.CabDivider)
            {
                AreaM2 = design.Body.InteriorWidth.Meters * design.Body.InteriorHeight.Meters,
                Fits = item => PriceFacts.ChoiceOf<CabDivider>(item, "divider") == design.CabDivider,
            };
        }

        foreach (Part alarm in Alarms(design.Equipment))
        {
            yield return alarm;
        }

        foreach (RoofPart part in design.Body.RoofParts)
        {
            yield return new Part($"body.roofParts[{part.Id}]", part.Name, part.State, part.PriceKey, PriceKind.RoofPart)
            {
                Fits = item => PriceFacts.ChoiceOf<RoofPartKind>(item, "roofPart") == part.Kind,
                Distance = item => FrameDistance(item, part.Length.Millimeters, part.Width.Millimeters),
            };
        }
    }

    private static IEnumerable<Part> Alarms(Equipment equipment)
    {
        (string Id, string Name, PartState? State, PriceKind Kind)[] alarms =
        [
            ("carbonMonoxideAlarm", "Carbon monoxide alarm", equipment.CarbonMonoxideAlarm, PriceKind.CarbonMonoxideAlarm),
            ("smokeAlarm", "Smoke alarm", equipment.SmokeAlarm, PriceKind.SmokeAlarm),
            ("lowGasAlarm", "Gas alarm", equipment.LowGasAlarm, PriceKind.LowGasAlarm),
            ("extinguisher", "Fire extinguisher", equipment.Extinguisher, PriceKind.Extinguisher),
        ];
        return
            from alarm in alarms
            let state = alarm.State
            where state is not null
            select new Part("equipment." + alarm.Id, alarm.Name, state.GetValueOrDefault(), null, alarm.Kind);
    }

    private static Part? CoverOf(string id, string name, Pane? pane, double areaM2) => pane is null or { Cover: Cover.None }
        ? null
        : new Part(id, "Cover: " + name, pane.CoverState, null, PriceKind.Cover)
        {
            AreaM2 = areaM2,
            Fits = item => PriceFacts.ChoiceOf<Cover>(item, "cover") == pane.Cover,
        };

    private static IEnumerable<Part> Layers(Design design, string id, string name, LayeredAssembly assembly, params Face[] faces)
    {
        // What is cut out for an opening was bought all the same; fixed glass was there before the layers.
        double areaM2 = design.Zones.Sum(zone => faces.Sum(face => ZoneFaces.AreaM2(design, zone, face)))
            - design.Glazings.Where(glazing => faces.Contains(glazing.Face)).Sum(glazing => glazing.Area.SquareMeters);
        for (int at = 0; at < assembly.Layers.Length; at++)
        {
            Layer layer = assembly.Layers[at];
            // The outermost metal is the van's own skin.
            if (layer is SolidLayer solid && !(at == assembly.Layers.Length - 1 && Materials.Find(solid.Material) is { IsMetal: true }))
            {
                string material = Materials.Find(solid.Material)?.Name ?? solid.Material;
                double thicknessMm = solid.Thickness.Millimeters;
                yield return new Part($"{id}.layers[{layer.Id}]", $"{material}, {name}", layer.State, null, PriceKind.Material)
                {
                    AreaM2 = Math.Max(0, areaM2),
                    Fits = item => item.Facts.GetValueOrDefault("material") == solid.Material,
                    Distance = item => RelativeDistance(item, "thicknessMm", thicknessMm),
                    Sheets = item => Math.Max(1, (int)Math.Round(thicknessMm / (PriceFacts.NumberOf(item, "thicknessMm") ?? thicknessMm))),
                };
            }
            else if (layer is MembraneLayer membrane)
            {
                yield return new Part($"{id}.layers[{layer.Id}]", $"{membrane.Name}, {name}", layer.State, null, PriceKind.Material)
                {
                    AreaM2 = Math.Max(0, areaM2),
                    Fits = item => item.Facts.GetValueOrDefault("material") == PriceFacts.Membrane,
                    Distance = item => Math.Abs(Math.Log((PriceFacts.NumberOf(item, "vapourSdM") ?? 1) / membrane.VapourEquivalentThickness.Meters)),
                };
            }
        }
    }

    /// <summary>Area of the beds seen from above, m2; null without a bed.</summary>
    private static double? BedArea(Design design)
    {
        double furnitureM2 = design.Body.Furniture.Where(piece => piece.Kind == FurnitureKind.Bed).Sum(piece => piece.Length.Meters * piece.Width.Meters);
        return furnitureM2 > 0 ? furnitureM2 : null;
    }

    private static CostLine Priced(Part part, PriceBook book)
    {
        PriceItem? item = part.Key is string key ? book.Items.FirstOrDefault(candidate => candidate.Key == key && candidate.Kind == part.Kind) : null;
        PriceMatch match = PriceMatch.ByKey;
        if (item is null)
        {
            // MinBy takes the first of equals: the order of the book decides what nothing else does.
            item = book.Items.Where(candidate => candidate.Kind == part.Kind && part.Fits(candidate))
                .MinBy(candidate => (part.Distance(candidate), part.Unlike(candidate)));
            match = item is null ? PriceMatch.None
                : part.Distance(item) <= SameSizeShare ? PriceMatch.SameSize
                : PriceMatch.NearestSize;
        }

        double quantity = item is null ? 1 : (item.Unit == PriceUnit.SquareMetre ? part.AreaM2 : 1) * part.Sheets(item);
        return new CostLine(
            part.Id, part.Name, part.State, item, match, quantity, Amount(item?.Price, quantity), Amount(item?.Fitting, quantity));
    }

    private static decimal? Amount(decimal? price, double quantity) =>
        price is decimal each ? decimal.Round(each * (decimal)quantity, 2, MidpointRounding.AwayFromZero) : null;

    // Sum of the relative differences of both sides; an item without a size fits any.
    private static double FrameDistance(PriceItem item, double lengthMm, double widthMm) =>
        RelativeDistance(item, "lengthMm", lengthMm) + RelativeDistance(item, "widthMm", widthMm);

    private static double RelativeDistance(PriceItem item, string fact, double wanted) =>
        PriceFacts.NumberOf(item, fact) is double size ? Math.Abs(size - wanted) / wanted : 0;

    private static int UnlikeFacts(PriceItem item, Opening opening)
    {
        OpeningFacts facts = opening.Facts;
        (string Name, bool Is)[] pairs =
        [
            ("usableInRain", facts.UsableInRain), ("usableInDrivingRain", facts.UsableInDrivingRain), ("openAsleep", facts.OpenAsleep),
            ("openLocked", facts.OpenLocked), ("rainSensor", facts.RainSensor), ("screened", facts.Screened), ("fixed", facts.Fixed),
        ];
        return pairs.Count(pair => PriceFacts.Says(item, pair.Name) != pair.Is);
    }

    /// <summary>One part of a design that is or was bought.</summary>
    private sealed record Part(string Id, string Name, PartState State, string? Key, PriceKind Kind)
    {
        /// <summary>Area, m2, for an item priced by area.</summary>
        public double AreaM2 { get; init; } = 1;

        /// <summary>True for an item that does the same.</summary>
        public Func<PriceItem, bool> Fits { get; init; } = _ => true;

        /// <summary>How far an item's size is from the part's, a share of it.</summary>
        public Func<PriceItem, double> Distance { get; init; } = _ => 0;

        /// <summary>How many other facts of an item differ.</summary>
        public Func<PriceItem, int> Unlike { get; init; } = _ => 0;

        /// <summary>How many of the item, laid on each other, make the part.</summary>
        public Func<PriceItem, int> Sheets { get; init; } = _ => 1;
    }
}
