using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What a surface of the model is.</summary>
internal enum SurfacePart
{
    /// <summary>Fixed glass.</summary>
    Glazing,

    /// <summary>The pane of an opening.</summary>
    Pane,

    /// <summary>Bare metal.</summary>
    Metal,

    /// <summary>Lined walls and doors.</summary>
    Walls,

    /// <summary>Ceiling.</summary>
    Roof,

    /// <summary>Floor.</summary>
    Floor,
}

/// <summary>One surface room air can wet.</summary>
/// <param name="Part">What it is.</param>
/// <param name="Id">Id of the glazing, opening or metal patch; id of the zone for walls, roof and floor.</param>
/// <param name="Name">Name the client would use.</param>
/// <param name="Zone">Index of the zone before it.</param>
/// <param name="AreaM2">Area.</param>
/// <param name="Path">Resistances from room air to the surface and from there to outdoor air.</param>
/// <param name="AirBehindCoverMPerS">Room air that reaches the glass behind an inside cover, per area; infinite without one.</param>
/// <param name="SkyShare">Share of what a black level surface loses to the sky that it loses: emissivity, slope and no obstruction.</param>
internal sealed record NightSurface(
    SurfacePart Part,
    string Id,
    string Name,
    int Zone,
    double AreaM2,
    SurfacePath Path,
    double AirBehindCoverMPerS,
    double SkyShare)
{
    /// <summary>
    /// Temperature of the air that would cool it as outdoor air and sky do: To - q share Rse. The outside film's resistance already
    /// holds radiation to surroundings as warm as the air.
    /// </summary>
    /// <param name="outdoorC">Outdoor air.</param>
    /// <param name="skyLossWPerM2">What a black level surface there loses to the sky.</param>
    public double BehindC(double outdoorC, double skyLossWPerM2) => outdoorC - (skyLossWPerM2 * SkyShare * SurfaceFilms.OutsideM2KPerW);
}

/// <summary>
/// A design compiled for the steady night: the air network and flat lists of surfaces, losses and sources. Built once
/// per design; everything in it is a fact of the design, nothing depends on the weather.
/// </summary>
internal sealed class NightModel
{
    /// <summary>Where the wind comes from, from ahead: no stop says how the van stands. Our judgement.</summary>
    public static readonly Angle WindFromNose = Angle.Zero;

    // Below this height a gap counts as one opening at one height.
    private const double LowestTallGapM = 0.05;

    private readonly bool _everyOpening;
    private readonly List<(int Path, Face Face)> _outsidePaths = [];
    private readonly int[] _windPath;
    private readonly double[] _windCoefficient;
    private readonly List<(int Path, double Speed)> _fans = [];
    private readonly List<(int Path, double Share)> _openShares = [];

    public NightModel(Design design)
        : this(design, Assumptions.Likely)
    {
    }

    /// <summary>Compiles a design.</summary>
    /// <param name="design">The design.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="everyOpening">
    /// False: each opening as it stands, the shut ones left out. True: a path for every opening at its full free area
    /// without its cover, and cracks of faces with the same wind in one path.
    /// </param>
    public NightModel(Design design, Assumptions assumed, bool everyOpening = false)
    {
        Design = design;
        Assumed = assumed;
        _everyOpening = everyOpening;
        SurfaceConvectionWPerM2K = assumed["surface-convection"];
        WindscreenSlopeDegrees = assumed[design.Body.BodyClass.StartsWith("compact-", StringComparison.Ordinal) ? "windscreen-slope-compact" : "windscreen-slope-van"];
        UprightSkyShare = assumed["outside-emissivity"] * SkyTemperature.Share(90);
        AirNetworkBuilder builder = new();
        AirNode[] nodes = [.. design.Zones.Select(zone => builder.AddZone(zone.Id, zone.AirVolume))];
        OpeningPaths = [.. design.Openings.Select(opening => AddOpening(builder, nodes[IndexOf(opening.ZoneId)], opening))];
        PassagePaths = [.. design.Passages.Select(passage => AddPassage(builder, nodes, passage))];
        CirculationPaths =
        [
            .. RunningFans(design).Select(fan =>
                builder.AddMixing("circulation " + fan.Id, nodes[IndexOf(fan.ZoneA)], nodes[IndexOf(fan.ZoneB)], fan.Flow)),
        ];
        LeakagePaths = AddLeakage(builder, nodes);
        Network = builder.Build();
        _windPath = [.. _outsidePaths.Select(pair => pair.Path)];
        _windCoefficient = [.. _outsidePaths.Select(pair => WindCoefficient(pair.Face))];
        HeaterZone = IndexOf(design.Heater.ZoneId);
        SleepingShares = Shares(ZoneKind.Sleeping);
        LivingShares = Shares(ZoneKind.Living);
        OtherLossWPerK = OtherLosses();
        Partitions = [.. CupboardFronts(), .. CabDivider()];
        Walls = ThermalTransmittance.Of(design.Walls, HeatFlow.Horizontal);
        Roof = ThermalTransmittance.Of(design.Roof, HeatFlow.Upwards);
        Floor = ThermalTransmittance.Of(design.Floor, HeatFlow.Downwards);
        Surfaces = [.. GlassSurfaces(), .. MetalSurfaces(), .. LinedSurfaces()];
        Dryers = RunningDryer.Of(this);
    }

