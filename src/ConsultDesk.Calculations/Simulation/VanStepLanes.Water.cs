using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <content>Water of the zones' air: its balance with films, skins, mist, fabrics and dryers, settled by choosing lines.</content>
internal sealed partial class VanStep<TLane>
{
    // Vapour pressure as a tangent of the humidity ratio of the step's start.
    private void PrepareVapour()
    {
        TLane molar = TLane.Of(MoistAir.MolarMassRatio);
        TLane barometer = TLane.Of(PressurePa);
        TLane perBarometer = TLane.Of(1 / PressurePa);
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            TLane humidity = zones[i].HumidityRatio;
            TLane perSum = barometer / (molar + humidity);
            TLane slope = molar * perSum * perSum * perBarometer;
            works[i].StartPressure = humidity * perSum;
            works[i].VapourB = slope;
            works[i].VapourA = TLane.SubtractProduct(works[i].StartPressure, slope, humidity);
        }
    }

    // At the zone's own temperature only mist wets: dry furnishings need no lines.
    private void PrepareFurnishings(StepLanes<TLane> step, TLane going)
    {
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneWork<TLane> work = ref works[i];
            // A van that no longer repeats begins with what it last began with.
            TLane mayWet = TLane.Or(zone.Misty, TLane.Less(TLane.Zero, zone.Furnishing.FilmKgPerM2 + TLane.Abs(zone.Furnishing.FilmDrift)));
            mayWet = TLane.Select(going, mayWet, work.FurnishingMayWet);
            work.FurnishingMayWet = mayWet;
            work.FurnishingGivenW = TLane.Select(going, zone.FurnishingLatentW, work.FurnishingGivenW);
            work.MistGivenKgPerS = TLane.Select(going, zone.MistKgPerS, work.MistGivenKgPerS);
            bool idle = !TLane.Any(mayWet) && !TLane.Any(zone.Furnishing.Wet);
            _idleFurnishing[i] = idle;
            if (idle)
            {
                work.Furnishing.Flux = TLane.Zero;
                continue;
            }

            TLane warming = step.Zones.Span[i].FurnishingM2 * work.ZoneInverse;
            PrepareFilm(ref work.Furnishing, TLane.MultiplyAdd(_carry, zone.Furnishing.FilmDrift, zone.Furnishing.FilmKgPerM2), TLane.SubtractProduct(work.GuessC, work.FurnishingGivenW, warming), warming, perStep);
            work.Furnishing.B = TLane.And(mayWet, work.Furnishing.B);
            work.Furnishing.Dry = TLane.And(mayWet, work.Furnishing.Dry);
        }
    }

    // Mist, fabrics, and what of the water balance does not hang on the lines chosen.
    private void PrepareAir(StepLanes<TLane> step, TLane heaterWater)
    {
        TLane evaporation = TLane.Of(MoistAir.EvaporationHeat);
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        TLane outdoor = TLane.Of(OutdoorHumidityRatio);
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        Span<ZoneStep<TLane>> by = step.Zones.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneWork<TLane> work = ref works[i];
            TLane psat = SaturationTable.Pa(work.GuessC, out TLane slope);
            TLane warming = slope * evaporation * work.ZoneInverse;
            // The guess already holds the warmth of the mist it was made with.
            work.MistPsat = TLane.SubtractProduct(psat, warming, work.MistGivenKgPerS);
            work.MistWarming = warming;
            if (TLane.Any(zone.Misty))
            {
                SetMist(ref work);
            }

            work.BufferB = by[i].BufferKgPerS / psat;
            work.BufferStart = TLane.MultiplyAdd(_carry, zone.BufferDrift, zone.BufferKg);
            TLane capacity = work.AirKg * perStep;
            work.WaterDiagonal = TLane.MultiplyAdd(work.BufferB, work.VapourB, capacity + work.Inflow);
            TLane right = TLane.MultiplyAdd(capacity, TLane.MultiplyAdd(_carry, zone.HumidityDrift, zone.HumidityRatio), work.WaterKgPerS + work.MattressKgPerS);
            right = TLane.MultiplyAdd(work.FromOutside, outdoor, right);
            right = TLane.MultiplyAdd(work.BufferStart, step.PerBufferStepS, right);
            work.WaterRight = TLane.SubtractProduct(right, work.BufferB, work.VapourA);
        }

        works[_batch.HeaterZone].WaterRight += heaterWater;
    }

    private static void SetMist(ref ZoneWork<TLane> work) =>
        work.MistB = TLane.Of(MistKgPerSPa) / TLane.MultiplyAdd(TLane.Of(MistKgPerSPa), work.MistWarming, TLane.Of(1));

    private void SettleWater(StepLanes<TLane> step, TLane active)
    {
        TLane rounds = TLane.Of(1);
        TLane going = active;
        for (int round = 1; round <= MostRounds; round++)
        {
            AssembleWater(step);
            SmallMatrix.Factorise(_waterMatrix.Span, _zones);
            SmallMatrix.Solve(_waterMatrix.Span, _water.Span, _zones);
            TLane changed = ChooseMist();
            changed = TLane.Or(changed, ChooseFaces(step));
            changed = TLane.Or(changed, ChooseLinings(step));
            changed = TLane.Or(changed, ChooseDryers());
            going = TLane.And(going, changed);
            if (!TLane.Any(going))
            {
                MostFilmRounds = TLane.Max(MostFilmRounds, rounds);
                return;
            }

            rounds += TLane.And(going, TLane.Of(1));
        }

        Unsettled = TLane.Or(Unsettled, going);
    }

    private void AssembleWater(StepLanes<TLane> step)
    {
        Span<TLane> matrix = _waterMatrix.Span;
        Span<TLane> flow = _flow.Span;
        Span<TLane> water = _water.Span;
        for (int at = 0; at < matrix.Length; at++)
        {
            matrix[at] = -flow[at];
        }

        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneWork<TLane> work = ref works[i];
            TLane conductances = TLane.Zero;
            TLane drives = TLane.Zero;
            AddAir(step, i, ref zones[i], ref work, ref conductances, ref drives);
            if (_busyInZone[i] > 0)
            {
                AddFaces(step, i, ref conductances, ref drives);
            }

            AddLinings(step, i, ref conductances, ref drives);
            AddDryers(i, ref conductances, ref drives);
            matrix[(i * works.Length) + i] += TLane.MultiplyAdd(conductances, work.VapourB, work.WaterDiagonal);
            water[i] = TLane.SubtractProduct(work.WaterRight + drives, conductances, work.VapourA);
        }
    }

    private void AddAir(
        StepLanes<TLane> step, int i, ref ZoneState<TLane> zone, ref ZoneWork<TLane> work, ref TLane conductances, ref TLane drives)
    {
        if (TLane.Any(zone.Misty))
        {
            TLane conductance = TLane.And(zone.Misty, work.MistB);
            conductances += conductance;
            drives = TLane.MultiplyAdd(conductance, work.MistPsat, drives);
        }

        if (!_idleFurnishing[i])
        {
            AddFilm(zone.Furnishing.Wet, ref work.Furnishing, step.Zones.Span[i].FurnishingM2, ref conductances, ref drives);
        }
    }

    // Pressure of each zone, mist and furnishings.
    private TLane ChooseMist()
    {
        TLane changed = TLane.Zero;
        Span<TLane> water = _water.Span;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneWork<TLane> work = ref works[i];
            work.Pressure = TLane.MultiplyAdd(work.VapourB, water[i], work.VapourA);
            if (TLane.Any(zones[i].Misty) || !TLane.AllLessOrEqual(work.Pressure, work.MistPsat))
            {
                changed = TLane.Or(changed, ChooseMist(ref zones[i], ref work));
            }

            if (!_idleFurnishing[i])
            {
                changed = TLane.Or(changed, ChooseFilm(ref zones[i].Furnishing, ref work.Furnishing, work.Pressure));
            }
        }

        return changed;
    }

    private static TLane ChooseMist(ref ZoneState<TLane> zone, ref ZoneWork<TLane> work)
    {
        TLane misty = TLane.Less(work.MistPsat, work.Pressure);
        TLane turned = TLane.Xor(misty, zone.Misty);
        zone.Misty = misty;
        if (TLane.Any(turned))
        {
            SetMist(ref work);
        }

        return turned;
    }

    // Heat the step's condensation, evaporation and sorption give each zone.
    private void CollectLatent(StepLanes<TLane> step)
    {
        TLane evaporation = TLane.Of(MoistAir.EvaporationHeat);
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneWork<TLane> work = ref works[i];
            TLane mist = TLane.Zero;
            if (TLane.Any(zone.Misty))
            {
                mist = TLane.And(zone.Misty, work.MistB * (work.Pressure - work.MistPsat));
            }

            zone.MistKgPerS = mist;
            work.BufferKgPerS = TLane.SubtractProduct(work.BufferB * work.Pressure, work.BufferStart, step.PerBufferStepS);
            TLane furnishing = TLane.Zero;
            if (!_idleFurnishing[i])
            {
                furnishing = work.Furnishing.Latent * work.Furnishing.Flux;
            }

            zone.FurnishingLatentW = furnishing;
            TLane latent = TLane.MultiplyAdd(
                evaporation,
                TLane.MultiplyAdd(zone.ShedLagKg, perStep, work.BufferKgPerS + mist) + DriedKgPerS(i),
                furnishing * step.Zones.Span[i].FurnishingM2);
            zone.LatentW = LatentOfSurfaces(step, i, latent);
        }
    }

    private TLane LatentOfSurfaces(StepLanes<TLane> step, int zone, TLane latent)
    {
        if (_busyInZone[zone] > 0)
        {
            Span<FaceWork<TLane>> faces = _faceWork.Span;
            Span<FaceStep<TLane>> byFace = step.Faces.Span;
            int lastFace = _batch.FaceEnd[zone];
            for (int k = zone == 0 ? 0 : _batch.FaceEnd[zone - 1]; k < lastFace; k++)
            {
                if (!_idleFace[k])
                {
                    latent = TLane.MultiplyAdd(byFace[k].ToZone, faces[k].Film.Latent * faces[k].Film.Flux, latent);
                }
            }
        }

        Span<LiningWork<TLane>> linings = _liningWork.Span;
        Span<LiningStep<TLane>> byLining = step.Linings.Span;
        int lastLining = _batch.LiningEnd[zone];
        for (int j = zone == 0 ? 0 : _batch.LiningEnd[zone - 1]; j < lastLining; j++)
        {
            if (!_idleLining[j])
            {
                latent = TLane.MultiplyAdd(byLining[j].ToZone, linings[j].Face.Film.Latent * linings[j].Face.Film.Flux, latent);
            }

            latent = TLane.MultiplyAdd(byLining[j].SkinToZone, linings[j].SkinLatent * linings[j].SkinFlux, latent);
        }

        return latent;
    }

    // Vans whose mist warms air by more than is left to chance, or where evaporation has cooled air below what it holds.
    private TLane MistMoved()
    {
        TLane moved = TLane.Zero;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneWork<TLane> work = ref works[i];
            TLane nearlyPa = TLane.Of(NearlySaturated) * work.MistPsat;
            if (!TLane.AnyLess(nearlyPa, work.Pressure) && !TLane.Any(zone.Misty))
            {
                continue;
            }

            TLane near = TLane.Less(nearlyPa, work.Pressure);
            TLane warmed = TLane.And(zone.Misty, TLane.Less(TLane.Of(MistRepeatK), TLane.Abs(zone.AirC - work.GuessC)));
            TLane over = TLane.Less(TLane.Of(1 + SaturationSlack) * SaturationTable.Pa(zone.AirC, out _), work.Pressure);
            moved = TLane.Or(moved, TLane.Or(warmed, TLane.And(TLane.AndNot(near, zone.Misty), over)));
        }

        return moved;
    }

    // By the air's temperature at the step's start, so that a repeat for mist does not move them.
    private void PrepareDryers()
    {
        if (_batch.DryerCount == 0)
        {
            return;
        }

        Span<DryerState<TLane>> dryers = Dryers;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            RunningDryer[] own = _batch.Vans[lane].Night.Dryers;
            for (int d = 0; d < own.Length; d++)
            {
                ref DryerState<TLane> dryer = ref dryers[_batch.DryerSlot(lane, d)];
                double airC = LaneNumbers.At(ref Zones[own[d].Zone].AirC, lane);
                double psat = SaturationTable.Pa(airC, out _);
                Put(ref dryer.KgPerSPa, lane, DryersRun ? own[d].KgPerSPa(airC, psat) : 0);
                Put(ref dryer.LowestPa, lane, own[d].LowestPa(psat));
            }
        }
    }

    private void AddDryers(int zone, ref TLane conductances, ref TLane drives)
    {
        int end = _batch.DryerEnd[zone];
        for (int d = zone == 0 ? 0 : _batch.DryerEnd[zone - 1]; d < end; d++)
        {
            ref DryerState<TLane> dryer = ref Dryers[d];
            TLane conductance = TLane.And(dryer.Drying, dryer.KgPerSPa);
            conductances += conductance;
            drives += TLane.And(dryer.Drying, conductance * dryer.LowestPa);
        }
    }

    private TLane ChooseDryers()
    {
        TLane changed = TLane.Zero;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0, d = 0; i < zones.Length && d < _batch.DryerCount; i++)
        {
            for (int end = _batch.DryerEnd[i]; d < end; d++)
            {
                ref DryerState<TLane> dryer = ref Dryers[d];
                TLane over = zones[i].Pressure - dryer.LowestPa;
                TLane drying = TLane.Less(TLane.Zero, over);
                changed = TLane.Or(changed, TLane.Xor(drying, dryer.Drying));
                dryer.Drying = drying;
                dryer.KgPerS = TLane.And(drying, dryer.KgPerSPa * over);
            }
        }

        return changed;
    }

    private TLane DriedKgPerS(int zone)
    {
        TLane dried = TLane.Zero;
        int end = _batch.DryerEnd[zone];
        for (int d = zone == 0 ? 0 : _batch.DryerEnd[zone - 1]; d < end; d++)
        {
            dried += Dryers[d].KgPerS;
        }

        return dried;
    }
}
