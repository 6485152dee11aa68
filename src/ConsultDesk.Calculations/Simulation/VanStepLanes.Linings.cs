using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Simulation;

/// <content>Linings, which are faces towards the room, and the skins behind them.</content>
internal sealed partial class VanStep<TLane>
{
    private void PrepareLinings(StepLanes<TLane> step)
    {
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        TLane perStorage = _batch.PerSkinStorage;
        TLane stepPerStorage = TLane.Of(step.Seconds) * perStorage;
        Span<LiningState<TLane>> linings = Linings;
        Span<LiningWork<TLane>> works = _liningWork.Span;
        Span<LiningStep<TLane>> by = step.Linings.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0, j = 0; i < zones.Length; i++)
        {
            TLane guess = zones[i].GuessC;
            for (int end = _batch.LiningEnd[i]; j < end; j++)
            {
                ref LiningWork<TLane> work = ref works[j];
                TLane faceC = TLane.MultiplyAdd(by[j].In, guess, work.Face.Drive) * by[j].Inverse;
                work.Face.DryC = faceC;
                _idleLining[j] = PrepareFace(ref linings[j].Face, ref work.Face, by[j].Inverse, perStep);
                PrepareSkin(ref linings[j], ref work, ref by[j], faceC, perStorage, stepPerStorage);
            }
        }
    }

    // The two lines of a skin: with what the lining holds, and at saturation; the second only where it can be reached.
    private void PrepareSkin(
        ref LiningState<TLane> lining, ref LiningWork<TLane> work, ref LiningStep<TLane> by, TLane faceC, TLane perStorage, TLane stepPerStorage)
    {
        TLane skinC = TLane.MultiplyAdd(by.SkinToFace, faceC, work.SkinDrive * by.SkinInverse);
        TLane psat = SaturationTable.Pa(skinC, out TLane slope);
        TLane latent = LatentHeat(skinC);
        TLane beta = by.SkinVapour;
        TLane warming = slope * latent * by.SkinResponse;
        TLane held = TLane.MultiplyAdd(_carry, lining.SkinKgDrift, lining.SkinKgPerM2) * perStorage;
        work.SkinPsat = psat;
        work.SkinLatent = latent;
        work.SkinWarming = warming;
        work.HeldB = beta / TLane.MultiplyAdd(beta, TLane.MultiplyAdd(psat, stepPerStorage, held * warming), TLane.Of(1));
        work.HeldPsat = psat * held;
        if (TLane.Any(lining.SkinWet))
        {
            work.WetB = beta / TLane.MultiplyAdd(beta, warming, TLane.Of(1));
        }
    }

    private void AddLinings(StepLanes<TLane> step, int zone, ref TLane conductances, ref TLane drives)
    {
        Span<LiningState<TLane>> linings = Linings;
        Span<LiningWork<TLane>> works = _liningWork.Span;
        Span<LiningStep<TLane>> by = step.Linings.Span;
        int end = _batch.LiningEnd[zone];
        for (int j = zone == 0 ? 0 : _batch.LiningEnd[zone - 1]; j < end; j++)
        {
            ref LiningWork<TLane> work = ref works[j];
            TLane areaM2 = by[j].AreaM2;
            if (!_idleLining[j])
            {
                AddFilm(linings[j].Face.Wet, ref work.Face.Film, areaM2, ref conductances, ref drives);
            }

            TLane wet = linings[j].SkinWet;
            TLane b = work.HeldB;
            TLane psat = work.HeldPsat;
            if (TLane.Any(wet))
            {
                b = TLane.Select(wet, work.WetB, b);
                psat = TLane.Select(wet, work.SkinPsat, psat);
            }

            TLane conductance = areaM2 * b;
            conductances += conductance;
            drives = TLane.MultiplyAdd(conductance, psat, drives);
        }
    }

    private TLane ChooseLinings(StepLanes<TLane> step)
    {
        TLane changed = TLane.Zero;
        TLane stepS = TLane.Of(step.Seconds);
        Span<LiningState<TLane>> linings = Linings;
        Span<LiningWork<TLane>> works = _liningWork.Span;
        Span<LiningStep<TLane>> by = step.Linings.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0, j = 0; i < zones.Length; i++)
        {
            TLane pressure = zones[i].Pressure;
            for (int end = _batch.LiningEnd[i]; j < end; j++)
            {
                ref LiningState<TLane> lining = ref linings[j];
                ref LiningWork<TLane> work = ref works[j];
                if (!_idleLining[j] || !StaysDry(ref lining.Face, ref work.Face, pressure, by[j].Inverse, step.Seconds))
                {
                    _idleLining[j] = false;
                    changed = TLane.Or(changed, ChooseFilm(ref lining.Face, ref work.Face.Film, pressure));
                }

                changed = TLane.Or(changed, ChooseSkin(ref lining, ref work, by[j].SkinVapour, pressure, stepS));
            }
        }

        return changed;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private TLane ChooseSkin(ref LiningState<TLane> lining, ref LiningWork<TLane> work, TLane vapour, TLane pressure, TLane stepS)
    {
        TLane storage = _batch.SkinStorageKgPerM2;
        TLane water = TLane.MultiplyAdd(_carry, lining.SkinKgDrift, lining.SkinKgPerM2);
        TLane held = work.HeldB * (pressure - work.HeldPsat);
        TLane end = TLane.MultiplyAdd(held, stepS, water);
        TLane cooling = -(held * work.SkinWarming);
        // With room left in the lining at the start and the end of the step, and no cooling below all its pressure, the held line is the larger.
        if (!TLane.Any(lining.SkinWet)
            && TLane.AllLessOrEqual(water, storage)
            && TLane.AllLessOrEqual(end, storage)
            && TLane.AllLessOrEqual(cooling, work.SkinPsat))
        {
            work.SkinFlux = held;
            return TLane.Zero;
        }

        TLane room = TLane.And(TLane.LessOrEqual(water, storage), TLane.LessOrEqual(end, storage));
        TLane dry = TLane.AndNot(TLane.And(room, TLane.LessOrEqual(cooling, work.SkinPsat)), lining.SkinWet);
        return ChooseSkinLine(ref lining, ref work, vapour, pressure, held, dry);
    }

    private static TLane ChooseSkinLine(
        ref LiningState<TLane> lining, ref LiningWork<TLane> work, TLane vapour, TLane pressure, TLane held, TLane dry)
    {
        work.WetB = vapour / TLane.MultiplyAdd(vapour, work.SkinWarming, TLane.Of(1));
        TLane free = work.WetB * (pressure - work.SkinPsat);
        TLane wet = TLane.AndNot(TLane.Less(held, free), dry);
        TLane changed = TLane.Xor(wet, lining.SkinWet);
        lining.SkinWet = wet;
        work.SkinFlux = TLane.Select(wet, free, held);
        return changed;
    }
}