    public Design Design { get; }

    /// <summary>What it assumes.</summary>
    public Assumptions Assumed { get; }

    public AirNetwork Network { get; }

    public int ZoneCount => Design.Zones.Length;

    /// <summary>Path of each opening in the design's order, null where it is shut.</summary>
    public ImmutableArray<OutsidePath?> OpeningPaths { get; }

    /// <summary>Gap and mixing path of each passage in the design's order.</summary>
    public ImmutableArray<(int Gap, int Mixing, bool Reversed)> PassagePaths { get; }

    /// <summary>Circulation fans that run while somebody is in the van.</summary>
    public static IEnumerable<CirculationFan> RunningFans(Design design) => design.CirculationFans.Where(fan => fan.Running);

    /// <summary>Mixing path of each running circulation fan.</summary>
    public ImmutableArray<int> CirculationPaths { get; }

    /// <summary>Cracks and resting exchange; all lead from outside into a zone.</summary>
    public ImmutableArray<int> LeakagePaths { get; }

    public ImmutableArray<NightSurface> Surfaces { get; }

    /// <summary>Convective heat transfer at cold surfaces, W/(m2 K).</summary>
    public double SurfaceConvectionWPerM2K { get; }

    /// <summary>Slope of the windscreen from level, by the body class.</summary>
    public double WindscreenSlopeDegrees { get; }

    /// <summary>Share of the level loss to the sky that an upright face has.</summary>
    public double UprightSkyShare { get; }

    /// <summary>Share of the open sky's loss left where a van stands.</summary>
    public double SkySeen(Shelter shelter) => Assumed[shelter switch
    {
        Shelter.Sheltered => "sky-seen-sheltered",
        Shelter.Ordinary => "sky-seen-ordinary",
        Shelter.Exposed => "sky-seen-exposed",
        _ => throw new ArgumentOutOfRangeException(nameof(shelter), shelter, "Expected sheltered, ordinary or exposed."),
    }];

    /// <summary>What stands for the outdoor air behind losses that no surface counts: cab trim, ribs and seams, taken as upright.</summary>
    public double OtherBehindC(double outdoorC, double skyLossWPerM2) =>
        outdoorC - (skyLossWPerM2 * UprightSkyShare * SurfaceFilms.OutsideM2KPerW);

    // A roof lies level, a floor faces the ground, the nose's glass is raked, all else stands upright.
    private double SkyShare(Face face) => Assumed["outside-emissivity"] * SkyTemperature.Share(face switch
    {
        Face.Roof => 0,
        Face.Floor => 180,
        Face.Nose => WindscreenSlopeDegrees,
        Face.Left or Face.Right or Face.Tail => 90,
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    });

    /// <summary>Heat loss of each zone that no surface counts, W/K.</summary>
    public double[] OtherLossWPerK { get; }

    /// <summary>Boards and curtains that conduct heat from zone to zone: cupboards' fronts and what divides the cab off.</summary>
    public ImmutableArray<Partition> Partitions { get; }

    public int HeaterZone { get; }

    /// <summary>Dryers that run while somebody is in the van.</summary>
    public RunningDryer[] Dryers { get; }

    /// <summary>Share of the sleepers in each zone.</summary>
    public double[] SleepingShares { get; }

    /// <summary>Share of the cooking in each zone.</summary>
    public double[] LivingShares { get; }

    public AssemblyResistance Walls { get; }

    public AssemblyResistance Roof { get; }

