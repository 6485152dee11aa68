using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Search;

/// <summary>Every single change the price book offers a design. What is fitted is never touched.</summary>
public static class SingleChanges
{
    // Above this a solid layer is lining or structure rather than insulation, W/(m K). Our judgement.
    private const double InsulationWPerMK = 0.06;

    // Up to this vapour-equivalent thickness a layer counts as open to vapour, m (DIN 4108-3; recalled).
    private const double VapourOpenM = 0.5;

    // Hours of a night that what runs from the battery must last. Our judgement.
    private const double NightHours = 12;

    /// <summary>The changes of a design: what is there used otherwise, then, in the order of the book, added, exchanged, moved, removed. All are possible as the design stands.</summary>
    public static ImmutableArray<SingleChange> Of(Design design, PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(book);
        return
        [
            .. Listed(design, book)
                .Where(change => change.Barred is null && change.Apply(design) is var changed && !ReferenceEquals(changed, design) && Placement.IsPossible(design, changed)),
        ];
    }

    /// <summary>The same with those that have no place as the design stands, or that a rule bars.</summary>
    internal static IEnumerable<SingleChange> Listed(Design design, PriceBook book) =>
        new[] { Uses(design), Additions(design, book), Covers(design, book), Insides(design, book), Swaps(design, book), Layers(design, book), Coatings(design, book), Moves(design), Removals(design) }
            .SelectMany(changes => changes);

    private static IEnumerable<SingleChange> Uses(Design design) =>
        from opening in design.Openings
        where FactoryOpenings.SetByPeople(opening) && !opening.Covered && opening.State != PartState.Later
            && (opening.Position is Position.Shut or Position.Ajar || opening.Fan is { Speed: 0 })
        let position = opening.Face is Face.Roof or Face.Floor ? Position.Full : Position.Half
        select new SingleChange(
            $"use:{opening.Id}", ChangeKind.Use,
            opening.Fan is null ? $"Open {opening.Name} {(position == Position.Full ? "fully" : "half")}" : $"Open {opening.Name} and let its fan blow out slowly",
            CutsBody: false,
            van => Openings.Find(van, opening.Id) is null ? van : Openings.Change(van, opening.Id, old => old with
            {
                Position = position,
                Fan = old.Fan is Fan fan ? fan with { Speed = NewOpenings.NightFanSpeed, Direction = FanDirection.Exhaust } : null,
            }))
        {
            Group = $"use:{opening.Id}",
        };

