using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Simulation;

/// <content>Takes over the step: temperatures, films, stores and the sums of both balances; the mattress and gases.</content>
internal sealed partial class VanStep<TLane>
{
    private void Finish(StepLanes<TLane> step, TLane heaterWater)
    {
        TLane seconds = TLane.Of(step.Seconds);
        ref WholeState<TLane> whole = ref Whole;
        TLane lossW = TLane.SubtractProduct(SkyLossWPerM2 * step.SkyM2, TLane.Of(OutdoorC), step.OutWPerK);
        TLane latentW = TLane.Zero;
        FinishFaces(step, seconds, ref lossW, ref latentW);
        FinishLinings(step, seconds, ref lossW, ref latentW);
        FinishZones(step, seconds, heaterWater, ref lossW, ref latentW);
        whole.LossInStepJ = TLane.MultiplyAdd(lossW, seconds, _carry * whole.LossInStepJ);
        whole.LatentInStepJ = TLane.MultiplyAdd(latentW, seconds, _carry * whole.LatentInStepJ);
        whole.SunInStepJ = TLane.MultiplyAdd(step.SunM2, TLane.Of(SunWPerM2) * seconds, _carry * whole.SunInStepJ);
        whole.LossJ += whole.LossInStepJ;
        whole.LatentJ += whole.LatentInStepJ;
        whole.SunJ += whole.SunInStepJ;
    }

    private void FinishFaces(StepLanes<TLane> step, TLane seconds, ref TLane lossW, ref TLane latentW)
    {
        Span<FaceState<TLane>> faces = Faces;
        Span<FaceWork<TLane>> works = _faceWork.Span;
        Span<FaceStep<TLane>> by = step.Faces.Span;
        Span<ZoneState<TLane>> zones = Zones;
        TLane loss = lossW;
        for (int i = 0, k = 0; i < zones.Length; i++)
        {
            TLane airC = zones[i].AirC;
            for (int end = _batch.FaceEnd[i]; k < end; k++)
            {
                ref FaceStep<TLane> coefficient = ref by[k];
                TLane heat = TLane.MultiplyAdd(coefficient.In, airC, works[k].Drive);
                if (!_idleFace[k])
                {
                    TLane latent = works[k].Film.Latent * works[k].Film.Flux;
                    heat += latent;
                    latentW = TLane.MultiplyAdd(coefficient.AreaM2, latent, latentW);
                }

                TLane faceC = heat * coefficient.Inverse;
                faces[k].SurfaceDrift = faceC - faces[k].SurfaceC;
                faces[k].SurfaceC = faceC;
                loss = TLane.MultiplyAdd(coefficient.OutWPerK, faceC, loss);
                if (!_idleFace[k])
                {
                    TakeFlux(ref faces[k], works[k].Film.Flux * seconds, faceC, coefficient.AreaM2);
                }
            }
        }

        lossW = loss;
    }

    private void FinishLinings(StepLanes<TLane> step, TLane seconds, ref TLane lossW, ref TLane latentW)
    {
        Span<LiningState<TLane>> linings = Linings;
        Span<LiningWork<TLane>> works = _liningWork.Span;
        Span<LiningStep<TLane>> by = step.Linings.Span;
        Span<ZoneState<TLane>> zones = Zones;
        for (int i = 0, j = 0; i < zones.Length; i++)
        {
            TLane airC = zones[i].AirC;
            for (int end = _batch.LiningEnd[i]; j < end; j++)
            {
                ref LiningStep<TLane> coefficient = ref by[j];
                ref LiningState<TLane> lining = ref linings[j];
                ref LiningWork<TLane> work = ref works[j];
                TLane skinLatent = work.SkinLatent * work.SkinFlux;
                TLane heat = TLane.MultiplyAdd(coefficient.In, airC, TLane.MultiplyAdd(coefficient.SkinToFace, skinLatent, work.Face.Drive));
                TLane latent = TLane.Zero;
                if (!_idleLining[j])
                {
                    latent = work.Face.Film.Latent * work.Face.Film.Flux;
                    heat += latent;
                }

                TLane faceC = heat * coefficient.Inverse;
                TLane skinC = TLane.MultiplyAdd(coefficient.SkinToFace, faceC, (work.SkinDrive + skinLatent) * coefficient.SkinInverse);
                lining.Face.SurfaceDrift = faceC - lining.Face.SurfaceC;
                lining.SkinDrift = skinC - lining.SkinC;
                lining.Face.SurfaceC = faceC;
                lining.SkinC = skinC;
                lossW = TLane.MultiplyAdd(coefficient.SkinOutWPerK, skinC, lossW);
                latentW = TLane.MultiplyAdd(coefficient.AreaM2, latent + skinLatent, latentW);
                lining.SkinKgDrift = TLane.MultiplyAdd(_carry, lining.SkinKgDrift, work.SkinFlux * seconds);
                lining.SkinKgPerM2 += lining.SkinKgDrift;
                DrainSkin(ref lining, coefficient.SkinRunOffKgPerM2, coefficient.AreaM2);
                if (!_idleLining[j])
                {
                    TakeFlux(ref lining.Face, work.Face.Film.Flux * seconds, faceC, coefficient.AreaM2);
                }
            }
        }
    }

