using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// A design compiled for steps in time: flat lists of zones, faces and skins. A face is what room air touches and can
/// wet: glass, bare metal and linings, in the order of <see cref="NightModel.Surfaces"/>. A skin is the steel behind a
/// lining, in the order of the linings. Nothing in it depends on the weather.
/// </summary>
internal sealed class VanModel
{
    // Stands for the temperature of the air whose vapour passes covers and cavities.
    private const double GapC = 10;

    // Conductivity of vapour in still air, kg/(m s Pa), as the sd values of materials are meant (ISO 13788, recalled).
    private const double StillAirKgPerMSPa = 2e-10;

    // Heat capacity of a pane of glass or acrylic per thickness, J/(m3 K): EN ISO 10456, recalled.
    private const double GlassJPerM3K = 2500 * 750;
    private const double AcrylicJPerM3K = 1180 * 1500;

    public VanModel(Design design, Assumptions assumed)
    {
        Night = new NightModel(design, assumed, everyOpening: true);
        int zones = Night.ZoneCount;
        ZoneVolumeM3 = [.. design.Zones.Select(zone => zone.AirVolume.CubicMeters)];
        LightJPerK = [.. ZoneVolumeM3.Select(volume => 1000 * assumed["light-mass"] * volume)];
        MassJPerK = [.. ZoneVolumeM3.Select(volume => 1000 * assumed["fit-out-mass"] * volume)];
        MassWPerK = [.. ZoneVolumeM3.Select(volume => assumed["fit-out-coupling"] * volume)];
        BufferKg = [.. ZoneVolumeM3.Select(volume => 0.1 * assumed["buffer-capacity"] * volume)];
        BufferLagS = 3600 * assumed["buffer-lag"];
        RunOffKgPerM2 = assumed["film-run-off"] / 1000;
        FurnishingM2 = [.. design.Zones.Select(zone => Math.Max(0.1, ZoneFaces.WallsM2(design, zone)))];

        NightSurface[] faces = [.. Night.Surfaces];
        NightSurface[] bare = [.. faces.Select(Night.WithoutCover)];
        FirstLining = Array.FindIndex(faces, face => IsLining(face.Part));
        FirstLining = FirstLining < 0 ? faces.Length : FirstLining;
        FaceZone = [.. faces.Select(face => face.Zone)];
        FaceM2 = [.. faces.Select(face => face.AreaM2)];
        Covered = new FacePaths(faces);
        Bare = new FacePaths(bare);
        HasCovers = faces.Where((face, k) => face != bare[k]).Any();
        FaceJPerM2K = [.. faces.Select(FaceCapacity)];
        double absorbed = assumed["skin-absorptance"];
        double upright = assumed["sun-on-walls"];
        FaceSun = [.. faces.Select(face => face.Part == SurfacePart.Metal ? absorbed * upright : 0)];

        GlassCount = faces.Count(face => face.Part is SurfacePart.Glazing or SurfacePart.Pane);
        int skins = faces.Length - FirstLining;
        SkinWPerM2K = new double[skins];
        SkinOutWPerM2K = new double[skins];
        SkinJPerM2K = new double[skins];
        SkinVapour = new double[skins];
        SkinSun = new double[skins];
        for (int j = 0; j < skins; j++)
        {
            AddSkin(j, faces[FirstLining + j]);
        }

        SkinStorageKgPerM2 = assumed["cavity-storage"] / 10;
        SkinRunOffKgPerM2 = [.. faces.Skip(FirstLining).Select(face => face.Part == SurfacePart.Floor ? double.PositiveInfinity : assumed["skin-run-off"] / 1000)];
        (CoveredSunM2, BareSunM2) = GlassSun(faces);
        OtherSkyM2 = [.. Night.OtherLossWPerK.Select(wPerK => wPerK * Night.UprightSkyShare * SurfaceFilms.OutsideM2KPerW)];
        SkinSky = [.. faces.Skip(FirstLining).Select(face => face.SkyShare)];
        SkySeen = [.. Enum.GetValues<Shelter>().Select(Night.SkySeen)];
        OtherSunM2 = [.. Night.OtherLossWPerK.Select(wPerK => wPerK * upright * absorbed * SurfaceFilms.OutsideM2KPerW)];
        Mattress = Mattress.Of(Night);
        CapturePaths = [.. SituationModel.AboveCooker(Night.Design, assumed["steam-capture-reach"])];
        Captured = assumed["steam-capture"] / 100;
        CaptureFlowM3PerS = assumed["steam-capture-flow"] / 3600;
    }

    /// <summary>Network, surfaces and losses, with a path for every opening.</summary>
    public NightModel Night { get; }

    /// <summary>Air volume of each zone.</summary>
    public double[] ZoneVolumeM3 { get; }

