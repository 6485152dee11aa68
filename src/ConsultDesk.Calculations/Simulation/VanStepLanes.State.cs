using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <content>The state from outside: its start, changes between steps, and each van's numbers.</content>
internal sealed partial class VanStep<TLane>
{
    /// <summary>Puts everything in each van at one temperature and at the humidity of outdoor air.</summary>
    public void Start(TLane temperatureC, double humidityRatio, double pressurePa, TLane outdoorCarbonDioxide)
    {
        PressurePa = pressurePa;
        OutdoorCarbonDioxide = outdoorCarbonDioxide;
        TLane vapourPa = TLane.Of(MoistAir.VapourPressurePa(humidityRatio, pressurePa));
        TLane share = TLane.Min(vapourPa / SaturationTable.Pa(temperatureC, out _), TLane.Of(1));
        _carried.Span.Clear();
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].AirC = temperatureC;
            zones[i].MassC = temperatureC;
            zones[i].HumidityRatio = TLane.Of(humidityRatio);
            int zone = i;
            zones[i].BufferKg = share * _batch.Lanes(van => van.BufferKg[zone]);
            works[i].AirKg = AirKgAt(pressurePa) * works[i].VolumeM3;
            works[i].CarbonDioxide = outdoorCarbonDioxide;
            works[i].OxygenUsed = TLane.Zero;
            works[i].MattressKgPerS = TLane.Zero;
        }

        StartSurfaces(temperatureC, share);
        Span<DryerState<TLane>> dryers = Dryers;
        for (int d = 0; d < dryers.Length; d++)
        {
            dryers[d].LowestPa = TLane.Of(double.PositiveInfinity);
        }

        Whole.MattressC = temperatureC;
        Whole.MattressKgPerM2 = _batch.Mattress is { } mattress ? share * mattress.StorageKgPerM2 : TLane.Zero;
        _factored = null;
        _gasAirChanged = true;
    }

    private void StartSurfaces(TLane temperatureC, TLane share)
    {
        Span<FaceState<TLane>> faces = Faces;
        for (int k = 0; k < faces.Length; k++)
        {
            faces[k].SurfaceC = TLane.Of(VanBatch<TLane>.DummyC);
        }

        Span<LiningState<TLane>> linings = Linings;
        for (int j = 0; j < linings.Length; j++)
        {
            linings[j].Face.SurfaceC = linings[j].SkinC = TLane.Of(VanBatch<TLane>.DummyC);
        }

        for (int lane = 0; lane < TLane.Count; lane++)
        {
            VanModel van = _batch.Vans[lane];
            for (int k = 0; k < van.FirstLining; k++)
            {
                Put(ref faces[_batch.FaceSlot(lane, k)].SurfaceC, lane, temperatureC[lane]);
            }

            for (int j = 0; j < van.SkinCount; j++)
            {
                ref LiningState<TLane> lining = ref linings[_batch.LiningSlot(lane, j)];
                Put(ref lining.Face.SurfaceC, lane, temperatureC[lane]);
                Put(ref lining.SkinC, lane, temperatureC[lane]);
                Put(ref lining.SkinKgPerM2, lane, share[lane] * van.SkinStorageKgPerM2);
            }
        }
    }

    // What of the work never changes.
    private void Compile()
    {
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            int zone = i;
            works[i].VolumeM3 = _batch.Lanes(van => van.ZoneVolumeM3[zone]);
        }
    }

    /// <summary>
    /// Takes over another barometric pressure: dry air comes in or goes out with what it carries, so that humidity ratio
    /// and gases stay as they are and water closes.
    /// </summary>
    public void SetPressure(double pressurePa)
    {
        if (pressurePa == PressurePa)
        {
            return;
        }

        PressurePa = pressurePa;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        ref WholeState<TLane> whole = ref Whole;
        for (int i = 0; i < works.Length; i++)
        {
            TLane before = works[i].AirKg;
            works[i].AirKg = AirKgAt(pressurePa) * works[i].VolumeM3;
            TLane movedKg = (works[i].AirKg - before) * zones[i].HumidityRatio;
            // Water keeps its drift.
            zones[i].HumidityDrift = zones[i].HumidityDrift * before / works[i].AirKg;
            whole.BroughtKg += TLane.Max(movedKg, TLane.Zero);
            whole.CarriedKg += TLane.Max(-movedKg, TLane.Zero);
        }

        // Vapour transfer follows with the next air flows, which come at once.
        _airChanged = true;
        _gasAirChanged = true;
    }

    // Per m3, of air of 15 degrees: how much lighter warm air is, is left to the air flows.
    private static TLane AirKgAt(double pressurePa) => TLane.Of(MoistAir.DensityKgPerM3(temperatureC: 15, humidityRatio: 0, pressurePa));

    /// <summary>All that is carried from step to step, to be put back later.</summary>
    public TLane[] Carried() => _carried.Span.ToArray();

    /// <summary>Puts back what was carried at another time, with the same air flows and sources.</summary>
    public void PutBack(TLane[] carried) => carried.CopyTo(_carried.Span);

    /// <summary>Wipes the glass of the vans of a mask and takes the cloth out of them.</summary>
    public void WipeGlass(TLane wiping)
    {
        Span<FaceState<TLane>> faces = Faces;
        for (int i = 0; i < _zones; i++)
        {
            for (int k = i == 0 ? 0 : _batch.FaceEnd[i - 1]; k < _batch.GlassEnd[i]; k++)
            {
                TLane wiped = TLane.And(wiping, faces[k].FilmKgPerM2);
                faces[k].RanOffKgPerM2 += wiped;
                Whole.RanOffKg += wiped * _batch.FaceM2(k);
                faces[k].FilmKgPerM2 -= wiped;
            }
        }
    }

    /// <summary>Sensible heat of people, cooker and so on in a zone of one van, W.</summary>
    public void SetSources(int lane, int zone, double sensibleW, double waterKgPerS, double carbonDioxideMolPerS, double oxygenMolPerS)
    {
        ref ZoneWork<TLane> work = ref _zoneWork.Span[zone];
        Put(ref work.SensibleW, lane, sensibleW);
        Put(ref work.WaterKgPerS, lane, waterKgPerS);
        Put(ref work.CarbonDioxideMolPerS, lane, carbonDioxideMolPerS);
        Put(ref work.OxygenMolPerS, lane, oxygenMolPerS);
    }

    /// <summary>Temperature of a zone.</summary>
    public ref TLane ZoneC(int zone) => ref Zones[zone].AirC;

    /// <summary>Humidity ratio of a zone.</summary>
    public ref TLane HumidityRatio(int zone) => ref Zones[zone].HumidityRatio;

    /// <summary>Vapour pressure in a zone.</summary>
    public TLane VapourPressurePa(int zone) => VapourPressure(Zones[zone].HumidityRatio);

    /// <summary>Carbon dioxide in a zone, share by volume.</summary>
    public ref TLane CarbonDioxide(int zone) => ref _zoneWork.Span[zone].CarbonDioxide;

    /// <summary>Oxygen used by breath and flame in a zone, share by volume.</summary>
    public ref TLane OxygenUsed(int zone) => ref _zoneWork.Span[zone].OxygenUsed;

    /// <summary>Dry air in a zone, by the barometric pressure.</summary>
    public TLane AirKg(int zone) => _zoneWork.Span[zone].AirKg;

    /// <summary>A glass or metal face by its place in the batch.</summary>
    public ref FaceState<TLane> Face(int slot) => ref Faces[slot];

    /// <summary>A lining by its place in the batch.</summary>
    public ref LiningState<TLane> Lining(int slot) => ref Linings[slot];

    /// <summary>Furnishings of a zone.</summary>
    public ref FaceState<TLane> Furnishing(int zone) => ref Zones[zone].Furnishing;

    /// <summary>Heater, mattress and the sums of the balances.</summary>
    public ref WholeState<TLane> WholeVan => ref Whole;

    /// <summary>Takes one van out of the reckoning: empty, as warm as outdoors, whatever it was before.</summary>
    public void Empty(int lane)
    {
        TLane others = TLane.Mask(~(1u << lane));
        foreach (ref TLane number in _carried.Span)
        {
            number = TLane.And(others, number);
        }

        for (int i = 0; i < _zones; i++)
        {
            ref ZoneState<TLane> zone = ref Zones[i];
            Put(ref zone.AirC, lane, OutdoorC);
            Put(ref zone.MassC, lane, OutdoorC);
            Put(ref zone.HumidityRatio, lane, OutdoorHumidityRatio);
            SetSources(lane, i, 0, 0, 0, 0);
        }

        foreach (ref FaceState<TLane> face in Faces)
        {
            Put(ref face.SurfaceC, lane, OutdoorC);
        }

        foreach (ref LiningState<TLane> lining in Linings)
        {
            Put(ref lining.Face.SurfaceC, lane, OutdoorC);
            Put(ref lining.SkinC, lane, OutdoorC);
        }

        HeaterLimitW = TLane.With(HeaterLimitW, lane, 0);
        Counting = TLane.And(Counting, others);
    }

    /// <summary>Mask of the vans that are waited for; the others were taken out.</summary>
    public TLane Counting { get; private set; } = TLane.AllBits;

    /// <summary>Starts the sums of the balances anew.</summary>
    public void ClearSums()
    {
        ref WholeState<TLane> whole = ref Whole;
        whole.WaterKg = whole.BroughtKg = whole.CarriedKg = whole.RanOffKg = whole.DriedKg = TLane.Zero;
        whole.GivenJ = whole.HeaterJ = whole.SunJ = whole.LatentJ = whole.LossJ = TLane.Zero;
        whole.StoredKg = StoredKg();
        whole.StoredJ = StoredJ();
    }

    /// <summary>Starts anew what has condensed on and run off faces and furnishings.</summary>
    public void ClearFilmSums()
    {
        foreach (ref FaceState<TLane> face in Faces)
        {
            face.CondensedKgPerM2 = face.RanOffKgPerM2 = TLane.Zero;
        }

        foreach (ref LiningState<TLane> lining in Linings)
        {
            lining.Face.CondensedKgPerM2 = lining.Face.RanOffKgPerM2 = TLane.Zero;
        }

        foreach (ref ZoneState<TLane> zone in Zones)
        {
            zone.Furnishing.CondensedKgPerM2 = zone.Furnishing.RanOffKgPerM2 = TLane.Zero;
        }
    }

    /// <summary>The sums of one van's balances.</summary>
    public BalanceSums Sums(int lane)
    {
        ref WholeState<TLane> whole = ref Whole;
        return new BalanceSums
        {
            WaterKg = whole.WaterKg[lane],
            BroughtKg = whole.BroughtKg[lane],
            CarriedKg = whole.CarriedKg[lane],
            RanOffKg = whole.RanOffKg[lane],
            DriedKg = whole.DriedKg[lane],
            GivenJ = whole.GivenJ[lane],
            HeaterJ = whole.HeaterJ[lane],
            SunJ = whole.SunJ[lane],
            LatentJ = whole.LatentJ[lane],
            LossJ = whole.LossJ[lane],
            StoredKg = whole.StoredKg[lane],
            StoredJ = whole.StoredJ[lane],
        };
    }

    /// <summary>Water in air, fabrics, films, skins and mattress.</summary>
    public TLane StoredKg()
    {
        TLane sum = _batch.Mattress is { } mattress ? mattress.AreaM2 * Whole.MattressKgPerM2 : TLane.Zero;
        for (int i = 0; i < _zones; i++)
        {
            ref ZoneState<TLane> zone = ref Zones[i];
            sum += (AirKg(i) * zone.HumidityRatio) + zone.BufferKg + (_batch.FurnishingM2(i) * zone.Furnishing.FilmKgPerM2);
        }

        for (int k = 0; k < _batch.FaceCount; k++)
        {
            sum += _batch.FaceM2(k) * Faces[k].FilmKgPerM2;
        }

        for (int j = 0; j < _batch.LiningCount; j++)
        {
            sum += _batch.LiningM2(j) * (Linings[j].Face.FilmKgPerM2 + Linings[j].SkinKgPerM2);
        }

        return sum;
    }

    /// <summary>Heat in air, furniture, faces and skins above 0 degrees Celsius.</summary>
    public TLane StoredJ()
    {
        TLane sum = TLane.Zero;
        for (int i = 0; i < _zones; i++)
        {
            sum += (_batch.LightJPerK(i) * Zones[i].AirC) + (_batch.MassJPerK(i) * Zones[i].MassC);
        }

        for (int k = 0; k < _batch.FaceCount; k++)
        {
            sum += _batch.FaceJPerK(k) * Faces[k].SurfaceC;
        }

        for (int j = 0; j < _batch.LiningCount; j++)
        {
            sum += (_batch.LiningJPerK(j) * Linings[j].Face.SurfaceC) + (_batch.SkinJPerK(j) * Linings[j].SkinC);
        }

        return sum;
    }

    private static void Put(ref TLane value, int lane, double number) => LaneNumbers.At(ref value, lane) = number;
}
