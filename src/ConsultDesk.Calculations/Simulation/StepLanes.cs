using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What a step needs of a glass or metal face; see <see cref="StepCoefficients"/>.</summary>
internal struct FaceStep<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane Store;
    public TLane Out;
    public TLane Sun;
    public TLane Sky;
    public TLane In;
    public TLane Inverse;
    public TLane ToZone;
    public TLane AreaM2;
    public TLane OutWPerK;
    public TLane CoverVapour;
}

/// <summary>What a step needs of a lining and the skin behind it; see <see cref="StepCoefficients"/>.</summary>
internal struct LiningStep<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane Store;
    public TLane In;
    public TLane Inverse;
    public TLane ToZone;
    public TLane AreaM2;
    public TLane SkinStore;
    public TLane SkinOut;
    public TLane SkinSun;
    public TLane SkinSky;
    public TLane SkinInverse;
    public TLane SkinToFace;
    public TLane SkinResponse;
    public TLane SkinToZone;
    public TLane SkinVapour;
    public TLane SkinOutWPerK;
    public TLane SkinRunOffKgPerM2;
    public TLane CoverVapour;
}

/// <summary>What a step needs of a zone; see <see cref="StepCoefficients"/>.</summary>
internal struct ZoneStep<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane Light;
    public TLane Diagonal;
    public TLane MassShare;
    public TLane MassStore;
    public TLane MassInverse;
    public TLane GlassSunM2;
    public TLane OtherSunM2;
    public TLane OtherSkyM2;
    public TLane OtherLossWPerK;
    public TLane BufferKgPerS;
    public TLane FurnishingM2;
    public TLane PerFurnishingM2;
}

