using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>How a run steps and who moves the openings.</summary>
internal sealed record RunOptions
{
    /// <summary>Length of every step, a divisor of 600 s; null for ten minutes, and after a change two and then five.</summary>
    public int? StepSeconds { get; init; }

    /// <summary>Fans stand still while the van is locked and left.</summary>
    public bool FansFailWhenLocked { get; init; }
}

/// <summary>
/// A van lived in hour by hour: people move openings, the network is solved each hour and whenever something is moved or
/// people change what they do, and the zones are stepped. Runs a year, a day or an hour; state stays between calls.
/// </summary>
internal sealed class VanRun
{
    // Short steps follow an opening or a fan moved by more than this share.
    private const double MovedShare = 0.1;

    private readonly VanModel _van;
    private readonly RunOptions _options;
    private readonly Opening[] _openings;
    private readonly StepCoefficients?[] _steps = new StepCoefficients?[6];
    private readonly int _livingZone;
    private readonly double _airingC;
    private readonly double _airingBandK;
    private readonly double _airingPace;
    private readonly double _quietSpeed;
    private readonly double _dryersW;
    private readonly Fuel? _unflued;
    private double _derated = 1;
    private double _deratedPa = double.NaN;
    private double _airing;
    private double _skySeen;
    private Activity _activity;
    private int _slotsSinceMove = HouseholdDay.StepsAfterChange.Length;

    public VanRun(VanModel van, RunOptions? options = null)
    {
        _van = van;
        _options = options ?? new RunOptions();
        if (_options.StepSeconds is int seconds && (seconds < 1 || HouseholdDay.SlotSeconds % seconds != 0))
        {
            throw new ArgumentOutOfRangeException(nameof(options), seconds, "A step is expected to divide ten minutes.");
        }

        Zones = new VanStep(van);
        Air = new VanAir(van);
        Design design = van.Night.Design;
        _openings = [.. design.Openings];
        _livingZone = van.Night.FirstOf(ZoneKind.Living);
        _airingC = van.Night.Assumed["airing-temperature"];
        _airingBandK = van.Night.Assumed["airing-band"];
        _airingPace = van.Night.Assumed["airing-pace"];
        _quietSpeed = van.Night.Assumed["quiet-fan-speed"];
        _dryersW = van.Night.Dryers.Sum(dryer => dryer.DrawW);
        _unflued = design.Heater.Kind == HeaterKind.UnfluedGas ? Fuel.Propane : null;
        if (_unflued is not null)
        {
            Zones.HeaterWaterKgPerJ = _unflued.WaterPerFuel / _unflued.LowerHeatingValueJPerKg;
            Zones.HeaterCarbonDioxideMolPerJ = 1000 * _unflued.CarbonKmolPerKg / _unflued.LowerHeatingValueJPerKg;
            Zones.HeaterOxygenMolPerJ = 1000 * _unflued.OxygenKmolUsedPerKg / _unflued.LowerHeatingValueJPerKg;
        }
    }

    /// <summary>Air, faces, skins and stores.</summary>
    public VanStep Zones { get; }

    /// <summary>Openings and air flows.</summary>
    public VanAir Air { get; }

    /// <summary>Steps taken.</summary>
    public int Steps { get; private set; }

    /// <summary>Heat of the heater in the latest hour, J.</summary>
    public double HourHeaterJ { get; private set; }

    /// <summary>Most carbon dioxide of any zone at the end of any ten minutes of the latest hour, share by volume.</summary>
    public double HourCarbonDioxide { get; private set; }

    /// <summary>Most oxygen used, in the same way.</summary>
    public double HourOxygenUsed { get; private set; }

    /// <summary>Time at the heater's limit in the latest hour, s.</summary>
    public double HourLimitedS { get; private set; }

    /// <summary>Outdoor air of the latest hour, m3.</summary>
    public double HourAirM3 { get; private set; }

    /// <summary>Electric energy of fans and dryers in the latest hour, J.</summary>
    public double HourFanJ { get; private set; }

    /// <summary>Told the slot of the day, 0 to 143, and what was done in it, when its ten minutes have run; null when nobody listens.</summary>
    public Action<int, DaySlot>? SlotRan { get; set; }

