using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>One van's state and steps by the van's own numbers: <see cref="VanStep{TLane}"/> with a single lane.</summary>
internal sealed class VanStep
{
    private readonly VanBatch<ScalarLane> _batch;
    private readonly VanModel _van;

    public VanStep(VanModel van)
        : this(new VanBatch<ScalarLane>([van]))
    {
    }

    private VanStep(VanBatch<ScalarLane> batch)
        : this(batch, new VanStep<ScalarLane>(batch))
    {
    }

    public VanStep(VanBatch<ScalarLane> batch, VanStep<ScalarLane> lanes)
    {
        _batch = batch;
        _van = batch.Vans[0];
        Lanes = lanes;
        ZoneC = List(_van.ZoneCount, i => ref lanes.ZoneC(i));
        HumidityRatio = List(_van.ZoneCount, i => ref lanes.HumidityRatio(i));
        CarbonDioxide = List(_van.ZoneCount, i => ref lanes.CarbonDioxide(i));
        AirKg = new StateList(_van.ZoneCount, i => lanes.AirKg(i).Value);
        FaceC = List(_van.FaceCount, k => ref Film(k).SurfaceC);
        FilmKgPerM2 = List(_van.FaceCount + _van.ZoneCount, k => ref Film(k).FilmKgPerM2);
        CondensedKgPerM2 = List(_van.FaceCount + _van.ZoneCount, k => ref Film(k).CondensedKgPerM2);
        RanOffKgPerM2 = List(_van.FaceCount + _van.ZoneCount, k => ref Film(k).RanOffKgPerM2);
        SkinC = List(_van.SkinCount, j => ref Lining(j).SkinC);
        SkinKgPerM2 = List(_van.SkinCount, j => ref Lining(j).SkinKgPerM2);
        SkinRanOffKgPerM2 = List(_van.SkinCount, j => ref Lining(j).SkinRanOffKgPerM2);
    }

    private delegate ref ScalarLane Place(int index);

    /// <summary>The lane.</summary>
    public VanStep<ScalarLane> Lanes { get; }

    /// <summary>Temperature of each zone.</summary>
    public StateList ZoneC { get; }

    /// <summary>Humidity ratio of each zone.</summary>
    public StateList HumidityRatio { get; }

    /// <summary>Carbon dioxide in each zone, share by volume.</summary>
    public StateList CarbonDioxide { get; }

    /// <summary>Dry air in each zone, by the barometric pressure.</summary>
    public StateList AirKg { get; }

    /// <summary>Temperature of each face.</summary>
    public StateList FaceC { get; }

    /// <summary>Film on each face, then on the furnishings of each zone.</summary>
    public StateList FilmKgPerM2 { get; }

    /// <summary>Condensed on each film since it was last set to zero.</summary>
    public StateList CondensedKgPerM2 { get; }

    /// <summary>Run off or wiped off each film since it was last set to zero.</summary>
    public StateList RanOffKgPerM2 { get; }

    /// <summary>Temperature of each skin.</summary>
    public StateList SkinC { get; }

    /// <summary>Water before each skin: held by the lining, and film beyond what it holds.</summary>
    public StateList SkinKgPerM2 { get; }

    /// <summary>Run down each skin since it was last set to zero.</summary>
    public StateList SkinRanOffKgPerM2 { get; }

    /// <summary>Outdoor temperature at the step's end.</summary>
    public double OutdoorC => Lanes.OutdoorC;

    /// <summary>Heater output in the step.</summary>
    public double HeaterW => Lanes.HeaterW.Value;

    /// <summary>Sums of the two balances up to now.</summary>
    public BalanceSums Sums => Lanes.Sums(0);

    /// <summary>Puts everything at one temperature and at the humidity of outdoor air.</summary>
    public void Start(double temperatureC, double humidityRatio, double pressurePa, double outdoorCarbonDioxide) =>
        Lanes.Start(new(temperatureC), humidityRatio, pressurePa, new(outdoorCarbonDioxide));

    /// <summary>Takes over another barometric pressure.</summary>
    public void SetPressure(double pressurePa) => Lanes.SetPressure(pressurePa);

    /// <summary>Takes over air flows.</summary>
    /// <param name="transportKgPerS">Air from node j into zone i at [i * (zones + 1) + j], outside last.</param>
    public void SetAir(double[] transportKgPerS) => Lanes.SetAir([.. transportKgPerS.Select(kgPerS => new ScalarLane(kgPerS))]);

    /// <summary>One step.</summary>
    public void Step(StepLanes<ScalarLane> step) => Lanes.Step(step);

    /// <summary>Carbon dioxide and oxygen through a stretch of steps with the same air flows and sources.</summary>
    public void StepGases(double seconds, double heaterW) => Lanes.StepGases(seconds, new(heaterW));

    /// <summary>Film on a skin: what the lining before it does not hold.</summary>
    public double SkinFilmKgPerM2(int skin) => Math.Max(0, SkinKgPerM2[skin] - _van.SkinStorageKgPerM2);

    /// <summary>Vapour pressure in a zone.</summary>
    public double VapourPressurePa(int zone) => Lanes.VapourPressurePa(zone).Value;

    /// <summary>Water in air, fabrics, films, skins and mattress.</summary>
    public double StoredKg() => Lanes.StoredKg().Value;

    /// <summary>Heat in air, furniture, faces and skins above 0 degrees Celsius.</summary>
    public double StoredJ() => Lanes.StoredJ().Value;

    private static StateList List(int count, Place place) => new(count, index => place(index).Value, (index, value) => place(index) = new(value));

    private ref FaceState<ScalarLane> Film(int film)
    {
        if (film >= _van.FaceCount)
        {
            return ref Lanes.Furnishing(film - _van.FaceCount);
        }

        if (film >= _van.FirstLining)
        {
            return ref Lining(film - _van.FirstLining).Face;
        }

        return ref Lanes.Face(_batch.FaceSlot(0, film));
    }

    private ref LiningState<ScalarLane> Lining(int lining) => ref Lanes.Lining(_batch.LiningSlot(0, lining));
}