/// <summary>
/// The coefficients of one kind of step for all vans of a batch. After a step of known length it is of second order, by the backward differences of the
/// values at its end, its start and the start of the step before: BDF2 (Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, III.5).
/// That is backward Euler with another start and another length: with the ratio r of the two lengths, from x + r²/(1+2r) (x - x before) over
/// (1+r)/(1+2r) of the step. Without a step before it is backward Euler itself.
/// </summary>
internal sealed class StepLanes<TLane>
    where TLane : struct, ILane<TLane>
{
    private readonly VanBatch<TLane> _batch;
    private readonly StepCoefficients[] _steps;

    public StepLanes(VanBatch<TLane> batch, int stepS, bool covered, int beforeS = 0)
    {
        _batch = batch;
        StepS = stepS;
        BeforeS = beforeS;
        Covered = covered;
        double ratio = beforeS == 0 ? 0 : (double)stepS / beforeS;
        Seconds = stepS * (1 + ratio) / (1 + (2 * ratio));
        Carry = TLane.Of(ratio * ratio / (1 + (2 * ratio)));
        // Where a van has no covers, both ways are the same.
        _steps = [.. batch.Vans.Select(van => new StepCoefficients(van, Seconds, covered))];
        Faces = VanBatch<TLane>.Records<FaceStep<TLane>>(batch.FaceCount);
        Linings = VanBatch<TLane>.Records<LiningStep<TLane>>(batch.LiningCount);
        Zones = VanBatch<TLane>.Records<ZoneStep<TLane>>(batch.ZoneCount);
        Span<FaceStep<TLane>> faces = Faces.Span;
        for (int k = 0; k < faces.Length; k++)
        {
            faces[k].Store = faces[k].Inverse = TLane.Of(1);
        }

        Span<LiningStep<TLane>> linings = Linings.Span;
        for (int j = 0; j < linings.Length; j++)
        {
            linings[j].Store = linings[j].Inverse = linings[j].SkinStore = linings[j].SkinInverse = TLane.Of(1);
        }

        TLane bufferStepS = batch.BufferLagS + TLane.Of(Seconds);
        PerBufferStepS = TLane.Of(1) / bufferStepS;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            TakeFaces(lane);
            TakeLinings(lane);
            TakeZones(lane, covered);
        }
    }

    /// <summary>Length of the step, s.</summary>
    public int StepS { get; }

    /// <summary>Length of the step before, s; 0 for backward Euler.</summary>
    public int BeforeS { get; }

    /// <summary>Time over which the flows at the step's end act, s.</summary>
    public double Seconds { get; }

    /// <summary>Share of what the last step changed that is added to what this one starts from.</summary>
    public TLane Carry { get; }

    /// <summary>Covers hang before the glass of vans that have some.</summary>
    public bool Covered { get; }

    /// <summary>One over the time in which fabrics follow the air and a step.</summary>
    public TLane PerBufferStepS { get; }

    /// <summary>Sun that all faces, skins and zones take up, per W/m2 on a level surface, m2.</summary>
    public TLane SunM2 { get; private set; }

    /// <summary>Loss to the sky of all faces and skins, per W/m2 of a level surface, m2.</summary>
    public TLane SkyM2 { get; private set; }

    /// <summary>Heat that faces, skins and what is lost beside them lose per kelvin below the air, W/K.</summary>
    public TLane OutWPerK { get; private set; }

    /// <summary>Glass and metal faces.</summary>
    public Aligned<FaceStep<TLane>> Faces { get; }

    /// <summary>Linings and skins.</summary>
    public Aligned<LiningStep<TLane>> Linings { get; }

    /// <summary>Zones.</summary>
    public Aligned<ZoneStep<TLane>> Zones { get; }

    private void TakeFaces(int lane)
    {
        VanModel van = _batch.Vans[lane];
        StepCoefficients step = _steps[lane];
        Span<FaceStep<TLane>> faces = Faces.Span;
        for (int k = 0; k < van.FirstLining; k++)
        {
            ref FaceStep<TLane> face = ref faces[_batch.FaceSlot(lane, k)];
            double areaM2 = van.FaceM2[k];
            Put(ref face.Store, lane, step.FaceStore[k]);
            Put(ref face.Out, lane, step.FaceOut[k]);
            Put(ref face.Sun, lane, van.FaceSun[k]);
            Put(ref face.Sky, lane, step.FaceSky[k]);
            Put(ref face.In, lane, step.FaceIn[k]);
            Put(ref face.Inverse, lane, step.FaceInverse[k]);
            Put(ref face.ToZone, lane, step.FaceToZone[k]);
            Put(ref face.AreaM2, lane, areaM2);
            Put(ref face.OutWPerK, lane, areaM2 * step.FaceOut[k]);
            Put(ref face.CoverVapour, lane, Cover(step.CoverVapour[k]));
            Add(lane, sunM2: areaM2 * van.FaceSun[k], skyM2: areaM2 * step.FaceSky[k], outWPerK: areaM2 * step.FaceOut[k]);
        }
    }

    private void TakeLinings(int lane)
    {
        VanModel van = _batch.Vans[lane];
        StepCoefficients step = _steps[lane];
        Span<LiningStep<TLane>> linings = Linings.Span;
        for (int j = 0; j < van.SkinCount; j++)
        {
            ref LiningStep<TLane> lining = ref linings[_batch.LiningSlot(lane, j)];
            int k = van.FirstLining + j;
            double areaM2 = van.FaceM2[k];
            Put(ref lining.Store, lane, step.FaceStore[k]);
            Put(ref lining.In, lane, step.FaceIn[k]);
            Put(ref lining.Inverse, lane, step.FaceInverse[k]);
            Put(ref lining.ToZone, lane, step.FaceToZone[k]);
            Put(ref lining.AreaM2, lane, areaM2);
            Put(ref lining.SkinStore, lane, step.SkinStore[j]);
            Put(ref lining.SkinOut, lane, van.SkinOutWPerM2K[j]);
            Put(ref lining.SkinSun, lane, van.SkinSun[j]);
            Put(ref lining.SkinSky, lane, van.SkinSky[j]);
            Put(ref lining.SkinInverse, lane, step.SkinInverse[j]);
            Put(ref lining.SkinToFace, lane, step.SkinToFace[j]);
            Put(ref lining.SkinResponse, lane, step.SkinResponse[j]);
            Put(ref lining.SkinToZone, lane, step.SkinToZone[j]);
            Put(ref lining.SkinVapour, lane, van.SkinVapour[j]);
            Put(ref lining.SkinOutWPerK, lane, areaM2 * van.SkinOutWPerM2K[j]);
            Put(ref lining.SkinRunOffKgPerM2, lane, van.SkinRunOffKgPerM2[j]);
            Put(ref lining.CoverVapour, lane, Cover(step.CoverVapour[k]));
            Add(lane, sunM2: areaM2 * van.SkinSun[j], skyM2: areaM2 * van.SkinSky[j], outWPerK: areaM2 * van.SkinOutWPerM2K[j]);
        }
    }

    private void TakeZones(int lane, bool covered)
    {
        VanModel van = _batch.Vans[lane];
        StepCoefficients step = _steps[lane];
        double[] sunM2 = covered ? van.CoveredSunM2 : van.BareSunM2;
        Span<ZoneStep<TLane>> zones = Zones.Span;
        for (int i = 0; i < zones.Length; i++)
        {
            ref ZoneStep<TLane> zone = ref zones[i];
            Put(ref zone.Light, lane, van.LightJPerK[i] / Seconds);
            Put(ref zone.Diagonal, lane, step.ZoneDiagonal[i]);
            Put(ref zone.MassShare, lane, step.MassShare[i]);
            Put(ref zone.MassStore, lane, step.MassStore[i]);
            Put(ref zone.MassInverse, lane, step.MassInverse[i]);
            Put(ref zone.GlassSunM2, lane, sunM2[i]);
            Put(ref zone.OtherSunM2, lane, van.OtherSunM2[i]);
            Put(ref zone.OtherSkyM2, lane, van.OtherSkyM2[i]);
            Put(ref zone.OtherLossWPerK, lane, van.Night.OtherLossWPerK[i]);
            Put(ref zone.BufferKgPerS, lane, van.BufferKg[i] * PerBufferStepS[lane]);
            Put(ref zone.FurnishingM2, lane, van.FurnishingM2[i]);
            Put(ref zone.PerFurnishingM2, lane, 1 / van.FurnishingM2[i]);
            Add(lane, sunM2: sunM2[i] + van.OtherSunM2[i], skyM2: van.OtherSkyM2[i], outWPerK: van.Night.OtherLossWPerK[i]);
        }
    }

    private void Add(int lane, double sunM2, double skyM2, double outWPerK)
    {
        SunM2 = TLane.With(SunM2, lane, SunM2[lane] + sunM2);
        SkyM2 = TLane.With(SkyM2, lane, SkyM2[lane] + skyM2);
        OutWPerK = TLane.With(OutWPerK, lane, OutWPerK[lane] + outWPerK);
    }

    private static void Put(ref TLane value, int lane, double number) => LaneNumbers.At(ref value, lane) = number;

    // Without a cover vapour has no edge to pass.
    private static double Cover(double vapour) => double.IsFinite(vapour) ? vapour : 0;
}