    /// <summary>Puts the van at one temperature, with the outdoor air's humidity.</summary>
    public void Start(in Outdoor outdoor, double temperatureC)
    {
        Zones.Start(
            temperatureC,
            MoistAir.HumidityRatio(outdoor.VapourPressurePa, outdoor.PressurePa),
            outdoor.PressurePa,
            _van.Night.Assumed["outdoor-carbon-dioxide"] / 1e6);
        Air.Solution.Reset();
        _airing = 0;
        _slotsSinceMove = HouseholdDay.StepsAfterChange.Length;
        ClearSums();
    }

    /// <summary>Starts the sums of the balances anew.</summary>
    public void ClearSums() => Zones.Sums.Clear(Zones.StoredKg(), Zones.StoredJ());

    /// <summary>One hour.</summary>
    /// <param name="before">Outdoor air of the hour before.</param>
    /// <param name="now">Outdoor air of this hour.</param>
    /// <param name="after">Outdoor air of the hour after.</param>
    /// <param name="day">What the household does.</param>
    /// <param name="hourOfDay">0 to 23.</param>
    public void Hour(in Outdoor before, in Outdoor now, in Outdoor after, HouseholdDay day, int hourOfDay)
    {
        HourHeaterJ = HourLimitedS = HourAirM3 = HourFanJ = HourCarbonDioxide = HourOxygenUsed = 0;
        Zones.SetPressure(now.PressurePa);
        _skySeen = _van.SkySeen[(int)now.Shelter];
        for (int part = 0; part < 6; part++)
        {
            int slotIndex = (6 * hourOfDay) + part;
            DaySlot slot = day.Slot[slotIndex];
            if (part == 0 || slot.Activity != _activity)
            {
                SetOpenings(now, slot.Activity);
                Air.Solve(Zones, now, slot.Occupied, slot.Asleep && _van.HasCovers);
            }

            SetSources(slot);
            SetHeater(slot, now);
            int count = HouseholdDay.SlotSeconds / _options.StepSeconds ?? Math.Max(day.Steps[slotIndex], StepsAfterMove());
            RunSlot(before, now, after, part / 6.0, count, slot.Asleep && _van.HasCovers);
            HourAirM3 += Air.OutdoorAirM3PerS * HouseholdDay.SlotSeconds;
            HourFanJ += (Air.FanW + (slot.Occupied ? _dryersW : 0)) * HouseholdDay.SlotSeconds;
            SlotRan?.Invoke(slotIndex, slot);
        }
    }

    private int StepsAfterMove()
    {
        if (_slotsSinceMove == HouseholdDay.StepsAfterChange.Length)
        {
            return 1;
        }

        return HouseholdDay.StepsAfterChange[_slotsSinceMove++];
    }

    private void RunSlot(in Outdoor before, in Outdoor now, in Outdoor after, double from, int count, bool covered)
    {
        int stepS = HouseholdDay.SlotSeconds / count;
        StepCoefficients step = Coefficients(stepS, covered);
        double slotJ = 0;
        for (int n = 0; n < count; n++)
        {
            // The mean over the step of values that run straight from one hour's middle to the next.
            double place = from + ((n + 0.5) * stepS / 3600);
            SetOutdoor(place < 0.5 ? before : now, place < 0.5 ? now : after, place < 0.5 ? place + 0.5 : place - 0.5, now.PressurePa);
            Zones.Step(step);
            Steps++;
            slotJ += Zones.HeaterW * stepS;
            HourLimitedS += Zones.HeaterLimitW > 0 && Zones.HeaterW >= Zones.HeaterLimitW ? stepS : 0;
        }

        HourHeaterJ += slotJ;
        Zones.StepGases(HouseholdDay.SlotSeconds, slotJ / HouseholdDay.SlotSeconds);
        for (int i = 0; i < _van.ZoneCount; i++)
        {
            HourCarbonDioxide = Math.Max(HourCarbonDioxide, Zones.CarbonDioxide[i]);
            HourOxygenUsed = Math.Max(HourOxygenUsed, Zones.OxygenUsed[i]);
        }
    }

    private void SetOutdoor(in Outdoor left, in Outdoor right, double share, double pressurePa)
    {
        Zones.OutdoorC = left.TemperatureC + (share * (right.TemperatureC - left.TemperatureC));
        double vapourPa = left.VapourPressurePa + (share * (right.VapourPressurePa - left.VapourPressurePa));
        Zones.OutdoorHumidityRatio = MoistAir.HumidityRatio(vapourPa, pressurePa);
        Zones.SunWPerM2 = left.SunWPerM2 + (share * (right.SunWPerM2 - left.SunWPerM2));
        Zones.SkyLossWPerM2 = _skySeen * (left.SkyLossWPerM2 + (share * (right.SkyLossWPerM2 - left.SkyLossWPerM2)));
    }

