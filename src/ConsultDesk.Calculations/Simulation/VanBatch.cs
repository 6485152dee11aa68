using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Vans with the same zones compiled to one shape, so that they are stepped together, one in each lane. Faces stand zone by zone, glass before
/// metal; each zone has as many as the van with most of them. Where a van has fewer, the rest are dummies: no area, no exchange of heat or
/// vapour, and so warm that nothing condenses on them. A dummy adds exact zeros, so a van's numbers are those it has alone.
/// </summary>
internal sealed class VanBatch<TLane>
    where TLane : struct, ILane<TLane>
{
    /// <summary>What a dummy's temperature is and stays, °C.</summary>
    public const double DummyC = 80;

    private readonly int[][] _faceSlots;
    private readonly int[][] _liningSlots;
    private readonly int[][] _dryerSlots;
    private readonly TLane[] _faceM2;
    private readonly TLane[] _faceJPerK;
    private readonly TLane[] _liningM2;
    private readonly TLane[] _liningJPerK;
    private readonly TLane[] _skinJPerK;
    private readonly TLane[] _furnishingM2;
    private readonly TLane[] _lightJPerK;
    private readonly TLane[] _massJPerK;

    /// <summary>Compiles vans that <see cref="SameShape"/> says go together.</summary>
    /// <param name="vans">1 to <see cref="ILane{TLane}.Count"/> vans; lanes beyond run the last of them again.</param>
    public VanBatch(IReadOnlyList<VanModel> vans)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(vans.Count, 1, nameof(vans));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(vans.Count, TLane.Count, nameof(vans));
        Used = vans.Count;
        Vans = new VanModel[TLane.Count];
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            Vans[lane] = vans[Math.Min(lane, Used - 1)];
            if (!SameShape(vans[0], Vans[lane]))
            {
                throw new ArgumentException("Vans with other zones cannot be stepped together.", nameof(vans));
            }
        }

        ZoneCount = vans[0].ZoneCount;
        HeaterZone = vans[0].Night.HeaterZone;
        HasCovers = vans.Any(van => van.HasCovers);
        FaceEnd = new int[ZoneCount];
        GlassEnd = new int[ZoneCount];
        LiningEnd = new int[ZoneCount];
        DryerEnd = new int[ZoneCount];
        int faces = 0;
        int linings = 0;
        int dryers = 0;
        for (int i = 0; i < ZoneCount; i++)
        {
            GlassEnd[i] = faces + vans.Max(van => Count(van, i, 0, van.GlassCount));
            faces = FaceEnd[i] = GlassEnd[i] + vans.Max(van => Count(van, i, van.GlassCount, van.FirstLining));
            linings = LiningEnd[i] = linings + vans.Max(van => Count(van, i, van.FirstLining, van.FaceCount));
            dryers = DryerEnd[i] = dryers + vans.Max(van => van.Night.Dryers.Count(dryer => dryer.Zone == i));
        }

        FaceCount = faces;
        LiningCount = linings;
        DryerCount = dryers;
        _faceSlots = [.. Vans.Select(FaceSlots)];
        _liningSlots = [.. Vans.Select(LiningSlots)];
        _dryerSlots = [.. Vans.Select(DryerSlots)];
        _faceM2 = OfFaces((van, k) => van.FaceM2[k]);
        _faceJPerK = OfFaces((van, k) => van.FaceM2[k] * van.FaceJPerM2K[k]);
        _liningM2 = OfLinings((van, j) => van.FaceM2[van.FirstLining + j]);
        _liningJPerK = OfLinings((van, j) => van.FaceM2[van.FirstLining + j] * van.FaceJPerM2K[van.FirstLining + j]);
        _skinJPerK = OfLinings((van, j) => van.FaceM2[van.FirstLining + j] * van.SkinJPerM2K[j]);
        _furnishingM2 = [.. Enumerable.Range(0, ZoneCount).Select(i => Lanes(van => van.FurnishingM2[i]))];
        _lightJPerK = [.. Enumerable.Range(0, ZoneCount).Select(i => Lanes(van => van.LightJPerK[i]))];
        _massJPerK = [.. Enumerable.Range(0, ZoneCount).Select(i => Lanes(van => van.MassJPerK[i]))];
        BufferLagS = Lanes(van => van.BufferLagS);
        RunOffKgPerM2 = Lanes(van => van.RunOffKgPerM2);
        SkinStorageKgPerM2 = Lanes(van => van.SkinStorageKgPerM2);
        PerSkinStorage = TLane.Of(1) / SkinStorageKgPerM2;
        Partitions = [.. vans[0].Night.Partitions.Select((partition, index) => (partition.ZoneA, partition.ZoneB, Lanes(van => van.Night.Partitions[index].ConductanceWPerK)))];
        Mattress = vans[0].Mattress is null ? null : new MattressLanes<TLane>(Vans);
    }

    /// <summary>The van of each lane.</summary>
    public VanModel[] Vans { get; }

    /// <summary>Lanes with a van of their own.</summary>
    public int Used { get; }

    /// <summary>Zones.</summary>
    public int ZoneCount { get; }

    /// <summary>Glass and metal faces, dummies included.</summary>
    public int FaceCount { get; }

    /// <summary>Linings with the skin behind, dummies included.</summary>
    public int LiningCount { get; }

    /// <summary>Dryers, dummies included.</summary>
    public int DryerCount { get; }

    /// <summary>Zone with the heater.</summary>
    public int HeaterZone { get; }

    /// <summary>True when some van has covers.</summary>
    public bool HasCovers { get; }

    /// <summary>Index behind the last face of each zone.</summary>
    public int[] FaceEnd { get; }

    /// <summary>Index behind the last glass of each zone.</summary>
    public int[] GlassEnd { get; }

    /// <summary>Index behind the last lining of each zone.</summary>
    public int[] LiningEnd { get; }

    /// <summary>Index behind the last dryer of each zone.</summary>
    public int[] DryerEnd { get; }

    /// <summary>Time in which fabrics follow the air.</summary>
    public TLane BufferLagS { get; }

    /// <summary>Water a face holds before it runs off.</summary>
    public TLane RunOffKgPerM2 { get; }

    /// <summary>Water held before a skin at 100 % relative humidity.</summary>
    public TLane SkinStorageKgPerM2 { get; }

    /// <summary>One over <see cref="SkinStorageKgPerM2"/>.</summary>
    public TLane PerSkinStorage { get; }

    /// <summary>Walls between zones and their conductance, W/K.</summary>
    public (int ZoneA, int ZoneB, TLane WPerK)[] Partitions { get; }

    /// <summary>The mattress's underside; null without a bed.</summary>
    public MattressLanes<TLane>? Mattress { get; }

    /// <summary>True when two vans have the same zones, walls between them, heated zone and bed, so that they can be stepped together.</summary>
    public static bool SameShape(VanModel a, VanModel b) =>
        a.ZoneCount == b.ZoneCount
        && a.Night.HeaterZone == b.Night.HeaterZone
        && a.Night.Partitions.Select(partition => (partition.ZoneA, partition.ZoneB)).SequenceEqual(b.Night.Partitions.Select(partition => (partition.ZoneA, partition.ZoneB)))
        && (a.Mattress?.BedZone, a.Mattress?.BelowZone) == (b.Mattress?.BedZone, b.Mattress?.BelowZone);

    /// <summary>Place of a van's face, glass or metal, among <see cref="FaceCount"/>.</summary>
    public int FaceSlot(int lane, int face) => _faceSlots[lane][face];

    /// <summary>Place of a van's lining among <see cref="LiningCount"/>.</summary>
    public int LiningSlot(int lane, int lining) => _liningSlots[lane][lining];

    /// <summary>Place of a van's dryer among <see cref="DryerCount"/>.</summary>
    public int DryerSlot(int lane, int dryer) => _dryerSlots[lane][dryer];

    /// <summary>Area of a face by its place.</summary>
    public TLane FaceM2(int slot) => _faceM2[slot];

    /// <summary>Heat capacity of a face.</summary>
    public TLane FaceJPerK(int slot) => _faceJPerK[slot];

    /// <summary>Area of a lining by its place.</summary>
    public TLane LiningM2(int slot) => _liningM2[slot];

    /// <summary>Heat capacity of what moves with the lining's room side.</summary>
    public TLane LiningJPerK(int slot) => _liningJPerK[slot];

    /// <summary>Heat capacity of what moves with the skin.</summary>
    public TLane SkinJPerK(int slot) => _skinJPerK[slot];

    /// <summary>Area of a zone's furnishings.</summary>
    public TLane FurnishingM2(int zone) => _furnishingM2[zone];

    /// <summary>Heat capacity of a zone's air and what follows it at once.</summary>
    public TLane LightJPerK(int zone) => _lightJPerK[zone];

    /// <summary>Heat capacity of a zone's furniture and stores.</summary>
    public TLane MassJPerK(int zone) => _massJPerK[zone];

    /// <summary>A number of each van.</summary>
    public TLane Lanes(Func<VanModel, double> of)
    {
        TLane value = TLane.Zero;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            value = TLane.With(value, lane, of(Vans[lane]));
        }

        return value;
    }

    /// <summary>A mask of vans.</summary>
    public TLane Mask(Func<VanModel, bool> of)
    {
        uint bits = 0;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            bits |= of(Vans[lane]) ? 1u << lane : 0;
        }

        return TLane.Mask(bits);
    }

    /// <summary>A list of records of lanes.</summary>
    public static Aligned<T> Records<T>(int length)
        where T : struct => new(length, Unsafe.SizeOf<TLane>());

    private static int Count(VanModel van, int zone, int from, int to)
    {
        int count = 0;
        for (int k = from; k < to; k++)
        {
            count += van.FaceZone[k] == zone ? 1 : 0;
        }

        return count;
    }

    private int[] FaceSlots(VanModel van)
    {
        int[] slots = new int[van.FirstLining];
        int[] nextGlass = [.. GlassEnd.Select((_, i) => i == 0 ? 0 : FaceEnd[i - 1])];
        int[] nextMetal = [.. GlassEnd];
        for (int k = 0; k < slots.Length; k++)
        {
            slots[k] = (k < van.GlassCount ? nextGlass : nextMetal)[van.FaceZone[k]]++;
        }

        return slots;
    }

    private TLane[] OfFaces(Func<VanModel, int, double> of)
    {
        TLane[] values = new TLane[FaceCount];
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            for (int k = 0; k < Vans[lane].FirstLining; k++)
            {
                ref TLane value = ref values[FaceSlot(lane, k)];
                value = TLane.With(value, lane, of(Vans[lane], k));
            }
        }

        return values;
    }

    private TLane[] OfLinings(Func<VanModel, int, double> of)
    {
        TLane[] values = new TLane[LiningCount];
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            for (int j = 0; j < Vans[lane].SkinCount; j++)
            {
                ref TLane value = ref values[LiningSlot(lane, j)];
                value = TLane.With(value, lane, of(Vans[lane], j));
            }
        }

        return values;
    }

    private int[] DryerSlots(VanModel van)
    {
        int[] next = [.. DryerEnd.Select((_, i) => i == 0 ? 0 : DryerEnd[i - 1])];
        return [.. van.Night.Dryers.Select(dryer => next[dryer.Zone]++)];
    }

    private int[] LiningSlots(VanModel van)
    {
        int[] next = [.. LiningEnd.Select((_, i) => i == 0 ? 0 : LiningEnd[i - 1])];
        int[] slots = new int[van.SkinCount];
        for (int j = 0; j < slots.Length; j++)
        {
            slots[j] = next[van.FaceZone[van.FirstLining + j]]++;
        }

        return slots;
    }
}