    /// <summary>Heat capacity of the air and what follows it at once.</summary>
    public double[] LightJPerK { get; }

    /// <summary>Heat capacity of furniture and stores.</summary>
    public double[] MassJPerK { get; }

    /// <summary>Heat transfer between them and the air.</summary>
    public double[] MassWPerK { get; }

    /// <summary>Water that fabrics and wood hold at 100 % relative humidity.</summary>
    public double[] BufferKg { get; }

    /// <summary>Time in which they follow the air.</summary>
    public double BufferLagS { get; }

    /// <summary>Water a face holds before it runs off.</summary>
    public double RunOffKgPerM2 { get; }

    /// <summary>Area of furnishings at the zone's temperature, which mist wets.</summary>
    public double[] FurnishingM2 { get; }

    /// <summary>Index of the first lining among the faces; glass and metal come before.</summary>
    public int FirstLining { get; }

    /// <summary>Glass comes first among the faces: so many.</summary>
    public int GlassCount { get; }

    /// <summary>Zone before each face.</summary>
    public int[] FaceZone { get; }

    /// <summary>Area of each face.</summary>
    public double[] FaceM2 { get; }

    /// <summary>Ways of heat and vapour while covers hang.</summary>
    public FacePaths Covered { get; }

    /// <summary>Ways of heat and vapour without covers.</summary>
    public FacePaths Bare { get; }

    /// <summary>True when some glass has a cover.</summary>
    public bool HasCovers { get; }

    /// <summary>Heat capacity of each face.</summary>
    public double[] FaceJPerM2K { get; }

    /// <summary>Share of the sun on a level surface that each face takes up on its outside.</summary>
    public double[] FaceSun { get; }

    /// <summary>Conductance between lining and skin.</summary>
    public double[] SkinWPerM2K { get; }

    /// <summary>Conductance between skin and outdoor air.</summary>
    public double[] SkinOutWPerM2K { get; }

    /// <summary>Heat capacity of each skin.</summary>
    public double[] SkinJPerM2K { get; }

    /// <summary>Vapour transfer from room air to each skin, diffusion and air through gaps together, kg/(m2 s Pa).</summary>
    public double[] SkinVapour { get; }

    /// <summary>Share of the sun on a level surface that each skin takes up.</summary>
    public double[] SkinSun { get; }

    /// <summary>Share of the level loss to the sky that each skin has.</summary>
    public double[] SkinSky { get; }

    /// <summary>Loss to the sky that comes with <see cref="NightModel.OtherLossWPerK"/>, per W/m2 of the level loss.</summary>
    public double[] OtherSkyM2 { get; }

    /// <summary>Share of the open sky's loss left, by <see cref="Shelter"/>.</summary>
    public double[] SkySeen { get; }

    /// <summary>Water held before a skin at 100 % relative humidity.</summary>
    public double SkinStorageKgPerM2 { get; }

    /// <summary>Water beyond that a skin holds before it runs down to the sills; infinite at the floor, where it stands.</summary>
    public double[] SkinRunOffKgPerM2 { get; }

    /// <summary>Sun through glass into each zone per W/m2 on a level surface, covers hung.</summary>
    public double[] CoveredSunM2 { get; }

    /// <summary>The same without covers.</summary>
    public double[] BareSunM2 { get; }

    /// <summary>Sun that comes in with <see cref="NightModel.OtherLossWPerK"/>.</summary>
    public double[] OtherSunM2 { get; }

    /// <summary>The mattress's underside; null without a bed.</summary>
    public Mattress? Mattress { get; }

    /// <summary>Indices of the openings within reach above the cooker.</summary>
    public int[] CapturePaths { get; }

    /// <summary>Share of the pans' steam that leaves through them while air does; heat and gases of the flame mix all the same.</summary>
    public double Captured { get; }

    /// <summary>Air leaving above the cooker from which it takes that share.</summary>
    public double CaptureFlowM3PerS { get; }

    /// <summary>Zones.</summary>
    public int ZoneCount => Night.ZoneCount;

    /// <summary>Faces.</summary>
    public int FaceCount => FaceZone.Length;

    /// <summary>Skins.</summary>
    public int SkinCount => SkinVapour.Length;

    /// <summary>Ways of heat and vapour of all faces.</summary>
    internal sealed class FacePaths
    {
        public FacePaths(NightSurface[] faces)
        {
            InWPerM2K = [.. faces.Select(face => 1 / face.Path.InsideM2KPerW)];
            OutWPerM2K = [.. faces.Select(face => 1 / face.Path.OutsideM2KPerW)];
            Sky = [.. faces.Select(face => face.SkyShare * SurfaceFilms.OutsideM2KPerW / face.Path.OutsideM2KPerW)];
            CoverVapour = [.. faces.Select(face => double.IsFinite(face.AirBehindCoverMPerS)
                ? VapourTransfer.ByAirExchangeKgPerM2SPa(face.AirBehindCoverMPerS, GapC)
                : double.PositiveInfinity)];
        }

