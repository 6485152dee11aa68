using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What the people of one van do with it through time: openings and fans, what they give off, the heater's limit.</summary>
internal sealed class VanUse
{
    // Short steps follow an opening or a fan moved by more than this share.
    private const double MovedShare = 0.1;

    private readonly VanModel _van;
    private readonly bool _fansFailWhenLocked;
    private readonly Opening[] _openings;
    private readonly int _livingZone;
    private readonly double _airingC;
    private readonly double _airingBandK;
    private readonly double _airingPace;
    private readonly double _quietSpeed;
    private readonly double _dayC;
    private readonly double _nightC;
    private double _derated = 1;
    private double _deratedPa = double.NaN;
    private double _airing;
    private bool _justMoved;

    public VanUse(VanModel van, bool fansFailWhenLocked)
    {
        _van = van;
        _fansFailWhenLocked = fansFailWhenLocked;
        _openings = [.. van.Night.Design.Openings];
        OpenShare = new double[_openings.Length];
        FanSpeed = new double[_openings.Length];
        _livingZone = van.Night.FirstOf(ZoneKind.Living);
        _airingC = van.Night.Assumed["airing-temperature"];
        _airingBandK = van.Night.Assumed["airing-band"];
        _airingPace = van.Night.Assumed["airing-pace"];
        _quietSpeed = van.Night.Assumed["quiet-fan-speed"];
        _dayC = van.Night.Design.Heater.DaySetPoint.DegreesCelsius;
        _nightC = van.Night.Design.Heater.NightSetPoint.DegreesCelsius;
        DryersW = van.Night.Dryers.Sum(dryer => dryer.DrawW);
        SensibleW = new double[van.ZoneCount];
        WaterKgPerS = new double[van.ZoneCount];
        CarbonDioxideMolPerS = new double[van.ZoneCount];
        OxygenMolPerS = new double[van.ZoneCount];
    }

    /// <summary>Share of its full free area each opening stands open.</summary>
    public double[] OpenShare { get; }

    /// <summary>Speed of each opening's fan.</summary>
    public double[] FanSpeed { get; }

    /// <summary>Zone whose warmth people air by.</summary>
    public int LivingZone => _livingZone;

    /// <summary>Electric draw of the dryers while somebody is in the van.</summary>
    public double DryersW { get; }

    /// <summary>Sensible heat given off in each zone.</summary>
    public double[] SensibleW { get; }

    /// <summary>Water given off in each zone; the heater's apart.</summary>
    public double[] WaterKgPerS { get; }

    /// <summary>Carbon dioxide of people and cooker in each zone.</summary>
    public double[] CarbonDioxideMolPerS { get; }

    /// <summary>Oxygen used by people and cooker in each zone.</summary>
    public double[] OxygenMolPerS { get; }

    /// <summary>Starts anew: nobody airs, nothing was moved.</summary>
    public void Start()
    {
        _airing = 0;
        _justMoved = false;
    }

    /// <summary>Steps of the next ten minutes as far as what people moved asks for them.</summary>
    public int StepsAfterMove()
    {
        int steps = _justMoved ? HouseholdDay.StepsAfterChange : 1;
        _justMoved = false;
        return steps;
    }

    /// <summary>Sets openings and fans for what people do now.</summary>
    public void SetOpenings(in Outdoor now, Activity activity, double livingC)
    {
        bool people = activity is Activity.Awake or Activity.Cooking or Activity.Asleep;
        // Part of the way each time: decided once an hour and taken at once, it would swing between open and shut.
        double wanted = OpeningRule.Airing(livingC, now.TemperatureC, _airingC, _airingBandK);
        _airing = people ? _airing + (_airingPace * (wanted - _airing)) : 0;
        bool moved = false;
        bool fansFail = _fansFailWhenLocked && activity == Activity.LockedAndLeft;
        for (int index = 0; index < _openings.Length; index++)
        {
            Opening opening = _openings[index];
            bool may = OpeningUse.MayStandOpen(opening, activity, now.Falling, now.SnowOnRoof) && !OpeningUse.Covered(opening, now.SnowOnRoof);
            double share = OpeningRule.Share(opening, may, _airing);
            double speed = fansFail ? 0 : OpeningRule.Speed(opening, share, _airing, activity == Activity.Asleep, _quietSpeed);
            moved |= Math.Abs(share - OpenShare[index]) > MovedShare || Math.Abs(speed - FanSpeed[index]) > MovedShare;
            OpenShare[index] = share;
            FanSpeed[index] = speed;
        }

        _justMoved |= moved;
    }

    /// <summary>What people, animals, cooker and dryers give off in ten minutes at the present air flows.</summary>
    /// <param name="slot">What they do.</param>
    /// <param name="aboveCookerM3PerS">Net air leaving by the openings above the cooker.</param>
    public void SetSources(in DaySlot slot, double aboveCookerM3PerS)
    {
        double captured = SteamCapture.Share(aboveCookerM3PerS, _van.Captured, _van.CaptureFlowM3PerS);
        for (int i = 0; i < _van.ZoneCount; i++)
        {
            double bed = _van.Night.SleepingShares[i];
            double room = _van.Night.LivingShares[i];
            SensibleW[i] = (bed * slot.BedSensibleW) + (room * (slot.RoomSensibleW + slot.CookerSensibleW));
            WaterKgPerS[i] = (bed * slot.BedWaterKgPerS) + (room * (slot.RoomWaterKgPerS + slot.CookerWaterKgPerS - (captured * slot.CookerSteamKgPerS)));
            double breathed = (bed * slot.BedCarbonDioxideMolPerS) + (room * slot.RoomCarbonDioxideMolPerS);
            CarbonDioxideMolPerS[i] = breathed + (room * slot.CookerCarbonDioxideMolPerS);
            OxygenMolPerS[i] = (breathed * NightSources.OxygenPerCarbonDioxideBreathed) + (room * slot.CookerOxygenMolPerS);
        }

        foreach (RunningDryer dryer in _van.Night.Dryers)
        {
            SensibleW[dryer.Zone] += slot.Occupied ? dryer.DrawW : 0;
        }
    }

    /// <summary>Temperature the heater holds in ten minutes.</summary>
    public double SetPointC(in DaySlot slot) => slot.Occupied && !slot.Asleep ? _dayC : _nightC;

    /// <summary>Most the heater gives in ten minutes; 0 while it is off.</summary>
    public double HeaterLimitW(in DaySlot slot, double pressurePa)
    {
        Heater heater = _van.Night.Design.Heater;
        if (_deratedPa != pressurePa)
        {
            _deratedPa = pressurePa;
            _derated = HeaterLimit.OfW(_van.Night.Design, StandardAtmosphere.AltitudeM(pressurePa));
        }

        // A stove burns only where somebody feeds and watches it.
        bool on = slot.Occupied || (heater.RunsWhenAway && heater.Kind != HeaterKind.WoodStove);
        return on ? _derated : 0;
    }
}