    public AssemblyResistance Floor { get; }

    /// <summary>Sets what drives the air apart from the zones' own temperature and humidity.</summary>
    public void Drive(AirState state, NightWeather weather)
    {
        Drive(
            state,
            weather.Temperature.DegreesCelsius,
            OutdoorHumidityRatio(weather),
            weather.Pressure.Pascals,
            weather.StationWind.MetersPerSecond * ShelterFactor(Design.Stop.Shelter));
        foreach ((int path, double speed) in _fans)
        {
            state.FanSpeed[path] = speed;
        }

        foreach ((int path, double share) in _openShares)
        {
            state.PathOpenShare[path] = share;
        }
    }

    /// <summary>Wind pressure of each path to outside over the wind's dynamic pressure.</summary>
    public IEnumerable<(int Path, double Coefficient)> WindCoefficients => _windPath.Zip(_windCoefficient);

    /// <summary>Sets the outdoor air; openings and fans stay as they are.</summary>
    public void Drive(AirState state, double outdoorC, double outdoorHumidityRatio, double pressurePa, double windMPerS)
    {
        state.OutdoorTemperatureC = outdoorC;
        state.OutdoorHumidityRatioKgPerKg = outdoorHumidityRatio;
        state.BarometricPressurePa = pressurePa;
        state.WindSpeedMPerS = windMPerS;
        double density = MoistAir.DensityKgPerM3(outdoorC, outdoorHumidityRatio, pressurePa);
        double dynamicPa = density * windMPerS * windMPerS / 2;
        Span<double> windPa = state.PathWindPressurePa;
        for (int i = 0; i < _windPath.Length; i++)
        {
            windPa[_windPath[i]] = dynamicPa * _windCoefficient[i];
        }
    }

    /// <summary>
    /// Resistance 1/Cd2 of an opening without its fan: what is always there, and what its cover adds when the opening
    /// stands fully open; the latter falls with the square of the free area.
    /// </summary>
    public (double Clear, double CoverAtFull) Resistance(Opening opening)
    {
        double fullM2 = Openings.FullFreeArea(opening).SquareMeters;
        double clear = Math.Pow(DischargeCoefficient(Uncovered(opening), fullM2, Assumed), -2);
        return (clear, Math.Pow(DischargeCoefficient(opening, fullM2, Assumed), -2) - clear);
    }

    private static Opening Uncovered(Opening opening) =>
        opening.Pane is Pane pane ? opening with { Pane = pane with { Cover = Cover.None } } : opening;

    /// <summary>Wind at the van over that of the station.</summary>
    public double ShelterFactor(Shelter shelter) => Assumed[shelter switch
    {
        Shelter.Sheltered => "wind-ratio-sheltered",
        Shelter.Ordinary => "wind-ratio-ordinary",
        Shelter.Exposed => "wind-ratio-exposed",
        _ => throw new ArgumentOutOfRangeException(nameof(shelter), shelter, "Expected sheltered, ordinary or exposed."),
    }];

    /// <summary>Wind pressure coefficient of a face; the wind comes from ahead.</summary>
    /// <remarks>The correlation carries more digits than the table's likely value, so the band moves it by the table's distance.</remarks>
    public double WindCoefficient(Face face)
    {
        string key = "wind-pressure-" + (face switch
        {
            Face.Nose => "nose",
            Face.Left or Face.Right => "side",
            Face.Tail => "tail",
            Face.Roof => "roof",
            Face.Floor => "floor",
            _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
        });
        return WindPressure.Coefficient(face, WindFromNose) + Assumed[key] - Defaults.Likely(key);
    }

    /// <summary>Humidity ratio of the outdoor air, kg/kg.</summary>
    public static double OutdoorHumidityRatio(NightWeather weather) => MoistAir.HumidityRatio(
        MoistAir.SaturationPressurePa(weather.DewPoint.DegreesCelsius), weather.Pressure.Pascals);

    public int IndexOf(string zoneId)
    {
        for (int zone = 0; zone < Design.Zones.Length; zone++)
        {
            if (Design.Zones[zone].Id == zoneId)
            {
                return zone;
            }
        }

        throw new ArgumentException($"There is no zone '{zoneId}'.", nameof(zoneId));
    }

    /// <summary>Index of the first zone of a kind, or of the heated zone when there is none.</summary>
    public int FirstOf(ZoneKind kind)
    {
        int index = Design.Zones.ToList().FindIndex(zone => zone.Kind == kind);
        return index >= 0 ? index : HeaterZone;
    }