    // Down walls and from under the roof to the sills; frost stays until it thaws.
    private void DrainSkin(ref LiningState<TLane> lining, TLane runOffKgPerM2, TLane areaM2)
    {
        TLane surplus = lining.SkinKgPerM2 - _batch.SkinStorageKgPerM2 - runOffKgPerM2;
        if (!TLane.AnyLess(TLane.Zero, surplus))
        {
            return;
        }

        TLane runs = TLane.And(TLane.Less(TLane.Zero, surplus), TLane.LessOrEqual(TLane.Zero, lining.SkinC));
        if (TLane.Any(runs))
        {
            surplus = TLane.And(runs, surplus);
            lining.SkinRanOffKgPerM2 += surplus;
            Whole.RanOffKg += surplus * areaM2;
            lining.SkinKgPerM2 -= surplus;
        }
    }

    private void FinishZones(StepLanes<TLane> step, TLane seconds, TLane heaterWater, ref TLane lossW, ref TLane latentW)
    {
        TLane outdoorC = TLane.Of(OutdoorC);
        TLane sun = TLane.Of(SunWPerM2);
        TLane heatCapacity = TLane.Of(MoistAir.DryAirHeatCapacity);
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        TLane evaporatedKgPerS = TLane.Zero;
        TLane waterKgPerS = heaterWater;
        TLane carriedKgPerS = TLane.Zero;
        TLane fromOutside = TLane.Zero;
        ref WholeState<TLane> whole = ref Whole;
        TLane givenW = whole.HeaterW;
        TLane driedKgPerS = TLane.Zero;
        Span<TLane> water = _water.Span;
        Span<ZoneState<TLane>> zones = Zones;
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        Span<ZoneStep<TLane>> by = step.Zones.Span;
        for (int i = 0; i < works.Length; i++)
        {
            ref ZoneState<TLane> zone = ref zones[i];
            ref ZoneWork<TLane> work = ref works[i];
            ref ZoneStep<TLane> coefficient = ref by[i];
            TLane dried = DriedKgPerS(i);
            TLane furniture = TLane.MultiplyAdd(coefficient.MassStore, zone.MassC, sun * coefficient.GlassSunM2);
            furniture = TLane.MultiplyAdd(coefficient.MassStore * _carry, zone.MassDrift, furniture);
            TLane massC = TLane.MultiplyAdd(coefficient.MassShare, zone.AirC, furniture * coefficient.MassInverse);
            zone.MassDrift = massC - zone.MassC;
            zone.AirDrift = zone.AirC - work.StartC;
            zone.MassC = massC;
            lossW = TLane.MultiplyAdd(coefficient.OtherLossWPerK, zone.AirC, lossW);
            lossW = TLane.MultiplyAdd(heatCapacity, TLane.SubtractProduct(work.ToOutside * zone.AirC, work.FromOutside, outdoorC), lossW);
            evaporatedKgPerS += TLane.MultiplyAdd(zone.ShedLagKg, perStep, work.BufferKgPerS + zone.MistKgPerS) + dried;
            latentW = TLane.MultiplyAdd(zone.FurnishingLatentW, coefficient.FurnishingM2, latentW);
            givenW += work.SensibleW;
            driedKgPerS += dried;
            zone.BufferDrift = TLane.MultiplyAdd(_carry, zone.BufferDrift, work.BufferKgPerS * seconds);
            zone.BufferKg += zone.BufferDrift;
            TLane humidity = water[i];
            zone.HumidityDrift = humidity - zone.HumidityRatio;
            zone.HumidityRatio = humidity;
            waterKgPerS += work.WaterKgPerS;
            carriedKgPerS = TLane.MultiplyAdd(work.ToOutside, humidity, carriedKgPerS);
            fromOutside += work.FromOutside;
            FinishFurnishing(i, ref zone, ref work, ref coefficient, seconds);
        }

        latentW = TLane.MultiplyAdd(TLane.Of(MoistAir.EvaporationHeat), evaporatedKgPerS, latentW);
        whole.DriedInStepKg = TLane.MultiplyAdd(driedKgPerS, seconds, _carry * whole.DriedInStepKg);
        whole.DriedKg += whole.DriedInStepKg;
        whole.GivenInStepJ = TLane.MultiplyAdd(givenW, seconds, _carry * whole.GivenInStepJ);
        whole.HeaterInStepJ = TLane.MultiplyAdd(whole.HeaterW, seconds, _carry * whole.HeaterInStepJ);
        whole.GivenJ += whole.GivenInStepJ;
        whole.HeaterJ += whole.HeaterInStepJ;
        whole.WaterInStepKg = TLane.MultiplyAdd(waterKgPerS, seconds, _carry * whole.WaterInStepKg);
        whole.CarriedInStepKg = TLane.MultiplyAdd(carriedKgPerS, seconds, _carry * whole.CarriedInStepKg);
        whole.BroughtInStepKg = TLane.MultiplyAdd(fromOutside, TLane.Of(OutdoorHumidityRatio) * seconds, _carry * whole.BroughtInStepKg);
        whole.WaterKg += whole.WaterInStepKg;
        whole.CarriedKg += whole.CarriedInStepKg;
        whole.BroughtKg += whole.BroughtInStepKg;
    }