        /// <summary>Room air to face.</summary>
        public double[] InWPerM2K { get; }

        /// <summary>Face to outdoor air; unused for linings.</summary>
        public double[] OutWPerM2K { get; }

        /// <summary>Share of the level loss to the sky that reaches the face through what lies outside of it; unused for linings.</summary>
        public double[] Sky { get; }

        /// <summary>Vapour that passes a cover's edge, kg/(m2 s Pa); infinite without one.</summary>
        public double[] CoverVapour { get; }
    }

    /// <summary>Vapour transfer at a bare face in air of this pressure, kg/(m2 s Pa).</summary>
    public double FilmVapour(double pressurePa) => VapourTransfer.CoefficientKgPerM2SPa(
        Night.SurfaceConvectionWPerM2K, GapC, MoistAir.DensityKgPerM3(GapC, 0, pressurePa));

    /// <summary>Vapour transfer to the underside of a mattress or any layer of this vapour-equivalent air layer.</summary>
    public static double DiffusionKgPerM2SPa(double airLayerM) => StillAirKgPerMSPa / airLayerM;

    internal static bool IsLining(SurfacePart part) => part is SurfacePart.Walls or SurfacePart.Roof or SurfacePart.Floor;

    private void AddSkin(int j, NightSurface lining)
    {
        Assumptions assumed = Night.Assumed;
        (LayeredAssembly assembly, AssemblyResistance resistance) = lining.Part switch
        {
            SurfacePart.Walls => (Night.Design.Walls, Night.Walls),
            SurfacePart.Roof => (Night.Design.Roof, Night.Roof),
            SurfacePart.Floor => (Night.Design.Floor, Night.Floor),
            _ => throw new InvalidOperationException($"{lining.Part} is no lining."),
        };
        double[] layers = [.. resistance.Layers.Select(layer => layer.SquareMeterKelvinsPerWatt)];
        double between = layers.Sum();
        SkinWPerM2K[j] = 1 / between;
        SkinOutWPerM2K[j] = 1 / resistance.OutsideSurface.SquareMeterKelvinsPerWatt;
        double toMiddle = 0;
        double diffusionM = 0;
        for (int layer = 0; layer < layers.Length; layer++)
        {
            double capacity = 0;
            switch (assembly.Layers[layer])
            {
                case SolidLayer solid:
                    Material material = Materials.Get(solid.Material);
                    capacity = solid.Thickness.Meters * material.Density.KilogramsPerCubicMeter * material.HeatCapacity.JoulesPerKilogramKelvin;
                    // The outermost layer is the skin itself.
                    diffusionM += layer < layers.Length - 1 ? material.VapourEquivalentThicknessM(solid.Thickness) : 0;
                    break;
                case MembraneLayer membrane:
                    diffusionM += layer < layers.Length - 1 ? membrane.VapourEquivalentThickness.Meters : 0;
                    break;
            }

            // What lies nearer to the room moves with the lining, the rest with the skin.
            bool inner = toMiddle + (layers[layer] / 2) < between / 2;
            toMiddle += layers[layer];
            FaceJPerM2K[FirstLining + j] += inner ? capacity : 0;
            SkinJPerM2K[j] += inner ? 0 : capacity;
        }

        double airMPerS = assumed[assembly.Gaps switch
        {
            LiningGaps.Sealed => "cavity-air-sealed",
            LiningGaps.ClipsAndSeams => "cavity-air-clips",
            LiningGaps.PlannedAirGap => "cavity-air-planned",
            _ => throw new InvalidOperationException($"Unknown gaps {assembly.Gaps}."),
        }] / 3600;
        double diffusion = diffusionM > 0 ? DiffusionKgPerM2SPa(diffusionM) : double.PositiveInfinity;
        double film = FilmVapour(StandardAtmosphere.SeaLevelPressurePa);
        // A bare skin is the face itself: nothing lies between.
        SkinVapour[j] = layers.Length < 2
            ? 0
            : double.IsFinite(diffusion)
                ? VapourTransfer.InSeries(diffusion + VapourTransfer.ByAirExchangeKgPerM2SPa(airMPerS, GapC), film)
                : film;
        double absorbed = assumed["skin-absorptance"];
        SkinSun[j] = lining.Part switch
        {
            SurfacePart.Roof => absorbed,
            SurfacePart.Walls => absorbed * assumed["sun-on-walls"],
            _ => 0,
        };
    }