    // Shares by air volume among the zones of a kind; all in the heated zone when there is none of that kind.
    private double[] Shares(ZoneKind kind)
    {
        double[] shares = [.. Design.Zones.Select(zone => zone.Kind == kind ? zone.AirVolume.CubicMeters : 0)];
        double total = shares.Sum();
        if (total == 0)
        {
            shares[HeaterZone] = 1;
            return shares;
        }

        return [.. shares.Select(share => share / total)];
    }

    private OutsidePath? AddOpening(AirNetworkBuilder builder, AirNode zone, Opening opening)
    {
        double share = _everyOpening ? 1 : opening.Covered ? 0 : opening.Position.Share();
        if (share == 0)
        {
            return null;
        }

        string id = "opening " + opening.Id;
        bool level = opening.Face is Face.Roof or Face.Floor;
        double gust = Assumed["gust-exchange"];
        OutsidePath path;
        if (opening.Fan is Fan fan)
        {
            bool exhaust = fan.Direction == FanDirection.Exhaust;
            path = new OutsidePath(
                builder.AddFan(
                    id,
                    exhaust ? zone : AirNode.Outside,
                    exhaust ? AirNode.Outside : zone,
                    Length.FromMeters((Openings.BottomM(Design.Body, opening) + Openings.TopM(Design.Body, opening)) / 2),
                    fan.FreeAirFlow,
                    fan.ShutOffPressure,
                    level ? Openings.FullFreeArea(opening) : Area.Zero,
                    blowsUp: exhaust == (opening.Face == Face.Roof),
                    windExchange: gust),
                Outwards: exhaust);
            _fans.Add((path.Index, fan.Speed));
            _openShares.Add((path.Index, share));
        }
        else
        {
            double areaM2 = (_everyOpening ? Openings.FullFreeArea(opening) : Openings.FreeArea(opening)).SquareMeters;
            double discharge = DischargeCoefficient(_everyOpening ? Uncovered(opening) : opening, areaM2, Assumed);
            gust *= discharge / Assumed["discharge-coefficient"];
            Area area = Area.FromSquareMeters(areaM2);
            Length bottom = Length.FromMeters(Openings.BottomM(Design.Body, opening));
            Length top = Length.FromMeters(Openings.TopM(Design.Body, opening));
            path = opening.Face switch
            {
                Face.Roof => new(builder.AddHorizontalOpening(id, zone, AirNode.Outside, top, area, discharge, gust), Outwards: true),
                Face.Floor => new(builder.AddHorizontalOpening(id, AirNode.Outside, zone, bottom, area, discharge, gust), Outwards: false),
                _ => new(builder.AddVerticalOpening(id, zone, AirNode.Outside, bottom, top, area, discharge, gust), Outwards: true),
            };
        }

        _outsidePaths.Add((path.Index, opening.Face));
        return path;
    }

    /// <summary>
    /// Discharge coefficient of an open opening with its screen and cover as resistances in series:
    /// 1/(Cd A)^2 adds, the screen as K/A^2.
    /// </summary>
    internal static double DischargeCoefficient(Opening opening, double freeAreaM2, Assumptions assumed)
    {
        double clear = assumed["discharge-coefficient"];
        double resistance = 1 / (clear * clear);
        if (opening.Facts.Screened)
        {
            resistance += assumed["screen-loss"];
        }

        Cover cover = opening.Pane?.Cover ?? Cover.None;
        if (cover != Cover.None)
        {
            double gapM = assumed[cover switch
            {
                Cover.InsideLoose => "cover-gap-loose",
                Cover.InsideTight => "cover-gap-tight",
                Cover.Outside or Cover.OutsideLoose => "cover-gap-outside",
                _ => throw new ArgumentOutOfRangeException(nameof(opening), cover, "Expected a kind of cover."),
            }] / 1000;
            double gapM2 = gapM * 2 * (opening.Length.Meters + opening.Width.Meters);
            resistance += Math.Pow(freeAreaM2 / (clear * gapM2), 2);
        }

        return 1 / Math.Sqrt(resistance);
    }

