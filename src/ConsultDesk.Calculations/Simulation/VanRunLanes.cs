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
    private readonly List<StepLanes<TLane>> _steps = [];
    private readonly TLane[] _skySeen;
    private readonly TLane _dryersW;
    private readonly TLane[] _transport;
    private readonly TLane[] _zoneC;
    private readonly TLane[] _humidityRatio;
    private readonly int[] _counts = new int[TLane.Count];
    private readonly int[] _slots = new int[TLane.Count];
    private readonly int[] _endsAt = new int[TLane.Count];
    private readonly int[] _beforeS = new int[TLane.Count];
    private readonly HouseholdDay?[] _days;
    private readonly bool[] _alike = new bool[HouseholdDay.Slots];
    private readonly bool[] _steams = new bool[HouseholdDay.Slots];
    private TLane _perSlotJ;
    private (TLane[] Carried, double OutdoorC)? _halfWay;
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
        Array.Clear(_beforeS);
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
        Array.Clear(_endsAt);
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
            PlanSteps(days, slotIndex, part);
            RunSlot(before, now, after, part, slot.Asleep && _batch.HasCovers);
            TLane seconds = TLane.Of(HouseholdDay.SlotSeconds);
            HourAirM3 += Air.OutdoorAirM3PerS * seconds;
            HourFanJ += (slot.Occupied ? Air.FanW + _dryersW : Air.FanW) * seconds;
            Tell(slotIndex, slot);
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
            _alike[slot] = true;
            _steams[slot] = false;
            foreach (HouseholdDay? day in _days)
            {
                _alike[slot] &= day!.LikeBefore[slot];
                _steams[slot] |= day.Slot[slot].CookerSteamKgPerS > 0;
            }
        }
    }

    // Each van's steps that begin now: twenty minutes on the clock where nothing changes in them and the step before was not too short. What a
    // neighbour does has no part in it.
    private void PlanSteps(HouseholdDay[] days, int slotIndex, int part)
    {
        bool pair = _options.StepSeconds is null && part % 2 == 0 && days[0].Slot[slotIndex + 1].Activity == _activity;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            if (_endsAt[lane] > part)
            {
                _counts[lane] = 0;
                continue;
            }

            HouseholdDay day = days[Math.Min(lane, days.Length - 1)];
            int count = StepsOf(lane, day.Steps[slotIndex]);
            // What jumps is begun anew.
            _beforeS[lane] = count > 1 && !_options.SecondOrder ? 0 : _beforeS[lane];
            bool two = pair && count == 1 && day.Steps[slotIndex + 1] == 1 && day.LikeBefore[slotIndex + 1] && MayFollow(2 * HouseholdDay.SlotSeconds, _beforeS[lane]);
            _counts[lane] = _options.StepSeconds is int seconds ? HouseholdDay.SlotSeconds / seconds : count;
            _slots[lane] = two ? 2 : 1;
            _endsAt[lane] = part + _slots[lane];
        }

        FollowOthers();
    }

    // A van that failed goes with any that did not.
    private void FollowOthers()
    {
        int other = Array.FindIndex(Failures, failure => failure is null);
        for (int lane = 0; other >= 0 && lane < _batch.Used; lane++)
        {
            if (Failures[lane] is not null)
            {
                _counts[lane] = _counts[other];
                _slots[lane] = _slots[other];
                _endsAt[lane] = _endsAt[other];
                _beforeS[lane] = _beforeS[other];
            }
        }
    }

    // Of second order after a step at least half as long.
    private static bool MayFollow(int stepS, int beforeS) => stepS <= 2 * beforeS;

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

    // Vans that take the same steps go together; the others wait meanwhile.
    private void RunSlot(in Outdoor before, in Outdoor now, in Outdoor after, int part, bool covered)
    {
        uint left = 0;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            left |= _counts[lane] > 0 ? 1u << lane : 0;
        }

        while (left != 0)
        {
            int first = System.Numerics.BitOperations.TrailingZeroCount(left);
            uint together = 0;
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                together |= _counts[lane] == _counts[first] && _slots[lane] == _slots[first] && _beforeS[lane] == _beforeS[first] ? 1u << lane : 0;
            }

            together &= left;
            left &= ~together;
            TLane active = TLane.Mask(together);
            if (SlotRan is not null && _slots[first] > 1)
            {
                LookHalfWay(before, now, after, part, covered, first);
            }

            TLane ranJ = RunSteps(before, now, after, part, covered, first, together);
            _perSlotJ = TLane.Select(active, ranJ / TLane.Of(_slots[first]), _perSlotJ);
        }

        TLane slotJ = _perSlotJ;
        HourHeaterJ += slotJ;
        Zones.StepGases(HouseholdDay.SlotSeconds, slotJ / TLane.Of(HouseholdDay.SlotSeconds));
        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            HourCarbonDioxide = TLane.Max(HourCarbonDioxide, Zones.CarbonDioxide(i));
            HourOxygenUsed = TLane.Max(HourOxygenUsed, Zones.OxygenUsed(i));
        }

        FailUnsettled();
    }

    // What the vans of the first one's plan give in the step or steps that begin now, J.
    private TLane RunSteps(in Outdoor before, in Outdoor now, in Outdoor after, int part, bool covered, int first, uint together)
    {
        int count = _counts[first];
        int stepS = _slots[first] * HouseholdDay.SlotSeconds / count;
        int lastS = _beforeS[first];
        bool mayBeSecond = _options.StepSeconds is null || _options.SecondOrder;
        TLane active = TLane.Mask(together);
        TLane seconds = TLane.And(active, TLane.Of(stepS));
        TLane heatJ = TLane.Zero;
        for (int n = 0; n < count; n++)
        {
            StepLanes<TLane> step = Coefficients(stepS, mayBeSecond && MayFollow(stepS, lastS) ? lastS : 0, covered);
            lastS = stepS;
            SetOutdoor(before, now, after, part, n * stepS, step);
            Zones.Step(step, active);
            heatJ += TLane.And(active, Zones.WholeVan.HeaterInStepJ);
            TLane limitW = Zones.HeaterLimitW;
            HourLimitedS += TLane.And(TLane.And(TLane.Less(TLane.Zero, limitW), TLane.LessOrEqual(limitW, Zones.HeaterW)), seconds);
        }

        for (int lane = 0; lane < TLane.Count; lane++)
        {
            if ((together & (1u << lane)) != 0)
            {
                Steps[lane] += count;
                _beforeS[lane] = stepS;
            }
        }

        return heatJ;
    }

    // A listener hears of every ten minutes. Where a step is longer, the van is stepped to its middle, looked at and put back, so that it goes on as if
    // nobody had looked.
    private void LookHalfWay(in Outdoor before, in Outdoor now, in Outdoor after, int part, bool covered, int first)
    {
        TLane[] start = Zones.Carried();
        StepLanes<TLane> step = Coefficients(HouseholdDay.SlotSeconds, _beforeS[first], covered);
        SetOutdoor(before, now, after, part, 0, step);
        Zones.Step(step);
        _halfWay = (Zones.Carried(), Zones.OutdoorC);
        Zones.PutBack(start);
    }

    private void Tell(int slotIndex, in DaySlot slot)
    {
        if (SlotRan is null)
        {
            return;
        }

        if (_halfWay is null)
        {
            SlotRan(slotIndex, slot);
            return;
        }

        TLane[] end = Zones.Carried();
        double outdoorC = Zones.OutdoorC;
        Zones.PutBack(_halfWay.Value.Carried);
        Zones.OutdoorC = _halfWay.Value.OutdoorC;
        _halfWay = null;
        SlotRan(slotIndex, slot);
        Zones.PutBack(end);
        Zones.OutdoorC = outdoorC;
    }

    // Outdoor air runs straight from one hour's middle to the next. Steps of first order take its mean, those of second order its value at their end.
    private void SetOutdoor(in Outdoor before, in Outdoor now, in Outdoor after, int part, int fromS, StepLanes<TLane> step)
    {
        double toS = fromS + ((step.BeforeS == 0 ? 0.5 : 1) * step.StepS);
        double place = (part / 6.0) + (toS / 3600);
        if (place < 0.5)
        {
            SetOutdoor(before, now, place + 0.5, now);
        }
        else
        {
            SetOutdoor(now, after, place - 0.5, now);
        }
    }

    private void SetOutdoor(in Outdoor left, in Outdoor right, double share, in Outdoor now)
    {
        Zones.OutdoorC = left.TemperatureC + (share * (right.TemperatureC - left.TemperatureC));
        double vapourPa = left.VapourPressurePa + (share * (right.VapourPressurePa - left.VapourPressurePa));
        Zones.OutdoorHumidityRatio = MoistAir.HumidityRatio(vapourPa, now.PressurePa);
        Zones.SunWPerM2 = left.SunWPerM2 + (share * (right.SunWPerM2 - left.SunWPerM2));
        Zones.SkyLossWPerM2 = _skySeen[(int)now.Shelter] * TLane.Of(left.SkyLossWPerM2 + (share * (right.SkyLossWPerM2 - left.SkyLossWPerM2)));
    }

    private StepLanes<TLane> Coefficients(int stepS, int beforeS, bool covered)
    {
        // Half a dozen kinds at most, with covers and without.
        foreach (StepLanes<TLane> known in _steps)
        {
            if (known.StepS == stepS && known.BeforeS == beforeS && known.Covered == covered)
            {
                return known;
            }
        }

        StepLanes<TLane> step = new(_batch, stepS, covered, beforeS);
        _steps.Add(step);
        return step;
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