    private void SetOpenings(in Outdoor now, Activity activity)
    {
        bool people = activity is Activity.Awake or Activity.Cooking or Activity.Asleep;
        double livingC = Zones.ZoneC[_livingZone];
        // Part of the way each time: decided once an hour and taken at once, it would swing between open and shut.
        double wanted = OpeningRule.Airing(livingC, now.TemperatureC, _airingC, _airingBandK);
        _airing = people ? _airing + (_airingPace * (wanted - _airing)) : 0;
        _activity = activity;
        bool moved = false;
        bool fansFail = _options.FansFailWhenLocked && activity == Activity.LockedAndLeft;
        for (int index = 0; index < _openings.Length; index++)
        {
            Opening opening = _openings[index];
            bool may = OpeningUse.MayStandOpen(opening, activity, now.Falling, now.SnowOnRoof) && !OpeningUse.Covered(opening, now.SnowOnRoof);
            double share = OpeningRule.Share(opening, may, _airing);
            double speed = fansFail ? 0 : OpeningRule.Speed(opening, share, _airing, activity == Activity.Asleep, _quietSpeed);
            moved |= Math.Abs(share - Air.OpenShare[index]) > MovedShare || Math.Abs(speed - Air.FanSpeed[index]) > MovedShare;
            Air.OpenShare[index] = share;
            Air.FanSpeed[index] = speed;
        }

        _slotsSinceMove = moved ? 0 : _slotsSinceMove;
    }

    private void SetSources(in DaySlot slot)
    {
        double captured = SteamCapture.Share(Air.AboveCookerM3PerS, _van.Captured, _van.CaptureFlowM3PerS);
        for (int i = 0; i < _van.ZoneCount; i++)
        {
            double bed = _van.Night.SleepingShares[i];
            double room = _van.Night.LivingShares[i];
            Zones.SensibleW[i] = (bed * slot.BedSensibleW) + (room * (slot.RoomSensibleW + slot.CookerSensibleW));
            Zones.WaterKgPerS[i] = (bed * slot.BedWaterKgPerS) + (room * (slot.RoomWaterKgPerS + slot.CookerWaterKgPerS - (captured * slot.CookerSteamKgPerS)));
            double breathed = (bed * slot.BedCarbonDioxideMolPerS) + (room * slot.RoomCarbonDioxideMolPerS);
            Zones.CarbonDioxideMolPerS[i] = breathed + (room * slot.CookerCarbonDioxideMolPerS);
            Zones.OxygenMolPerS[i] = (breathed * NightSources.OxygenPerCarbonDioxideBreathed) + (room * slot.CookerOxygenMolPerS);
        }

        foreach (RunningDryer dryer in _van.Night.Dryers)
        {
            Zones.SensibleW[dryer.Zone] += slot.Occupied ? dryer.DrawW : 0;
        }

        Zones.DryersRun = slot.Occupied;
        Zones.Asleep = slot.Asleep;
    }

    private void SetHeater(in DaySlot slot, in Outdoor now)
    {
        Heater heater = _van.Night.Design.Heater;
        // A stove burns only where somebody feeds and watches it.
        bool on = slot.Occupied || (heater.RunsWhenAway && heater.Kind != HeaterKind.WoodStove);
        Zones.SetPointC = slot.Occupied && !slot.Asleep ? heater.DaySetPoint.DegreesCelsius : heater.NightSetPoint.DegreesCelsius;
        if (_deratedPa != now.PressurePa)
        {
            _deratedPa = now.PressurePa;
            _derated = HeaterLimit.OfW(_van.Night.Design, StandardAtmosphere.AltitudeM(now.PressurePa));
        }

        Zones.HeaterLimitW = on ? _derated : 0;
    }

    private StepCoefficients Coefficients(int stepS, bool covered)
    {
        // Ten and five minutes, and two or whatever the options ask for.
        int place = (covered ? 3 : 0) + (HouseholdDay.SlotSeconds / stepS) switch { 1 => 0, 2 => 1, _ => 2 };
        return _steps[place] ??= new StepCoefficients(_van, stepS, covered);
    }
}