    private (int Gap, int Mixing, bool Reversed) AddPassage(AirNetworkBuilder builder, AirNode[] nodes, Passage passage)
    {
        int a = IndexOf(passage.ZoneA);
        int b = IndexOf(passage.ZoneB);
        string id = "passage " + passage.Id;
        double discharge = Assumed["discharge-coefficient"];
        bool reversed = false;
        int gap;
        if (passage.Top.Meters - passage.Bottom.Meters > LowestTallGapM)
        {
            gap = builder.AddVerticalOpening(id, nodes[a], nodes[b], passage.Bottom, passage.Top, passage.FreeArea, discharge);
        }
        else if (Design.Zones[a].Top.Meters <= Design.Zones[b].Bottom.Meters + Openings.EdgeToleranceM)
        {
            gap = builder.AddHorizontalOpening(id, nodes[a], nodes[b], passage.Bottom, passage.FreeArea, discharge);
        }
        else if (Design.Zones[b].Top.Meters <= Design.Zones[a].Bottom.Meters + Openings.EdgeToleranceM)
        {
            gap = builder.AddHorizontalOpening(id, nodes[b], nodes[a], passage.Bottom, passage.FreeArea, discharge);
            reversed = true;
        }
        else
        {
            gap = builder.AddOrifice(id, nodes[a], nodes[b], passage.Bottom, passage.FreeArea, discharge);
        }

        return (gap, builder.AddMixing("mixing " + passage.Id, nodes[a], nodes[b], passage.Mixing), reversed);
    }

    // The body's leakage by kind of zone, half of it low and half high in each zone, evenly over the walls it has.
    private ImmutableArray<int> AddLeakage(AirNetworkBuilder builder, AirNode[] nodes)
    {
        ImmutableArray<int>.Builder paths = ImmutableArray.CreateBuilder<int>();
        double[] weights = [.. Design.Zones.Select(LeakageWeight)];
        double total = weights.Sum();
        double restingPerS = Assumed["resting-exchange"] / 3600;
        for (int zone = 0; zone < nodes.Length; zone++)
        {
            Zone box = Design.Zones[zone];
            ReadOnlySpan<Face> walls = [Face.Left, Face.Right, Face.Nose, Face.Tail];
            List<Face> faces = [];
            foreach (Face face in walls)
            {
                if (ZoneFaces.AreaM2(Design, box, face) > 0)
                {
                    faces.Add(face);
                }
            }

            Area part = Design.Leakage.EffectiveArea * (weights[zone] / total / (2 * faces.Count));
            if (_everyOpening && faces.Remove(Face.Right))
            {
                // Left and right wall have the same wind: their cracks are one crack of twice the size.
                AddCracks(Face.Left, part * 2);
                faces.Remove(Face.Left);
            }

            foreach (Face face in faces)
            {
                AddCracks(face, part);
            }

            void AddCracks(Face face, Area area)
            {
                foreach ((string end, Length height) in (ReadOnlySpan<(string, Length)>)[("low", box.Bottom), ("high", box.Top)])
                {
                    int path = builder.AddCrack($"crack {box.Id} {face} {end}", AirNode.Outside, nodes[zone], height, area, Design.Leakage.Exponent);
                    _outsidePaths.Add((path, face));
                    paths.Add(path);
                }
            }

            paths.Add(builder.AddMixing("resting " + box.Id, AirNode.Outside, nodes[zone], VolumeFlow.FromCubicMetersPerSecond(box.AirVolume.CubicMeters * restingPerS)));
        }

        return paths.ToImmutable();
    }

    // Zones of one kind share that kind's leakage by air volume.
    private double LeakageWeight(Zone zone)
    {
        double kind = Assumed[zone.Kind switch
        {
            ZoneKind.Cab => "leakage-share-cab",
            ZoneKind.Living => "leakage-share-living",
            ZoneKind.Sleeping => "leakage-share-sleeping",
            ZoneKind.UnderBed => "leakage-share-under-bed",
            ZoneKind.Cupboard => "leakage-share-cupboard",
            _ => throw new ArgumentOutOfRangeException(nameof(zone), zone.Kind, "Expected a kind of zone."),
        }];
        double sameKindM3 = Design.Zones.Where(other => other.Kind == zone.Kind).Sum(other => other.AirVolume.CubicMeters);
        return kind * zone.AirVolume.CubicMeters / sameKindM3;
    }