/// <summary>The mattresses of the vans of a batch; where they lie is the same in all.</summary>
internal sealed class MattressLanes<TLane>
    where TLane : struct, ILane<TLane>
{
    public MattressLanes(VanModel[] vans)
    {
        BedZone = vans[0].Mattress!.BedZone;
        BelowZone = vans[0].Mattress!.BelowZone;
        AreaM2 = Of(vans, mattress => mattress.AreaM2);
        StorageKgPerM2 = Of(vans, mattress => mattress.StorageKgPerM2);
        PerStorage = TLane.Of(1) / StorageKgPerM2;
        AboveKgPerM2SPa = Of(vans, mattress => mattress.AboveKgPerM2SPa);
        BothKgPerM2SPa = Of(vans, mattress => mattress.AboveKgPerM2SPa + mattress.BelowKgPerM2SPa);
        BelowKgPerM2SPa = Of(vans, mattress => mattress.BelowKgPerM2SPa);
        WarmthShare = Of(vans, mattress => mattress.WarmthShare);
        ContactC = Of(vans, mattress => mattress.ContactC);
        ContactPa = Of(vans, mattress => mattress.ContactPa);
    }

    /// <summary>Zone the sleepers lie in.</summary>
    public int BedZone { get; }

    /// <summary>Zone under the bed.</summary>
    public int BelowZone { get; }

    /// <summary>See <see cref="Mattress.AreaM2"/>.</summary>
    public TLane AreaM2 { get; }

    /// <summary>See <see cref="Mattress.StorageKgPerM2"/>.</summary>
    public TLane StorageKgPerM2 { get; }

    /// <summary>One over <see cref="StorageKgPerM2"/>.</summary>
    public TLane PerStorage { get; }

    /// <summary>See <see cref="Mattress.AboveKgPerM2SPa"/>.</summary>
    public TLane AboveKgPerM2SPa { get; }

    /// <summary>See <see cref="Mattress.BelowKgPerM2SPa"/>.</summary>
    public TLane BelowKgPerM2SPa { get; }

    /// <summary>Both ways together.</summary>
    public TLane BothKgPerM2SPa { get; }

    /// <summary>See <see cref="Mattress.WarmthShare"/>.</summary>
    public TLane WarmthShare { get; }

    /// <summary>See <see cref="Mattress.ContactC"/>.</summary>
    public TLane ContactC { get; }

    /// <summary>See <see cref="Mattress.ContactPa"/>.</summary>
    public TLane ContactPa { get; }

    private static TLane Of(VanModel[] vans, Func<Mattress, double> of)
    {
        TLane value = TLane.Zero;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            value = TLane.With(value, lane, of(vans[lane].Mattress!));
        }

        return value;
    }
}
