using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Pure edits of cupboards on the outside wall: each is a small zone carved out of the room it stands in.</summary>
public static class Cupboards
{
    // What a new cupboard is until somebody measures it. Our judgement.
    private const double NewLengthM = 0.8;
    private const double NewHeightM = 0.5;
    private const double NewDepthM = 0.35;
    private const double StepM = 0.1;

    /// <summary>The cupboards of a design in its order.</summary>
    public static IEnumerable<Zone> Of(Design design) => design.Zones.Where(zone => zone.Cupboard is not null);

    /// <summary>
    /// The design with one cupboard more, of a usual size, as high as it fits on that wall of that room without covering
    /// an opening or another cupboard; null when no place is free.
    /// </summary>
    /// <param name="design">A valid design.</param>
    /// <param name="hostZoneId">The room it stands in.</param>
    /// <param name="wall">Left or right.</param>
    /// <param name="air">How room air gets into it.</param>
    /// <exception cref="ArgumentException">There is no such zone.</exception>
    public static Design? Add(Design design, string hostZoneId, Face wall, CupboardAir air)
    {
        Zone host = Host(design, hostZoneId);
        double lengthM = Math.Min(NewLengthM, host.To.Meters - host.From.Meters);
        double heightM = Math.Min(NewHeightM, host.Top.Meters - host.Bottom.Meters);
        int errors = DesignCheck.Errors(design).Length;
        return (
            from bottomM in Steps(host.Bottom.Meters, host.Top.Meters - heightM)
            from fromM in Steps(host.From.Meters, host.To.Meters - lengthM)
            let added = Add(
                design, hostZoneId, wall, air, Length.FromMeters(fromM), Length.FromMeters(fromM + lengthM), Length.FromMeters(bottomM), Length.FromMeters(bottomM + heightM), Length.FromMeters(NewDepthM))
            where DesignCheck.Errors(added).Length <= errors
            select added).FirstOrDefault();
    }

    /// <summary>
    /// The design with one cupboard more at a place. Where it does not fit, <see cref="DesignCheck"/> says so.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="hostZoneId">The room it stands in.</param>
    /// <param name="wall">Left or right.</param>
    /// <param name="air">How room air gets into it.</param>
    /// <param name="from">Front end, from the windscreen.</param>
    /// <param name="to">Rear end, from the windscreen.</param>
    /// <param name="bottom">Lower end, from the floor.</param>
    /// <param name="top">Upper end, from the floor.</param>
    /// <param name="depth">Depth from the wall.</param>
    /// <exception cref="ArgumentException">There is no such zone.</exception>
    public static Design Add(
        Design design, string hostZoneId, Face wall, CupboardAir air, Length from, Length to, Length bottom, Length top, Length depth)
    {
        _ = Host(design, hostZoneId);
        int number = Enumerable.Range(1, design.Zones.Length + 1).First(n => Free(design, Id(n)));
        Zone cupboard = new()
        {
            Id = Id(number),
            Kind = ZoneKind.Cupboard,
            Name = string.Create(CultureInfo.InvariantCulture, $"Cupboard {number}"),
            From = from,
            To = to,
            Bottom = bottom,
            Top = top,
            AirVolume = Volume.Zero,
            Cupboard = new CupboardPlace { HostZoneId = hostZoneId, Wall = wall, Depth = depth, Air = air },
        };
        return Put(design, cupboard);
    }

    /// <summary>The design with a cupboard closed, or open at the top and the bottom.</summary>
    /// <exception cref="ArgumentException">There is no such cupboard.</exception>
    public static Design SetAir(Design design, string id, CupboardAir air)
    {
        Zone cupboard = Get(design, id);
        return Put(design, cupboard with { Cupboard = cupboard.Cupboard! with { Air = air } });
    }

    /// <summary>
    /// The design with a cupboard moved or given another size. Where it does not fit, <see cref="DesignCheck"/> says so.
    /// </summary>
    /// <exception cref="ArgumentException">There is no such cupboard.</exception>
    public static Design Place(Design design, string id, Face wall, Length from, Length to, Length bottom, Length top, Length depth)
    {
        Zone cupboard = Get(design, id);
        return Put(design, cupboard with
        {
            From = from,
            To = to,
            Bottom = bottom,
            Top = top,
            Cupboard = cupboard.Cupboard! with { Wall = wall, Depth = depth },
        });
    }

