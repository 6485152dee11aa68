using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Vans lived in hour by hour, side by side: people move openings, the network is solved each hour and whenever people change what they do, and
/// the zones are stepped. Runs a year, a day or an hour; state stays between calls. What people do when is the same in all vans of a batch;
/// what they move, and the short steps after it, is each van's own.
/// </summary>
internal sealed class VanRun<TLane>
    where TLane : struct, ILane<TLane>
{
    // Air through each zone of a van that has failed, kg/s: enough that nothing in it comes near the ends of a table.
    private const double WideOpenKgPerS = 0.1;

    private readonly VanBatch<TLane> _batch;
    private readonly RunOptions _options;
    private readonly VanUse[] _uses;
    private readonly StepLanes<TLane>?[] _steps = new StepLanes<TLane>?[6];
    private readonly TLane[] _skySeen;
    private readonly TLane _dryersW;
    private readonly TLane[] _transport;
    private readonly TLane[] _zoneC;
    private readonly TLane[] _humidityRatio;
    private readonly int[] _counts;
    private readonly HouseholdDay?[] _days;
    private readonly bool[] _alike = new bool[HouseholdDay.Slots];
    private readonly bool[] _calm = new bool[HouseholdDay.Slots];
    private readonly bool[] _steams = new bool[HouseholdDay.Slots];
    private bool _justMoved;
    private Activity _activity;
    private HouseholdDay? _day;
    private int _slot;

    public VanRun(VanBatch<TLane> batch, RunOptions? options = null, VanAirLanes<TLane>? air = null)
    {
        _batch = batch;
        _options = options ?? new RunOptions();
        if (_options.StepSeconds is int seconds && (seconds < 1 || HouseholdDay.SlotSeconds % seconds != 0))
        {
            throw new ArgumentOutOfRangeException(nameof(options), seconds, "A step is expected to divide ten minutes.");
        }

        Zones = new VanStep<TLane>(batch);
        Air = air ?? new VanAirLanes<TLane>(batch.Vans);
        // Lanes without a van of their own follow the last one.
        VanUse[] own = [.. batch.Vans.Take(batch.Used).Select(van => new VanUse(van, _options.FansFailWhenLocked))];
        _uses = [.. Enumerable.Range(0, TLane.Count).Select(lane => own[Math.Min(lane, own.Length - 1)])];
        _skySeen = [.. Enum.GetValues<Shelter>().Select(shelter => batch.Lanes(van => van.SkySeen[(int)shelter]))];
        _dryersW = Lanes(use => use.DryersW);
        _transport = new TLane[batch.ZoneCount * (batch.ZoneCount + 1)];
        _zoneC = new TLane[batch.ZoneCount];
        _humidityRatio = new TLane[batch.ZoneCount];
        _counts = new int[TLane.Count];
        _days = new HouseholdDay?[batch.Used];
        Steps = new int[TLane.Count];
        Failures = new CalculationFailedException?[TLane.Count];
        SetFlame();
    }

    /// <summary>Air, faces, skins and stores.</summary>
    public VanStep<TLane> Zones { get; }

    /// <summary>Steps taken by each van.</summary>
    public int[] Steps { get; }

    /// <summary>Why a van could not be run on; null for those that could. Nothing else of a van that failed means anything.</summary>
    public CalculationFailedException?[] Failures { get; }

    /// <summary>True when no van is left to run.</summary>
    public bool AllFailed => Array.TrueForAll(Failures, failure => failure is not null);

    /// <summary>Heat of the heater in the latest hour, J.</summary>
    public TLane HourHeaterJ { get; private set; }

    /// <summary>Most carbon dioxide of any zone at the end of any ten minutes of the latest hour, share by volume.</summary>
    public TLane HourCarbonDioxide { get; private set; }

    /// <summary>Most oxygen used, in the same way.</summary>
    public TLane HourOxygenUsed { get; private set; }

    /// <summary>Time at the heater's limit in the latest hour, s.</summary>
    public TLane HourLimitedS { get; private set; }

    /// <summary>Outdoor air of the latest hour, m3.</summary>
    public TLane HourAirM3 { get; private set; }

    /// <summary>Electric energy of fans and dryers in the latest hour, J.</summary>
    public TLane HourFanJ { get; private set; }

    /// <summary>Told the slot of the day, 0 to 143, and what was done in it by the first van's people, when its ten minutes have run; null when nobody listens.</summary>
    public Action<int, DaySlot>? SlotRan { get; set; }

    /// <summary>Openings and air flows.</summary>
    public VanAirLanes<TLane> Air { get; }

    /// <summary>Puts each van at one temperature, with the outdoor air's humidity.</summary>
    public void Start(in Outdoor outdoor, TLane temperatureC)
    {
        Zones.Start(
            temperatureC,
            MoistAir.HumidityRatio(outdoor.VapourPressurePa, outdoor.PressurePa),
            outdoor.PressurePa,
            _batch.Lanes(van => van.Night.Assumed["outdoor-carbon-dioxide"] / 1e6));
        foreach (VanUse use in _uses)
        {
            use.Start();
        }

        Air.Reset();
        _day = null;
        ClearSums();
    }

    /// <summary>Starts the sums of the balances anew.</summary>
    public void ClearSums() => Zones.ClearSums();

    /// <summary>One hour.</summary>
    /// <param name="before">Outdoor air of the hour before.</param>
    /// <param name="now">Outdoor air of this hour.</param>
    /// <param name="after">Outdoor air of the hour after.</param>
    /// <param name="days">What the household of each van does: the same activities at the same times.</param>
    /// <param name="hourOfDay">0 to 23.</param>
    public void Hour(in Outdoor before, in Outdoor now, in Outdoor after, HouseholdDay[] days, int hourOfDay)
    {
        HourHeaterJ = HourLimitedS = HourAirM3 = HourFanJ = HourCarbonDioxide = HourOxygenUsed = TLane.Zero;
        Zones.SetPressure(now.PressurePa);
        TakeDays(days);
        for (int part = 0; part < 6; part++)
        {
            int slotIndex = (6 * hourOfDay) + part;
            DaySlot slot = days[0].Slot[slotIndex];
            bool fresh = part == 0 || slot.Activity != _activity;
            if (fresh)
            {
                Begin(slot, now);
            }

            SetSources(days, slotIndex, fresh);
            SetCounts(days, slotIndex);
            RunSlot(before, now, after, part / 6.0, slot.Asleep && _batch.HasCovers);
            TLane seconds = TLane.Of(HouseholdDay.SlotSeconds);
            HourAirM3 += Air.OutdoorAirM3PerS * seconds;
            HourFanJ += (slot.Occupied ? Air.FanW + _dryersW : Air.FanW) * seconds;
            SlotRan?.Invoke(slotIndex, slot);
        }
    }

    // What holds in a slot for all vans is looked up once for the many hours with the same days.
    private void TakeDays(HouseholdDay[] days)
    {
        bool known = true;
        for (int lane = 0; lane < _days.Length; lane++)
        {
            HouseholdDay day = days[Math.Min(lane, days.Length - 1)];
            known &= ReferenceEquals(_days[lane], day);
            _days[lane] = day;
        }

        if (known)
        {
            return;
        }

        for (int slot = 0; slot < HouseholdDay.Slots; slot++)
        {
            _alike[slot] = _calm[slot] = true;
            _steams[slot] = false;
            foreach (HouseholdDay? day in _days)
            {
                _alike[slot] &= day!.LikeBefore[slot];
                _calm[slot] &= day.Steps[slot] == 1;
                _steams[slot] |= day.Slot[slot].CookerSteamKgPerS > 0;
            }
        }
    }

    private void SetCounts(HouseholdDay[] days, int slotIndex)
    {
        if (_options.StepSeconds is int seconds)
        {
            Array.Fill(_counts, HouseholdDay.SlotSeconds / seconds);
            return;
        }

        if (_calm[slotIndex] && !_justMoved)
        {
            Array.Fill(_counts, 1);
            return;
        }

        _justMoved = false;
        for (int lane = 0; lane < _counts.Length; lane++)
        {
            _counts[lane] = StepsOf(lane, days[Math.Min(lane, days.Length - 1)].Steps[slotIndex]);
            _justMoved |= _uses[lane].HasJustMoved;
        }
    }

    // Lanes without a van of their own share the use of the last one, whose count must be asked for once only.
    private int StepsOf(int lane, int ofDay) => lane < _batch.Used ? Math.Max(ofDay, _uses[lane].StepsAfterMove()) : _counts[lane - 1];

    // The hour begins, or people do something else: openings, air flows and heater.
    private void Begin(in DaySlot slot, in Outdoor now)
    {
        _activity = slot.Activity;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            VanUse use = _uses[lane];
            if (lane < _batch.Used && Failures[lane] is null)
            {
                use.SetOpenings(now, slot.Activity, LaneNumbers.At(ref Zones.ZoneC(use.LivingZone), lane));
                _justMoved |= use.HasJustMoved;
            }

            for (int index = 0; index < use.OpenShare.Length; index++)
            {
                int place = Air.PlaceOf(lane, index);
                LaneNumbers.At(ref Air.OpenShare[place], lane) = use.OpenShare[index];
                LaneNumbers.At(ref Air.FanSpeed[place], lane) = use.FanSpeed[index];
            }
        }

        SolveAir(slot, now);
        Zones.DryersRun = slot.Occupied;
        Zones.Asleep = slot.Asleep;
        TLane setPointC = Zones.SetPointC;
        TLane limitW = Zones.HeaterLimitW;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            bool failed = Failures[lane] is not null;
            LaneNumbers.At(ref setPointC, lane) = _uses[lane].SetPointC(slot);
            LaneNumbers.At(ref limitW, lane) = failed ? 0 : _uses[lane].HeaterLimitW(slot, now.PressurePa);
        }

        Zones.SetPointC = setPointC;
        Zones.HeaterLimitW = limitW;
    }

    private void SolveAir(in DaySlot slot, in Outdoor now)
    {
        for (int i = 0; i < _zoneC.Length; i++)
        {
            _zoneC[i] = Zones.ZoneC(i);
            _humidityRatio[i] = Zones.HumidityRatio(i);
        }

        TLane counting = Zones.Counting;
        TLane solved = Air.Solve(_zoneC, _humidityRatio, now, slot.Occupied, slot.Asleep && _batch.HasCovers, counting);
        uint failed = TLane.Bits(TLane.AndNot(counting, solved));
        for (int lane = 0; failed != 0 && lane < _batch.Used; lane++)
        {
            if ((failed & (1u << lane)) != 0)
            {
                Fail(lane, Air.Failure(lane));
            }
        }

        if (TLane.All(Zones.Counting))
        {
            Zones.SetAir(Air.Flow.Transport);
            return;
        }

        for (int at = 0; at < _transport.Length; at++)
        {
            bool fromOutside = at % (_batch.ZoneCount + 1) == _batch.ZoneCount;
            _transport[at] = TLane.Select(Zones.Counting, Air.Flow.Transport[at], TLane.Of(fromOutside ? WideOpenKgPerS : 0));
        }

        Zones.SetAir(_transport);
    }

    // What people give off changes with what they do, and while pans steam with the air that leaves above the cooker.
    private void SetSources(HouseholdDay[] days, int slotIndex, bool fresh)
    {
        bool known = ReferenceEquals(_day, days[0]) && slotIndex == (_slot + 1) % HouseholdDay.Slots;
        _day = days[0];
        _slot = slotIndex;
        if (known && _alike[slotIndex] && !(fresh && _steams[slotIndex]))
        {
            return;
        }

        TLane aboveCookerM3PerS = Air.AboveCookerM3PerS;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            HouseholdDay day = days[Math.Min(lane, days.Length - 1)];
            ref DaySlot slot = ref day.Slot[slotIndex];
            if ((known && day.LikeBefore[slotIndex] && !(fresh && slot.CookerSteamKgPerS > 0)) || Failures[lane] is not null)
            {
                continue;
            }

            VanUse use = _uses[lane];
            use.SetSources(slot, LaneNumbers.At(ref aboveCookerM3PerS, lane));
            for (int i = 0; i < _batch.ZoneCount; i++)
            {
                Zones.SetSources(lane, i, use.SensibleW[i], use.WaterKgPerS[i], use.CarbonDioxideMolPerS[i], use.OxygenMolPerS[i]);
            }
        }
    }

    // Vans that take as many steps go together; the others wait meanwhile.
    private void RunSlot(in Outdoor before, in Outdoor now, in Outdoor after, double from, bool covered)
    {
        TLane slotJ = TLane.Zero;
        uint left = (1u << TLane.Count) - 1;
        if (!_counts.AsSpan().ContainsAnyExcept(_counts[0]))
        {
            slotJ = RunSteps(before, now, after, from, covered, _counts[0], TLane.AllBits);
            left = 0;
        }

        while (left != 0)
        {
            int count = _counts[System.Numerics.BitOperations.TrailingZeroCount(left)];
            uint together = 0;
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                // A van that failed goes with any others.
                together |= _counts[lane] == count || Failures[lane] is not null ? 1u << lane : 0;
            }

            together &= left;
            left &= ~together;
            slotJ += RunSteps(before, now, after, from, covered, count, TLane.Mask(together));
        }

        HourHeaterJ += slotJ;
        Zones.StepGases(HouseholdDay.SlotSeconds, slotJ / TLane.Of(HouseholdDay.SlotSeconds));
        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            HourCarbonDioxide = TLane.Max(HourCarbonDioxide, Zones.CarbonDioxide(i));
            HourOxygenUsed = TLane.Max(HourOxygenUsed, Zones.OxygenUsed(i));
        }

        FailUnsettled();
    }

    private TLane RunSteps(in Outdoor before, in Outdoor now, in Outdoor after, double from, bool covered, int count, TLane active)
    {
        int stepS = HouseholdDay.SlotSeconds / count;
        StepLanes<TLane> step = Coefficients(stepS, covered);
        TLane seconds = TLane.And(active, TLane.Of(stepS));
        TLane heatJ = TLane.Zero;
        for (int n = 0; n < count; n++)
        {
            // The mean over the step of values that run straight from one hour's middle to the next.
            double place = from + ((n + 0.5) * stepS / 3600);
            if (place < 0.5)
            {
                SetOutdoor(before, now, place + 0.5, now);
            }
            else
            {
                SetOutdoor(now, after, place - 0.5, now);
            }

            Zones.Step(step, active);
            TLane watts = Zones.HeaterW;
            heatJ += watts * seconds;
            TLane limitW = Zones.HeaterLimitW;
            HourLimitedS += TLane.And(TLane.And(TLane.Less(TLane.Zero, limitW), TLane.LessOrEqual(limitW, watts)), seconds);
        }

        for (int lane = 0; lane < TLane.Count; lane++)
        {
            Steps[lane] += _counts[lane] == count ? count : 0;
        }

        return heatJ;
    }

    private void SetOutdoor(in Outdoor left, in Outdoor right, double share, in Outdoor now)
    {
        Zones.OutdoorC = left.TemperatureC + (share * (right.TemperatureC - left.TemperatureC));
        double vapourPa = left.VapourPressurePa + (share * (right.VapourPressurePa - left.VapourPressurePa));
        Zones.OutdoorHumidityRatio = MoistAir.HumidityRatio(vapourPa, now.PressurePa);
        Zones.SunWPerM2 = left.SunWPerM2 + (share * (right.SunWPerM2 - left.SunWPerM2));
        Zones.SkyLossWPerM2 = _skySeen[(int)now.Shelter] * TLane.Of(left.SkyLossWPerM2 + (share * (right.SkyLossWPerM2 - left.SkyLossWPerM2)));
    }

    private StepLanes<TLane> Coefficients(int stepS, bool covered)
    {
        // Ten and five minutes, and a third or whatever the options ask for.
        int place = (covered ? 3 : 0) + (HouseholdDay.SlotSeconds / stepS) switch { 1 => 0, 2 => 1, _ => 2 };
        return _steps[place] ??= new StepLanes<TLane>(_batch, stepS, covered);
    }

    private void FailUnsettled()
    {
        uint unsettled = TLane.Bits(Zones.Unsettled);
        for (int lane = 0; unsettled != 0 && lane < TLane.Count; lane++)
        {
            if ((unsettled & (1u << lane)) != 0 && Failures[lane] is null)
            {
                Fail(lane, new NightNotConvergedException("The films of a step did not settle."));
            }
        }
    }

    // It stands empty and wide open from here on, so that it costs the others nothing.
    private void Fail(int lane, CalculationFailedException failure)
    {
        if (TLane.Count == 1)
        {
            throw failure;
        }

        // Lanes without a van of their own fail with the one they follow.
        for (int other = lane; other < TLane.Count; other++)
        {
            if (Math.Min(other, _batch.Used - 1) == lane)
            {
                Failures[other] = failure;
                Zones.Empty(other);
            }
        }
    }

    private void SetFlame()
    {
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            if (_batch.Vans[lane].Night.Design.Heater.Kind == HeaterKind.UnfluedGas)
            {
                Fuel fuel = Fuel.Propane;
                Zones.HeaterWaterKgPerJ = TLane.With(Zones.HeaterWaterKgPerJ, lane, fuel.WaterPerFuel / fuel.LowerHeatingValueJPerKg);
                Zones.HeaterCarbonDioxideMolPerJ = TLane.With(
                    Zones.HeaterCarbonDioxideMolPerJ, lane, 1000 * fuel.CarbonKmolPerKg / fuel.LowerHeatingValueJPerKg);
                Zones.HeaterOxygenMolPerJ = TLane.With(
                    Zones.HeaterOxygenMolPerJ, lane, 1000 * fuel.OxygenKmolUsedPerKg / fuel.LowerHeatingValueJPerKg);
            }
        }
    }

    private TLane Lanes(Func<VanUse, double> of)
    {
        TLane value = TLane.Zero;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            value = TLane.With(value, lane, of(_uses[lane]));
        }

        return value;
    }
}
