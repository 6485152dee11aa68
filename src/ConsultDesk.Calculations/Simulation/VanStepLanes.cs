using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The state of the air, faces, skins, fabrics and mattress of vans side by side, and one step of it in time, by backward Euler or of second order
/// (<see cref="StepLanes{TLane}"/>). Heat is
/// solved with the latent heat of the step before, then water with every film as a complementarity, then heat again with
/// the step's own latent heat, so that both balances close to rounding. A step allocates nothing.
/// </summary>
/// <remarks>
/// <para>Film: g = max(beta (pv - psat(Ts)), -film/dt), with the surface's own latent heat eliminated from psat.
/// Skin: water w is held by the lining up to S at 100 %, more is film: g = beta (pv - psat(Tk) min(1, w/S)), w of the
/// step's end. Both are the larger of two rising lines of pv, so that choosing lines, solving and choosing again ends
/// after few rounds (policy iteration on an M-matrix).</para>
/// <para>Each van's numbers are those it has alone, to the bit. A van whose films have settled finds them settled again while others go on. One whose
/// mist has settled repeats with what it last began with, and finds the same. Vans that take no part in a step are put back after it.</para>
/// <para>Whatever is stored starts a step at its value and a share, <see cref="StepLanes{TLane}.Carry"/>, of its drift, by which the last step has
/// changed it. What flows is summed up in the same way: a share of what flowed in the last step and the flow at this one's end. Both
/// balances then close to rounding whatever the steps are.</para>
/// </remarks>
internal sealed partial class VanStep<TLane>
    where TLane : struct, ILane<TLane>
{
    // A saturated zone sheds its surplus as mist: so steep that its vapour stays within a fraction of a pascal.
    private const double MistKgPerSPa = 1e-3;

    // Mist warms the air it leaves; heat and water are repeated until the air moves less than this.
    private const double MistRepeatK = 1e-4;
    private const int MostRepeats = 12;
    private const double NearlySaturated = 0.95;
    private const double SaturationSlack = 1e-4;
    private const int MostRounds = 60;

    private readonly VanBatch<TLane> _batch;
    private readonly int _zones;

    // All that is carried from step to step lies in one piece, so that vans can be put back after a step that is not theirs.
    private readonly Aligned<TLane> _carried;
    private readonly Aligned<TLane> _kept;
    private readonly int _liningsFrom;
    private readonly int _zonesFrom;
    private readonly int _dryersFrom;
    private readonly int _wholeFrom;

    private readonly Aligned<FaceWork<TLane>> _faceWork;
    private readonly Aligned<LiningWork<TLane>> _liningWork;
    private readonly Aligned<ZoneWork<TLane>> _zoneWork;
    private readonly Aligned<TLane> _flow;
    private readonly Aligned<TLane> _heatFactors;
    private readonly Aligned<TLane> _heatInverse;
    private readonly Aligned<TLane> _gasFactors;
    private readonly Aligned<TLane> _waterMatrix;
    private readonly Aligned<TLane> _water;
    private readonly Aligned<TLane> _right;
    private readonly Aligned<TLane> _answer;

    // A face is idle while it is dry in every van and needs no lines.
    private readonly bool[] _idleFace;
    private readonly bool[] _idleLining;
    private readonly bool[] _idleFurnishing;
    private readonly int[] _busyInZone;

    private StepLanes<TLane>? _factored;
    private TLane _carry;
    private bool _airChanged = true;
    private bool _gasAirChanged = true;
    private double _gasSeconds;
    private double _betaPressurePa = double.NaN;
    private bool _betaCovered;

    public VanStep(VanBatch<TLane> batch)
    {
        _batch = batch;
        _zones = batch.ZoneCount;
        _liningsFrom = batch.FaceCount * FaceFields;
        _zonesFrom = _liningsFrom + (batch.LiningCount * LiningFields);
        _dryersFrom = _zonesFrom + (_zones * ZoneFields);
        _wholeFrom = _dryersFrom + (batch.DryerCount * DryerFields);
        int carried = _wholeFrom + WholeFields;
        _carried = VanBatch<TLane>.Records<TLane>(carried);
        _kept = VanBatch<TLane>.Records<TLane>(carried);
        _faceWork = VanBatch<TLane>.Records<FaceWork<TLane>>(batch.FaceCount);
        _liningWork = VanBatch<TLane>.Records<LiningWork<TLane>>(batch.LiningCount);
        _zoneWork = VanBatch<TLane>.Records<ZoneWork<TLane>>(_zones);
        _flow = VanBatch<TLane>.Records<TLane>(_zones * _zones);
        _heatFactors = VanBatch<TLane>.Records<TLane>(_zones * _zones);
        _heatInverse = VanBatch<TLane>.Records<TLane>(_zones * _zones);
        _gasFactors = VanBatch<TLane>.Records<TLane>(_zones * _zones);
        _waterMatrix = VanBatch<TLane>.Records<TLane>(_zones * _zones);
        _water = VanBatch<TLane>.Records<TLane>(_zones);
        _right = VanBatch<TLane>.Records<TLane>(_zones);
        _answer = VanBatch<TLane>.Records<TLane>(_zones);
        _idleFace = new bool[batch.FaceCount];
        _idleLining = new bool[batch.LiningCount];
        _idleFurnishing = new bool[_zones];
        _busyInZone = new int[_zones];
        ForgetBounds();
        Compile();
    }

    private static int FaceFields => Fields<FaceState<TLane>>();

    private static int LiningFields => Fields<LiningState<TLane>>();

    private static int ZoneFields => Fields<ZoneState<TLane>>();

    private static int DryerFields => Fields<DryerState<TLane>>();

    private static int WholeFields => Fields<WholeState<TLane>>();

    /// <summary>Faces of glass and metal.</summary>
    private Span<FaceState<TLane>> Faces => MemoryMarshal.Cast<TLane, FaceState<TLane>>(_carried.Span[.._liningsFrom]);

    /// <summary>Linings and skins.</summary>
    private Span<LiningState<TLane>> Linings => MemoryMarshal.Cast<TLane, LiningState<TLane>>(_carried.Span[_liningsFrom.._zonesFrom]);

    /// <summary>Zones.</summary>
    private Span<ZoneState<TLane>> Zones => MemoryMarshal.Cast<TLane, ZoneState<TLane>>(_carried.Span[_zonesFrom.._dryersFrom]);

    private Span<DryerState<TLane>> Dryers => MemoryMarshal.Cast<TLane, DryerState<TLane>>(_carried.Span[_dryersFrom.._wholeFrom]);

    private ref WholeState<TLane> Whole => ref MemoryMarshal.Cast<TLane, WholeState<TLane>>(_carried.Span[_wholeFrom..])[0];

    /// <summary>Outdoor temperature at the step's end.</summary>
    public double OutdoorC { get; set; }

    /// <summary>Outdoor humidity ratio at the step's end.</summary>
    public double OutdoorHumidityRatio { get; set; }

    /// <summary>Barometric pressure.</summary>
    public double PressurePa { get; private set; }

    /// <summary>Global sun on a level surface.</summary>
    public double SunWPerM2 { get; set; }

    /// <summary>What a black level surface loses to the sky the vans see, W/m2.</summary>
    public TLane SkyLossWPerM2 { get; set; }

    /// <summary>Temperature the heater holds.</summary>
    public TLane SetPointC { get; set; }

    /// <summary>Most the heater gives; 0 while it is off.</summary>
    public TLane HeaterLimitW { get; set; }

    /// <summary>Water an unflued heater adds per joule.</summary>
    public TLane HeaterWaterKgPerJ { get; set; }

    /// <summary>Carbon dioxide an unflued heater adds per joule.</summary>
    public TLane HeaterCarbonDioxideMolPerJ { get; set; }

    /// <summary>Oxygen an unflued heater uses per joule.</summary>
    public TLane HeaterOxygenMolPerJ { get; set; }

    /// <summary>Carbon dioxide of outdoor air, share by volume.</summary>
    public TLane OutdoorCarbonDioxide { get; set; }

    /// <summary>Dryers run.</summary>
    public bool DryersRun { get; set; }

    /// <summary>People lie on the mattress.</summary>
    public bool Asleep { get; set; }

    /// <summary>Heater output in the step.</summary>
    public TLane HeaterW => Whole.HeaterW;

    /// <summary>Most rounds any step needed to settle its films.</summary>
    public TLane MostFilmRounds { get; private set; }

    /// <summary>Mask of the vans whose films did not settle in some step: their numbers mean nothing from there on.</summary>
    public TLane Unsettled { get; private set; }

    /// <summary>One step of all vans.</summary>
    public void Step(StepLanes<TLane> step) => StepSome(step, TLane.AllBits);

    /// <summary>One step of the vans of a mask; the others stay as they are.</summary>
    public void Step(StepLanes<TLane> step, TLane active)
    {
        if (TLane.All(active))
        {
            StepSome(step, active);
            return;
        }

        Span<TLane> carried = _carried.Span;
        Span<TLane> kept = _kept.Span;
        carried.CopyTo(kept);
        StepSome(step, active);
        for (int at = 0; at < carried.Length; at++)
        {
            carried[at] = TLane.Select(active, carried[at], kept[at]);
        }
    }

    private void StepSome(StepLanes<TLane> step, TLane active)
    {
        _carry = step.Carry;
        if (_airChanged || _factored != step)
        {
            Factorise(step);
        }

        DriveHeat(step);
        PrepareVapour();
        if (_batch.Mattress is MattressLanes<TLane> mattress)
        {
            StepMattress(mattress, step.Seconds);
        }

        PrepareDryers();
        TLane heaterW = SolveHeat();
        Guess();
        ref WholeState<TLane> whole = ref Whole;
        TLane heaterWater = (heaterW * HeaterWaterKgPerJ) + (whole.HeaterWaterLagKg * TLane.Of(1.0 / step.Seconds));
        TLane going = TLane.And(active, Counting);
        for (int repeat = 0; ; repeat++)
        {
            PrepareFurnishings(step, going);
            PrepareFaces(step);
            PrepareLinings(step);
            PrepareAir(step, heaterWater);
            SettleWater(step, TLane.And(active, Counting));
            CollectLatent(step);
            whole.HeaterW = SolveHeat();
            TakeAir();
            going = TLane.And(going, MistMoved());
            if (repeat >= MostRepeats || !TLane.Any(going))
            {
                break;
            }

            HalfWay(going);
        }

        // The flame's water was that of the first guess; what the last changed follows in the next step.
        whole.HeaterWaterLagKg = (whole.HeaterW - heaterW) * HeaterWaterKgPerJ * TLane.Of(step.Seconds);
        Finish(step, heaterWater);
    }

    private static int Fields<T>() => Unsafe.SizeOf<T>() / Unsafe.SizeOf<TLane>();
}