    private double FaceCapacity(NightSurface face)
    {
        Assumptions assumed = Night.Assumed;
        return face.Part switch
        {
            // The inner pane of a double one moves with the face.
            SurfacePart.Glazing or SurfacePart.Pane => SunGain.PaneOf(Night.Design, face).Glass == GlassKind.AcrylicDouble
                ? AcrylicJPerM3K * assumed["acrylic-thickness"] / 1000
                : GlassJPerM3K * assumed["glass-thickness"] / 1000,
            SurfacePart.Metal => assumed["skin-thickness"] / 1000 * SteelJPerM3K(),
            _ => 0,
        };
    }

    private static double SteelJPerM3K()
    {
        Material steel = Materials.Get("mild-steel");
        return steel.Density.KilogramsPerCubicMeter * steel.HeatCapacity.JoulesPerKilogramKelvin;
    }

    private (double[] Covered, double[] Bare) GlassSun(NightSurface[] faces)
    {
        Assumptions assumed = Night.Assumed;
        double[] covered = new double[ZoneCount];
        double[] bare = new double[ZoneCount];
        foreach (NightSurface face in faces.Where(face => face.Part is SurfacePart.Glazing or SurfacePart.Pane))
        {
            double seen = SunGain.FaceOf(Night.Design, face) switch { Face.Roof => 1, Face.Floor => 0, _ => assumed["sun-on-walls"] };
            double share = SunGain.CoverShare(SunGain.PaneOf(Night.Design, face).Cover, assumed);
            double takenM2 = seen * assumed["glass-sun"] * face.AreaM2;
            bare[face.Zone] += takenM2;
            covered[face.Zone] += share * takenM2;
        }

        return (covered, bare);
    }
}

/// <summary>The underside of the mattress: warmed and dampened by sleepers from above, dried by the air below.</summary>
/// <param name="BedZone">Zone the sleepers lie in.</param>
/// <param name="BelowZone">Zone under the bed.</param>
/// <param name="AreaM2">Area under the sleepers.</param>
/// <param name="StorageKgPerM2">Water held at 100 % relative humidity.</param>
/// <param name="AboveKgPerM2SPa">Vapour transfer through the mattress.</param>
/// <param name="BelowKgPerM2SPa">Vapour transfer from the underside to the air below.</param>
/// <param name="WarmthShare">Share of the temperature above in the underside's temperature, the rest that of the air below.</param>
/// <param name="ContactC">Temperature above while people sleep.</param>
/// <param name="ContactPa">Vapour pressure above while people sleep.</param>
internal sealed record Mattress(
    int BedZone,
    int BelowZone,
    double AreaM2,
    double StorageKgPerM2,
    double AboveKgPerM2SPa,
    double BelowKgPerM2SPa,
    double WarmthShare,
    double ContactC,
    double ContactPa)
{
    /// <summary>The mattress of a design; null without a sleeping zone.</summary>
    public static Mattress? Of(NightModel model)
    {
        Design design = model.Design;
        Assumptions assumed = model.Assumed;
        int bed = IndexOf(design, ZoneKind.Sleeping);
        if (bed < 0)
        {
            return null;
        }

        int below = IndexOf(design, ZoneKind.UnderBed);
        (string key, bool board) = design.BedBase switch
        {
            BedBase.Solid => ("bed-base-solid", true),
            BedBase.Slatted => ("bed-base-slatted", false),
            BedBase.VentilatedUnderlay => ("bed-base-underlay", false),
            _ => throw new InvalidOperationException($"Unknown bed base {design.BedBase}."),
        };
        double aboveM2KPerW = assumed["mattress-resistance"] + SurfaceFilms.InsideM2KPerW(HeatFlow.Downwards);
        double belowM2KPerW = (board ? assumed["bed-board-resistance"] : 0) + SurfaceFilms.InsideM2KPerW(HeatFlow.Downwards);
        double contactC = assumed["bed-contact-temperature"];
        double film = VapourTransfer.CoefficientKgPerM2SPa(
            model.SurfaceConvectionWPerM2K, contactC, MoistAir.DensityKgPerM3(contactC, 0, StandardAtmosphere.SeaLevelPressurePa));
        return new Mattress(
            bed,
            below < 0 ? bed : below,
            Math.Max(1, design.Household.Sleepers) * assumed["mattress-area"],
            assumed["mattress-storage"] / 10,
            VanModel.DiffusionKgPerM2SPa(assumed["mattress-vapour"]),
            VapourTransfer.InSeries(VanModel.DiffusionKgPerM2SPa(assumed[key]), film),
            belowM2KPerW / (aboveM2KPerW + belowM2KPerW),
            contactC,
            assumed["bed-contact-humidity"] / 100 * MoistAir.SaturationPressureOverWaterPa(contactC));
    }

    private static int IndexOf(Design design, ZoneKind kind) => design.Zones.ToList().FindIndex(zone => zone.Kind == kind);
}