    /// <summary>The design without a cupboard: its air is the room's again, and so is what stood in it or opened into it.</summary>
    /// <exception cref="ArgumentException">There is no such cupboard.</exception>
    public static Design Remove(Design design, string id)
    {
        string hostId = Get(design, id).Cupboard!.HostZoneId;
        string Moved(string zoneId) => zoneId == id ? hostId : zoneId;
        return design with
        {
            Zones = ShareAir(design, hostId, [.. design.Zones.Where(zone => zone.Id != id)]),
            Passages = [.. design.Passages.Where(passage => passage.ZoneA != id && passage.ZoneB != id)],
            CirculationFans = [.. design.CirculationFans.Where(fan => fan.ZoneA != id && fan.ZoneB != id)],
            Openings = [.. design.Openings.Select(opening => opening with { ZoneId = Moved(opening.ZoneId) })],
            Glazings = [.. design.Glazings.Select(glazing => glazing with { ZoneId = Moved(glazing.ZoneId) })],
            BareMetal = [.. design.BareMetal.Select(patch => patch with { ZoneId = Moved(patch.ZoneId) })],
            Heater = design.Heater with { ZoneId = Moved(design.Heater.ZoneId) },
            Equipment = design.Equipment with
            {
                BatteryZoneId = design.Equipment.BatteryZoneId is string battery ? Moved(battery) : null,
                WaterZoneId = design.Equipment.WaterZoneId is string water ? Moved(water) : null,
            },
        };
    }

    // The cupboard in its place in the list, or behind the last zone; its gaps likewise.
    private static Design Put(Design design, Zone cupboard)
    {
        CupboardPlace place = cupboard.Cupboard!;
        bool open = place.Air == CupboardAir.OpenTopAndBottom;
        double lengthM = cupboard.To.Meters - cupboard.From.Meters;
        Area gap = open
            ? Area.FromSquareMeters(Defaults.Likely("cupboard-gap-open") / 1000 * lengthM)
            : Area.FromSquareCentimeters(Defaults.Likely("cupboard-gap-closed"));
        VolumeFlow mixing = VolumeFlow.FromCubicMetersPerHour(Defaults.Likely(open ? "mixing-cupboard-open" : "mixing-cupboard-closed"));
        Passage Gap(string end, string words, Length height) => new()
        {
            Id = $"{cupboard.Id}-{end}",
            Name = $"{(open ? "Gap" : "Cracks")} at the {words} of {cupboard.Name}",
            ZoneA = place.HostZoneId,
            ZoneB = cupboard.Id,
            FreeArea = gap,
            Bottom = height,
            Top = height,
            Mixing = mixing / 2,
        };

        Zone withAir = cupboard with
        {
            AirVolume = Volume.FromCubicMeters(Defaults.Likely("cupboard-air-share") / 100 * ZoneFaces.BoxM3(design.Body, cupboard)),
        };
        return design with
        {
            Zones = ShareAir(design, place.HostZoneId, PutInto(design.Zones, withAir, zone => zone.Id)),
            Passages = PutInto(PutInto(design.Passages, Gap("top", "top", cupboard.Top), p => p.Id), Gap("bottom", "bottom", cupboard.Bottom), p => p.Id),
        };
    }

    private static ImmutableArray<T> PutInto<T>(ImmutableArray<T> list, T item, Func<T, string> id)
    {
        int index = list.ToList().FindIndex(other => id(other) == id(item));
        return index >= 0 ? list.SetItem(index, item) : list.Add(item);
    }

    // The room keeps its share of air in what the cupboards leave of its box.
    private static ImmutableArray<Zone> ShareAir(Design before, string hostId, ImmutableArray<Zone> zones)
    {
        Zone host = Host(before, hostId);
        double share = host.AirVolume.CubicMeters / ZoneFaces.RoomM3(before, host);
        double roomM3 = ZoneFaces.RoomM3(before with { Zones = zones }, host);
        return zones.Replace(host, host with { AirVolume = Volume.FromCubicMeters(share * roomM3) });
    }

    private static Zone Host(Design design, string id) => design.Zones.FirstOrDefault(zone => zone.Id == id)
        ?? throw new ArgumentException($"There is no zone '{id}'.", nameof(id));

    private static Zone Get(Design design, string id) => Of(design).FirstOrDefault(zone => zone.Id == id)
        ?? throw new ArgumentException($"There is no cupboard '{id}'.", nameof(id));

    private static string Id(int number) => string.Create(CultureInfo.InvariantCulture, $"cupboard-{number}");

    private static bool Free(Design design, string id) =>
        !design.Zones.Any(zone => zone.Id == id) && !design.Passages.Any(passage => passage.Id == id + "-top" || passage.Id == id + "-bottom");

    // From the high end down.
    private static double[] Steps(double lowM, double highM) =>
        [.. Enumerable.Range(0, (int)Math.Floor((highM - lowM) / StepM) + 1).Select(step => highM - (step * StepM))];
}