    private void FinishFurnishing(int i, ref ZoneState<TLane> zone, ref ZoneWork<TLane> work, ref ZoneStep<TLane> by, TLane seconds)
    {
        if (!_idleFurnishing[i] || TLane.Any(zone.Misty))
        {
            TLane taken = TLane.Select(work.FurnishingMayWet, work.Furnishing.Flux, TLane.Zero) + (zone.MistKgPerS * by.PerFurnishingM2);
            TakeFlux(ref zone.Furnishing, taken * seconds, zone.AirC, by.FurnishingM2);
        }

        // What the repeats of heat and water left above saturation goes to the furnishings too; its warmth follows in the next step.
        zone.ShedLagKg = TLane.Zero;
        TLane nearlyPa = TLane.Of(NearlySaturated) * work.MistPsat;
        if (!TLane.AllLess(work.Pressure, nearlyPa))
        {
            ShedSurplus(ref zone, ref work, ref by, TLane.LessOrEqual(nearlyPa, work.Pressure));
        }
    }

    private void ShedSurplus(ref ZoneState<TLane> zone, ref ZoneWork<TLane> work, ref ZoneStep<TLane> by, TLane near)
    {
        TLane psat = SaturationTable.Pa(zone.AirC, out _);
        TLane most = TLane.Of(MoistAir.MolarMassRatio) * psat / (TLane.Of(PressurePa) - psat);
        TLane over = TLane.And(near, TLane.Less(most, zone.HumidityRatio));
        if (TLane.Any(over))
        {
            TLane shed = TLane.And(over, work.AirKg * (zone.HumidityRatio - most));
            zone.ShedLagKg = shed;
            zone.HumidityRatio = TLane.Select(over, most, zone.HumidityRatio);
            TakeFilm(ref zone.Furnishing, shed * by.PerFurnishingM2, zone.AirC, by.FurnishingM2);
        }
    }

    // A film takes what the flux at the step's end says and its share of what it took before.
    private void TakeFlux(ref FaceState<TLane> face, TLane added, TLane surfaceC, TLane areaM2)
    {
        face.FilmDrift = TLane.MultiplyAdd(_carry, face.FilmDrift, added);
        TakeFilm(ref face, face.FilmDrift, surfaceC, areaM2);
    }

    private void TakeFilm(ref FaceState<TLane> face, TLane addedKgPerM2, TLane surfaceC, TLane areaM2)
    {
        TLane moved = TLane.AndNot(TLane.AllBits, TLane.Equal(addedKgPerM2, TLane.Zero));
        if (!TLane.Any(moved))
        {
            return;
        }

        // A film used up within the step ends at zero but for rounding.
        TLane film = TLane.Max(face.FilmKgPerM2 + addedKgPerM2, TLane.Zero);
        face.CondensedKgPerM2 += TLane.Max(addedKgPerM2, TLane.Zero);
        TLane surplus = film - _batch.RunOffKgPerM2;
        // Frost stays until it thaws.
        TLane runs = TLane.And(moved, TLane.And(TLane.Less(TLane.Zero, surplus), TLane.LessOrEqual(TLane.Zero, surfaceC)));
        if (TLane.Any(runs))
        {
            surplus = TLane.And(runs, surplus);
            face.RanOffKgPerM2 += surplus;
            Whole.RanOffKg += surplus * areaM2;
            film = TLane.Select(runs, _batch.RunOffKgPerM2, film);
        }

        face.FilmKgPerM2 = film;
    }