    // The cab's own loss in the cab; ribs and seams over the other zones by wall area.
    private double[] OtherLosses()
    {
        double[] walls = [.. Design.Zones.Select(zone => zone.Kind == ZoneKind.Cab ? 0 : ZoneFaces.WallsM2(Design, zone))];
        double[] cabs = [.. Design.Zones.Select(zone => zone.Kind == ZoneKind.Cab ? zone.AirVolume.CubicMeters : 0)];
        double allWalls = walls.Sum();
        double allCabs = cabs.Sum();
        return
        [
            .. Enumerable.Range(0, ZoneCount).Select(zone =>
                (allWalls > 0 ? Assumed["ua-rest"] * walls[zone] / allWalls : 0)
                + (allCabs > 0 ? Assumed["ua-cab"] * cabs[zone] / allCabs : 0)),
        ];
    }

    // All of a cupboard's box but the wall behind it and what lies on roof or floor.
    private IEnumerable<Partition> CupboardFronts()
    {
        for (int index = 0; index < ZoneCount; index++)
        {
            Zone zone = Design.Zones[index];
            if (zone.Cupboard is not CupboardPlace place)
            {
                continue;
            }

            double lengthM = zone.To.Meters - zone.From.Meters;
            double heightM = zone.Top.Meters - zone.Bottom.Meters;
            double depthM = place.Depth.Meters;
            double areaM2 = (lengthM * heightM) + (2 * depthM * (lengthM + heightM))
                - ZoneFaces.AreaM2(Design, zone, Face.Roof) - ZoneFaces.AreaM2(Design, zone, Face.Floor)
                - ZoneFaces.AreaM2(Design, zone, Face.Nose) - ZoneFaces.AreaM2(Design, zone, Face.Tail);
            yield return new Partition(index, IndexOf(place.HostZoneId), Assumed["u-cupboard-front"] * areaM2);
        }
    }

    private IEnumerable<Partition> CabDivider() => CabDividers.UValueRow(Design.CabDivider) is not string row ? [] :
        from passage in Design.Passages
        where CabDividers.LeadsFromCab(Design, passage)
        let areaM2 = Design.Body.InteriorWidth.Meters * (passage.Top.Meters - passage.Bottom.Meters)
        select new Partition(IndexOf(passage.ZoneA), IndexOf(passage.ZoneB), Assumed[row] * areaM2);

    private IEnumerable<NightSurface> GlassSurfaces()
    {
        foreach (Glazing glazing in Design.Glazings)
        {
            yield return GlassSurface(SurfacePart.Glazing, glazing.Id, glazing.Name, glazing.ZoneId, glazing.Face, glazing.Area.SquareMeters, glazing.Pane);
        }

        foreach (Opening opening in Design.Openings)
        {
            if (opening.Pane is Pane pane)
            {
                yield return GlassSurface(
                    SurfacePart.Pane, opening.Id, opening.Name, opening.ZoneId, opening.Face, opening.Length.Meters * opening.Width.Meters, pane);
            }
        }
    }

    /// <summary>The surface as it is while no cover hangs before it.</summary>
    public NightSurface WithoutCover(NightSurface surface)
    {
        (Pane? pane, Face face) = surface.Part switch
        {
            SurfacePart.Glazing => Design.Glazings.Where(glazing => glazing.Id == surface.Id).Select(glazing => (glazing.Pane, glazing.Face)).Single(),
            SurfacePart.Pane => Design.Openings.Where(opening => opening.Id == surface.Id).Select(opening => (opening.Pane, opening.Face)).Single(),
            _ => (null, Face.Left),
        };
        return pane is null || pane.Cover == Cover.None
            ? surface
            : GlassSurface(surface.Part, surface.Id, surface.Name, Design.Zones[surface.Zone].Id, face, surface.AreaM2, pane with { Cover = Cover.None });
    }