    private static IEnumerable<SingleChange> Additions(Design design, PriceBook book)
    {
        foreach (PriceItem item in book.Items)
        {
            switch (item.Kind)
            {
                case PriceKind.RoofVent or PriceKind.RoofFan:
                    foreach (RoofPlace place in Enum.GetValues<RoofPlace>())
                    {
                        yield return Cut(item, Face.Roof, $"{place}", $"on the roof, {Of(place)}", van => Openings.RoofX(van, place)) with { Group = "roof" };
                    }

                    break;
                case PriceKind.SlidingWindow or PriceKind.HingedWindow:
                    foreach (Zone zone in design.Zones.Where(zone => zone.Kind is ZoneKind.Living or ZoneKind.Sleeping))
                    {
                        foreach (Face side in new[] { Face.Left, Face.Right })
                        {
                            yield return Cut(item, side, zone.Id, $"in the {Of(side)} wall at {zone.Name}", _ => (zone.From + zone.To) / 2) with { Group = "windows" };
                        }
                    }

                    break;
                case PriceKind.FloorVent:
                    yield return Cut(item, Face.Floor, "floor", "in the floor behind the cab", van => Openings.RoofX(van, RoofPlace.Front)) with { Group = "floor-vent" };
                    break;
                case PriceKind.CabWindowVent when design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Cab) is Zone cab:
                    yield return Cut(item, Face.Left, "cab", "in the left cab window", _ => (cab.From + cab.To) / 2) with { CutsBody = false, Group = "cab-windows" };
                    break;
                case PriceKind.CabWindowDeflector:
                    yield return new SingleChange(
                        $"add:{item.Key}", ChangeKind.Add, $"Add {item.Name}", CutsBody: false, van => DeflectCabWindow(van, item))
                    { Group = "cab-windows" };
                    break;
                default:
                    break;
            }
        }
    }

    private static SingleChange Cut(PriceItem item, Face face, string place, string where, Func<Design, Length> x) => new(
        $"add:{item.Key}:{face}:{place}", ChangeKind.Add, $"Add {item.Name} {where}", CutsBody: true,
        van => BookedParts.Add(van, item, face, x(van)) ?? van);

    // The first cab window that lets rain in as it is: it stands a finger's width open behind the deflector.
    private static Design DeflectCabWindow(Design design, PriceItem item) =>
        design.Openings.FirstOrDefault(opening => opening is { Kind: OpeningKind.CabWindow, Facts.UsableInRain: false }) is Opening window
            ? Openings.Change(design, window.Id, old => old with
            {
                Facts = old.Facts with { UsableInRain = true },
                Position = old.Position == Position.Shut ? Position.Ajar : old.Position,
                State = PartState.Proposed,
                PriceKey = item.Key,
            })
            : design;

    private static IEnumerable<SingleChange> Covers(Design design, PriceBook book) =>
        from item in book.Items
        where item.Kind == PriceKind.Cover
        let cover = PriceFacts.ChoiceOf<Cover>(item, "cover")
        where cover is not null
        select new SingleChange($"cover:{item.Key}", ChangeKind.Swap, $"Hang on all bare or not yet covered panes: {item.Name}", CutsBody: false, van => van with
        {
            Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = Covered(glazing.Pane, cover.Value) })],
            Openings = [.. van.Openings.Select(opening => opening.Pane is Pane pane ? opening with { Pane = Covered(pane, cover.Value) } : opening)],
        })
        {
            Group = "covers",
            Family = cover.Value is Cover.InsideLoose or Cover.InsideTight ? "inside" : "outside",
        };

    private static Pane Covered(Pane pane, Cover cover) => pane.Cover == Cover.None || pane.CoverState is PartState.Proposed or PartState.Later
        ? pane with { Cover = cover, CoverState = PartState.Proposed }
        : pane;

    private static IEnumerable<SingleChange> Insides(Design design, PriceBook book)
    {
        Zone? living = design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Living);
        foreach (PriceItem item in book.Items)
        {
            string key = $"inside:{item.Key}";
            switch (item.Kind)
            {
                case PriceKind.CabDivider when design.CabDividerState is not (PartState.Fitted or PartState.Owned) && CabDividers.Possible(design)
                    && PriceFacts.ChoiceOf<CabDivider>(item, "divider") is CabDivider divider && divider != design.CabDivider:
                    yield return new SingleChange(key, ChangeKind.Swap, $"Fit {item.Name}", CutsBody: false, van => CabDividers.With(van, divider) with { CabDividerState = PartState.Proposed }) { Group = "cab-divider" };
                    break;
                case PriceKind.BedBase when design.BedBaseState is not (PartState.Fitted or PartState.Owned)
                    && PriceFacts.ChoiceOf<BedBase>(item, "bedBase") is BedBase bed && bed != design.BedBase:
                    yield return new SingleChange(key, ChangeKind.Swap, $"Lay {item.Name}", CutsBody: false, van => Beds.With(van, bed) with { BedBaseState = PartState.Proposed }) { Group = "bed-base" };
                    break;
                case PriceKind.CirculationFan when living is not null:
                    foreach (Zone other in design.Zones.Where(zone => zone.Kind is ZoneKind.UnderBed or ZoneKind.Sleeping))
                    {
                        yield return new SingleChange(
                            $"{key}:{other.Id}", ChangeKind.Add, $"Add {item.Name} from {living.Name} to {other.Name}", CutsBody: false,
                            van => Circulating(van, item, living.Id, other.Id))
                        { Group = "circulation-fan" };
                    }

                    break;
                case PriceKind.Dryer when living is not null && PriceFacts.ChoiceOf<DryerKind>(item, "dryerKind") is DryerKind kind:
                    yield return new SingleChange(
                        key, ChangeKind.Add, $"Add {item.Name} in {living.Name}", CutsBody: false,
                        van => van with { Dryers = van.Dryers.Add(DryerOf(van, item, kind, living.Id)) })
                    {
                        Group = "dryer",
                        Barred = Lasts(design, PriceFacts.NumberOf(item, "electricW") ?? 0) ? null : "battery",
                    };
                    break;
                case PriceKind.Heater when design.Heater.State is not (PartState.Fitted or PartState.Owned)
                    && PriceFacts.ChoiceOf<HeaterKind>(item, "heaterKind") is HeaterKind heater
                    && !(heater == design.Heater.Kind && (double)design.Heater.RatedOutput.Watts == PriceFacts.NumberOf(item, "heatW")):
                    yield return new SingleChange(key, ChangeKind.Swap, $"Heat with {item.Name}", CutsBody: heater != HeaterKind.Electric, van => van with
                    {
                        Heater = van.Heater with
                        {
                            Kind = heater,
                            RatedOutput = Power.FromWatts(PriceFacts.NumberOf(item, "heatW")!.Value),
                            State = PartState.Proposed,
                            PriceKey = item.Key,
                        },
                    })
                    {
                        Group = "heater",
                        Family = $"{heater}",
                        // Nobody is led to a flame that has to be watched.
                        Barred = heater == HeaterKind.WoodStove ? "flame"
                            : heater == HeaterKind.Electric && !Lasts(design, PriceFacts.NumberOf(item, "heatW")!.Value) ? "battery"
                            : null,
                    };
                    break;
                default:
                    break;
            }
        }
    }

    // No mains is known of: what a night of it would empty the battery for is not proposed.
    private static bool Lasts(Design design, double drawW) =>
        drawW * NightHours <= (design.Equipment.Battery == BatteryKind.None ? 0 : design.Equipment.BatteryUsable.WattHours);

    private static Design Circulating(Design design, PriceItem item, string zoneA, string zoneB)
    {
        Design more = CirculationFans.Add(design, zoneA, zoneB);
        return CirculationFans.Change(more, more.CirculationFans[^1].Id, fan => fan with
        {
            Name = item.Name,
            Flow = VolumeFlow.FromCubicMetersPerHour(PriceFacts.NumberOf(item, "freeAirFlowM3PerH")!.Value),
            ElectricDraw = Power.FromWatts(PriceFacts.NumberOf(item, "electricW")!.Value),
            State = PartState.Proposed,
            PriceKey = item.Key,
        });
    }

    private static Dryer DryerOf(Design design, PriceItem item, DryerKind kind, string zoneId) => new()
    {
        Id = design.Dryers.All(dryer => dryer.Id != item.Key) ? item.Key : FormattableString.Invariant($"{item.Key}-{design.Dryers.Length + 1}"),
        Name = item.Name,
        Kind = kind,
        ZoneId = zoneId,
        RemovedPerDay = Mass.FromKilograms(PriceFacts.NumberOf(item, "removedKgPerDay")!.Value),
        ElectricDraw = Power.FromWatts(PriceFacts.NumberOf(item, "electricW") ?? 0),
        Running = true,
        PriceKey = item.Key,
    };

    private static IEnumerable<SingleChange> Swaps(Design design, PriceBook book) =>
        from opening in design.Openings
        where Loose(opening) && Costing.KindOf(opening) is not null
        from item in book.Items
        where item.Key != opening.PriceKey && SameHole(opening, item)
        select new SingleChange(
            $"swap:{opening.Id}:{item.Key}", ChangeKind.Swap, $"Take {item.Name} instead of {opening.Name}", CutsBody: true,
            van => Openings.Find(van, opening.Id) is Opening there && Loose(there) ? BookedParts.Swap(van, opening.Id, item) : van)
        {
            Group = $"part:{opening.Id}",
        };

    private static bool SameHole(Opening opening, PriceItem item) => opening.Kind switch
    {
        OpeningKind.RoofVent => item.Kind is PriceKind.RoofVent or PriceKind.RoofFan,
        OpeningKind.SlidingWindow or OpeningKind.HingedWindow => item.Kind is PriceKind.SlidingWindow or PriceKind.HingedWindow,
        OpeningKind.FloorVent => item.Kind == PriceKind.FloorVent,
        _ => false,
    };

    private static ImmutableArray<Assembly> Assemblies { get; } =
    [
        new("walls", "the walls", van => van.Walls, (van, assembly) => van with { Walls = assembly }),
        new("roof", "the roof", van => van.Roof, (van, assembly) => van with { Roof = assembly }),
        new("floor", "the floor", van => van.Floor, (van, assembly) => van with { Floor = assembly }),
    ];

    /// <summary>The family of what the design has in a group of changes; empty where it has none.</summary>
    internal static string FamilyOf(Design design, string group) => group == "heater"
        ? design.Heater.Kind == HeaterKind.None ? "" : $"{design.Heater.Kind}"
        : Assemblies.FirstOrDefault(assembly => GroupOf(assembly) == group) is Assembly own && ThickestToBuild(own.Get(design)) is SolidLayer layer
            ? FamilyOf(layer.Material, layer.Thickness)
            : "";

    private static string FamilyOf(string material, Length thickness) => Materials.Get(material).VapourEquivalentThicknessM(thickness) <= VapourOpenM ? "open" : "closed";

    private static string GroupOf(Assembly assembly) => assembly.Part == "roof" ? "roof-layers" : assembly.Part;

    // The thickest layer of insulation that is not built in yet.
    private static SolidLayer? ThickestToBuild(LayeredAssembly assembly) => assembly.Layers.OfType<SolidLayer>()
        .Where(layer => layer.State is PartState.Proposed or PartState.Later && Insulates(layer.Material))
        .MaxBy(layer => layer.Thickness.Meters);

    private sealed record Assembly(string Part, string Name, Func<Design, LayeredAssembly> Get, Func<Design, LayeredAssembly, Design> Put);

    private static IEnumerable<SingleChange> Layers(Design design, PriceBook book)
    {
        foreach (Assembly assembly in Assemblies)
        {
            if (ThickestToBuild(assembly.Get(design)) is not SolidLayer thickest)
            {
                continue;
            }

            foreach (PriceItem item in book.Items)
            {
                if (item.Kind == PriceKind.Material && item.Facts.GetValueOrDefault("material") is string material && Insulates(material)
                    && PriceFacts.NumberOf(item, "thicknessMm") is double thicknessMm
                    && !(material == thickest.Material && Math.Abs(thicknessMm - thickest.Thickness.Millimeters) < 0.1))
                {
                    yield return new SingleChange(
                        $"layer:{assembly.Part}:{item.Key}", ChangeKind.Swap, $"Insulate {assembly.Name} with {item.Name}", CutsBody: false,
                        van => assembly.Put(van, Exchange(assembly.Get(van), thickest.Id, material, Length.FromMillimeters(thicknessMm))))
                    {
                        Group = GroupOf(assembly),
                        Family = FamilyOf(material, Length.FromMillimeters(thicknessMm)),
                    };
                }
            }
        }
    }

    // On the steel before anything is built over it. No number that is compared can tell: what is built over it lies as cold and as damp as it
    // would on bare steel. docs/method/search.md.
    private static IEnumerable<SingleChange> Coatings(Design design, PriceBook book) =>
        from assembly in Assemblies
        where CanBeCoated(assembly.Get(design))
        from item in book.Items
        where item.Kind == PriceKind.Material && item.Facts.GetValueOrDefault("material") == Materials.SteelCoating
        let thicknessMm = PriceFacts.NumberOf(item, "thicknessMm")
        where thicknessMm is not null
        select new SingleChange(
            $"coating:{assembly.Part}:{item.Key}", ChangeKind.Add, $"Coat the steel of {assembly.Name} with {item.Name}", CutsBody: false,
            van => CanBeCoated(assembly.Get(van)) ? assembly.Put(van, Coated(assembly.Get(van), Length.FromMillimeters(thicknessMm.Value))) : van)
        {
            Group = $"coating-{assembly.Part}",
            Barred = "coating",
        };

    // Bare steel outermost, and nothing built in before it yet.
    private static bool CanBeCoated(LayeredAssembly assembly) =>
        assembly.Layers[^1] is SolidLayer skin && Materials.Get(skin.Material).IsMetal
        && assembly.Layers[..^1].All(layer => layer.State is PartState.Proposed or PartState.Later)
        && assembly.Layers.OfType<SolidLayer>().All(layer => layer.Material != Materials.SteelCoating);

    private static LayeredAssembly Coated(LayeredAssembly assembly, Length thickness)
    {
        string id = "coating";
        for (int again = 2; assembly.Layers.Any(layer => layer.Id == id); again++)
        {
            id = FormattableString.Invariant($"coating-{again}");
        }

        return assembly with { Layers = assembly.Layers.Insert(assembly.Layers.Length - 1, new SolidLayer { Id = id, Material = Materials.SteelCoating, Thickness = thickness }) };
    }

    /// <summary>True for a material of the table that insulates.</summary>
    internal static bool Insulates(string material) => Materials.Find(material) is { } found && found.Conductivity.WattsPerMeterKelvin < InsulationWPerMK;

    private static LayeredAssembly Exchange(LayeredAssembly assembly, string layerId, string material, Length thickness) => assembly with
    {
        Layers =
        [
            .. assembly.Layers.Select(layer => layer is SolidLayer { State: PartState.Proposed or PartState.Later } solid && layer.Id == layerId
                ? solid with { Material = material, Thickness = thickness, State = PartState.Proposed }
                : layer),
        ],
    };

    private static IEnumerable<SingleChange> Moves(Design design)
    {
        foreach (Opening opening in design.Openings.Where(opening => opening.State != PartState.Fitted))
        {
            if (opening.Face == Face.Roof)
            {
                foreach (RoofPlace place in Enum.GetValues<RoofPlace>().Where(place => place != Openings.PlaceOf(design, opening)))
                {
                    yield return new SingleChange(
                        $"move:{opening.Id}:{place}", ChangeKind.Move, $"Move {opening.Name} {Of(place)}", CutsBody: true,
                        van => Openings.Find(van, opening.Id) is { State: not PartState.Fitted } ? Openings.MoveOnRoof(van, opening.Id, place) : van)
                    { Group = $"part:{opening.Id}" };
                }
            }
            else if (opening.Kind is OpeningKind.SlidingWindow or OpeningKind.HingedWindow && opening.Face is Face.Left or Face.Right)
            {
                foreach (Zone zone in design.Zones.Where(zone => zone.Kind is ZoneKind.Living or ZoneKind.Sleeping && zone.Id != opening.ZoneId))
                {
                    yield return new SingleChange(
                        $"move:{opening.Id}:{zone.Id}", ChangeKind.Move, $"Move {opening.Name} to {zone.Name}", CutsBody: true,
                        van => Openings.Find(van, opening.Id) is { State: not PartState.Fitted } there
                            ? Openings.Move(van, there.Id, (zone.From + zone.To) / 2, there.Y, there.Z)
                            : van)
                    {
                        Group = $"part:{opening.Id}",
                    };
                }
            }
        }
    }

    private static IEnumerable<SingleChange> Removals(Design design) =>
    [
        .. design.Openings.Where(Loose).Select(opening => new SingleChange(
            $"remove:{opening.Id}", ChangeKind.Remove, $"Leave out {opening.Name}", CutsBody: false, van => Openings.Remove(van, opening.Id)) { Group = $"part:{opening.Id}" }),
        .. design.CirculationFans.Where(fan => fan.State is PartState.Proposed or PartState.Later).Select(fan => new SingleChange(
            $"remove:{fan.Id}", ChangeKind.Remove, $"Leave out {fan.Name}", CutsBody: false, van => CirculationFans.Remove(van, fan.Id)) { Group = $"part:{fan.Id}" }),
        .. design.Dryers.Where(dryer => dryer.State is PartState.Proposed or PartState.Later).Select(dryer => new SingleChange(
            $"remove:{dryer.Id}", ChangeKind.Remove, $"Leave out {dryer.Name}", CutsBody: false,
            van => van with { Dryers = [.. van.Dryers.Where(other => other.Id != dryer.Id)] }) { Group = $"part:{dryer.Id}" }),
    ];

    // Neither built in nor bought.
    private static bool Loose(Opening opening) => opening.State is PartState.Proposed or PartState.Later;

    private static string Of(RoofPlace place) => place switch
    {
        RoofPlace.Front => "to the front",
        RoofPlace.Middle => "to the middle",
        RoofPlace.Rear => "to the rear",
        _ => throw new ArgumentOutOfRangeException(nameof(place), place, "Expected front, middle or rear."),
    };

    private static string Of(Face side) => side == Face.Left ? "left" : "right";
}