    // The mattress takes the zones' air as it was at the step's start: it is slow.
    private void StepMattress(MattressLanes<TLane> mattress, double stepS)
    {
        Span<ZoneWork<TLane>> works = _zoneWork.Span;
        ref ZoneState<TLane> bed = ref Zones[mattress.BedZone];
        ref ZoneState<TLane> under = ref Zones[mattress.BelowZone];
        ref WholeState<TLane> whole = ref Whole;
        TLane aboveC = Asleep ? mattress.ContactC : bed.AirC;
        TLane abovePa = Asleep ? mattress.ContactPa : works[mattress.BedZone].StartPressure;
        TLane belowPa = works[mattress.BelowZone].StartPressure;
        TLane undersideC = under.AirC + (mattress.WarmthShare * (aboveC - under.AirC));
        TLane psat = SaturationTable.Pa(undersideC, out _);
        TLane arriving = (mattress.AboveKgPerM2SPa * abovePa) + (mattress.BelowKgPerM2SPa * belowPa);
        TLane start = TLane.MultiplyAdd(_carry, whole.MattressDrift, whole.MattressKgPerM2);
        // Held water sets the humidity up to 100 %, more is film: the larger of the two gains, as for skins.
        TLane held = mattress.BothKgPerM2SPa * psat * mattress.PerStorage;
        TLane gain = TLane.Max(
            arriving - (mattress.BothKgPerM2SPa * psat),
            (arriving - (held * start)) / (TLane.Of(1) + (held * TLane.Of(stepS))));
        whole.MattressDrift = TLane.MultiplyAdd(_carry, whole.MattressDrift, gain * TLane.Of(stepS));
        TLane end = whole.MattressKgPerM2 + whole.MattressDrift;
        TLane undersidePa = psat * TLane.Min(end * mattress.PerStorage, TLane.Of(1));
        TLane above = mattress.AboveKgPerM2SPa * (abovePa - undersidePa);
        works[mattress.BelowZone].MattressKgPerS = TLane.Zero;
        works[mattress.BedZone].MattressKgPerS = -(mattress.AreaM2 * above);
        works[mattress.BelowZone].MattressKgPerS -= mattress.AreaM2 * (gain - above);
        whole.MattressKgPerM2 = end;
        whole.MattressC = undersideC;
    }

    private TLane VapourPressure(TLane humidityRatio) =>
        TLane.Of(PressurePa) * humidityRatio / (TLane.Of(MoistAir.MolarMassRatio) + humidityRatio);

    /// <summary>Carbon dioxide and oxygen through a stretch of steps with the same air flows and sources.</summary>
    /// <param name="seconds">Length of the stretch.</param>
    /// <param name="heaterW">Mean output of the heater in it.</param>
    public void StepGases(double seconds, TLane heaterW)
    {
        if (_gasAirChanged || _gasSeconds != seconds)
        {
            FactoriseGases(seconds);
        }

        TLane perSecond = TLane.Of(1 / seconds);
        TLane kgPerMol = TLane.Of(MoistAir.DryAirKgPerMol);
        Span<TLane> gas = _right.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0; i < zones.Length; i++)
        {
            ref ZoneWork<TLane> zone = ref zones[i];
            gas[i] = (zone.AirKg * perSecond * zone.CarbonDioxide) + (zone.FromOutside * OutdoorCarbonDioxide) + (kgPerMol * zone.CarbonDioxideMolPerS);
        }

        gas[_batch.HeaterZone] += kgPerMol * HeaterCarbonDioxideMolPerJ * heaterW;
        SmallMatrix.Solve(_gasFactors.Span, gas, zones.Length);
        for (int i = 0; i < zones.Length; i++)
        {
            ref ZoneWork<TLane> zone = ref zones[i];
            zone.CarbonDioxide = gas[i];
            gas[i] = (zone.AirKg * perSecond * zone.OxygenUsed) + (kgPerMol * zone.OxygenMolPerS);
        }

        gas[_batch.HeaterZone] += kgPerMol * HeaterOxygenMolPerJ * heaterW;
        SmallMatrix.Solve(_gasFactors.Span, gas, zones.Length);
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].OxygenUsed = gas[i];
        }
    }

    private void FactoriseGases(double seconds)
    {
        TLane perSecond = TLane.Of(1 / seconds);
        Span<TLane> matrix = _gasFactors.Span;
        Span<TLane> flow = _flow.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int at = 0; at < matrix.Length; at++)
        {
            matrix[at] = -flow[at];
        }

        for (int i = 0; i < zones.Length; i++)
        {
            matrix[(i * zones.Length) + i] += (zones[i].AirKg * perSecond) + zones[i].Inflow;
        }

        SmallMatrix.Factorise(matrix, zones.Length);
        _gasAirChanged = false;
        _gasSeconds = seconds;
    }
}