    private NightSurface GlassSurface(SurfacePart part, string id, string name, string zoneId, Face face, double areaM2, Pane pane)
    {
        HeatFlow flow = Flow(face);
        double sheetM = Assumed[pane.Glass == GlassKind.AcrylicDouble ? "acrylic-thickness" : "glass-thickness"] / 1000;
        double gapM = Assumed[pane.Glass == GlassKind.AcrylicDouble ? "acrylic-gap" : "glass-gap"] / 1000;
        SurfacePath path = Glass.Path(
            Glass.PaneResistanceM2KPerW(pane.Glass, sheetM, gapM),
            pane.Cover,
            Assumed[pane.Cover == Cover.OutsideLoose ? "cover-resistance-outside-loose" : "cover-resistance"],
            SurfaceFilms.OutsideM2KPerW,
            flow);
        double exchangeMPerS = pane.Cover switch
        {
            Cover.InsideLoose => Assumed["cover-exchange-loose"] / 3600,
            Cover.InsideTight => Assumed["cover-exchange-tight"] / 3600,
            Cover.None or Cover.Outside or Cover.OutsideLoose => double.PositiveInfinity,
            _ => throw new ArgumentOutOfRangeException(nameof(pane), pane.Cover, "Expected a kind of cover."),
        };
        if (double.IsFinite(exchangeMPerS))
        {
            // The air that carries vapour behind the cover carries heat past it too, and gives it off through one inner film.
            double carriedWPerM2K = MoistAir.DryAirHeatCapacity * FlowLaw.ReferenceDensityKgPerM3 * exchangeMPerS;
            double pastCover = 1 / ((1 / carriedWPerM2K) + SurfaceFilms.InsideM2KPerW(flow));
            path = new SurfacePath(1 / ((1 / path.InsideM2KPerW) + pastCover), path.OutsideM2KPerW);
        }

        return new NightSurface(part, id, name, IndexOf(zoneId), areaM2, path, exchangeMPerS, SkyShare(face));
    }

    private IEnumerable<NightSurface> MetalSurfaces() => Design.BareMetal.Select(patch => new NightSurface(
        SurfacePart.Metal,
        patch.Id,
        patch.Name,
        IndexOf(patch.ZoneId),
        patch.Area.SquareMeters,
        BareMetal.Path(Assumed["skin-thickness"] / 1000, SurfaceFilms.OutsideM2KPerW),
        double.PositiveInfinity,
        UprightSkyShare));

    // The cab's trim has no layers: its loss is in OtherLossWPerK and it wets nowhere.
    private IEnumerable<NightSurface> LinedSurfaces()
    {
        for (int index = 0; index < ZoneCount; index++)
        {
            Zone zone = Design.Zones[index];
            if (zone.Kind == ZoneKind.Cab)
            {
                continue;
            }

            double metalM2 = Design.BareMetal.Where(patch => patch.ZoneId == zone.Id).Sum(patch => patch.Area.SquareMeters);
            double wallsM2 = new[] { Face.Left, Face.Right, Face.Nose, Face.Tail }.Sum(face => ZoneFaces.OpaqueM2(Design, zone, face));
            double roofM2 = ZoneFaces.OpaqueM2(Design, zone, Face.Roof);
            double floorM2 = ZoneFaces.OpaqueM2(Design, zone, Face.Floor);

            // Bare metal takes wall first, then roof, then floor.
            foreach ((SurfacePart part, string name, double areaM2, AssemblyResistance assembly, double skyShare) in new[]
            {
                (SurfacePart.Walls, "Walls", wallsM2, Walls, UprightSkyShare),
                (SurfacePart.Roof, "Roof", roofM2, Roof, SkyShare(Face.Roof)),
                (SurfacePart.Floor, "Floor", floorM2, Floor, 0),
            })
            {
                double linedM2 = Math.Max(0, areaM2 - metalM2);
                metalM2 = Math.Max(0, metalM2 - areaM2);
                if (linedM2 > 0)
                {
                    double insideM2KPerW = assembly.InsideSurface.SquareMeterKelvinsPerWatt;
                    yield return new NightSurface(
                        part, zone.Id, name, index, linedM2, new SurfacePath(insideM2KPerW, assembly.TotalM2KPerW - insideM2KPerW), double.PositiveInfinity, skyShare);
                }
            }
        }
    }

    private static HeatFlow Flow(Face face) => face switch
    {
        Face.Roof => HeatFlow.Upwards,
        Face.Floor => HeatFlow.Downwards,
        Face.Left or Face.Right or Face.Nose or Face.Tail => HeatFlow.Horizontal,
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };
}

/// <summary>A board or curtain between two zones.</summary>
/// <param name="ZoneA">Index of one zone.</param>
/// <param name="ZoneB">Index of the other.</param>
/// <param name="ConductanceWPerK">Heat it conducts per kelvin between them.</param>
internal readonly record struct Partition(int ZoneA, int ZoneB, double ConductanceWPerK);

/// <summary>The path of an opening in the network.</summary>
/// <param name="Index">Index of the path.</param>
/// <param name="Outwards">True when positive flow leaves the van.</param>
internal readonly record struct OutsidePath(int Index, bool Outwards);
