using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Air;

namespace ConsultDesk.Calculations.Simulation;

/// <content>Films on glass, metal and the room side of linings.</content>
internal sealed partial class VanStep<TLane>
{
    // How much below a dry face the bound lies that is kept for it.
    private const double SurelyK = 0.25;

    private void SetVapourCoefficients(StepLanes<TLane> step)
    {
        _betaPressurePa = PressurePa;
        _betaCovered = step.Covered;
        TLane film = TLane.Zero;
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            film = TLane.With(film, lane, _batch.Vans[lane].FilmVapour(PressurePa));
        }

        Span<FaceWork<TLane>> faces = _faceWork.Span;
        for (int k = 0; k < faces.Length; k++)
        {
            faces[k].Film.Beta = BehindCover(film, step.Faces.Span[k].CoverVapour);
        }

        Span<LiningWork<TLane>> linings = _liningWork.Span;
        for (int j = 0; j < linings.Length; j++)
        {
            linings[j].Face.Film.Beta = BehindCover(film, step.Linings.Span[j].CoverVapour);
        }

        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0; i < zones.Length; i++)
        {
            zones[i].Furnishing.Beta = film;
        }
    }

    private static TLane BehindCover(TLane film, TLane cover) =>
        TLane.Select(TLane.Less(TLane.Zero, cover), film * cover / (film + cover), film);

    private void ForgetBounds()
    {
        Span<FaceWork<TLane>> faces = _faceWork.Span;
        for (int k = 0; k < faces.Length; k++)
        {
            faces[k].SurelyC = TLane.Of(double.PositiveInfinity);
        }

        Span<LiningWork<TLane>> linings = _liningWork.Span;
        for (int j = 0; j < linings.Length; j++)
        {
            linings[j].Face.SurelyC = TLane.Of(double.PositiveInfinity);
        }
    }

    // The two lines of each film: condensing or evaporating freely, and used up within the step. A dry face needs none as long
    // as the air before it stays below a saturation that it is surely warmer than.
    private void PrepareFaces(StepLanes<TLane> step)
    {
        TLane perStep = TLane.Of(1.0 / step.Seconds);
        Span<FaceState<TLane>> faces = Faces;
        Span<FaceWork<TLane>> works = _faceWork.Span;
        Span<FaceStep<TLane>> by = step.Faces.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0, k = 0; i < zones.Length; i++)
        {
            TLane guess = zones[i].GuessC;
            TLane surelyPa = TLane.Of(double.PositiveInfinity);
            int busy = 0;
            for (int end = _batch.FaceEnd[i]; k < end; k++)
            {
                ref FaceWork<TLane> work = ref works[k];
                work.DryC = TLane.MultiplyAdd(by[k].In, guess, work.Drive) * by[k].Inverse;
                bool idle = PrepareFace(ref faces[k], ref work, by[k].Inverse, perStep);
                _idleFace[k] = idle;
                busy += idle ? 0 : 1;
                surelyPa = idle ? TLane.Min(surelyPa, work.SurelyPa) : surelyPa;
            }

            zones[i].SurelyPa = surelyPa;
            _busyInZone[i] = busy;
        }
    }

    // True when it is dry in all vans.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool PrepareFace(ref FaceState<TLane> face, ref FaceWork<TLane> work, TLane inverse, TLane perStep)
    {
        if (TLane.Any(face.Wet) || TLane.AnyLess(TLane.Zero, face.FilmKgPerM2 + TLane.Abs(face.FilmDrift)))
        {
            PrepareFilm(ref work.Film, TLane.MultiplyAdd(_carry, face.FilmDrift, face.FilmKgPerM2), work.DryC, inverse, perStep);
            return false;
        }

        work.Film.Flux = TLane.Zero;
        if (!TLane.AllLessOrEqual(work.SurelyC, work.DryC))
        {
            SetSurely(ref work);
        }

        return true;
    }

    private static void SetSurely(ref FaceWork<TLane> work)
    {
        work.SurelyC = work.DryC - TLane.Of(SurelyK);
        work.SurelyPa = SaturationTable.Pa(work.SurelyC, out _);
    }

    private static void PrepareFilm(ref FilmWork<TLane> film, TLane filmKgPerM2, TLane dryC, TLane warmingM2KPerW, TLane perStep)
    {
        TLane psat = SaturationTable.Pa(dryC, out TLane slope);
        TLane latent = LatentHeat(dryC);
        film.Psat = psat;
        film.Latent = latent;
        film.B = film.Beta / TLane.MultiplyAdd(film.Beta * slope, latent * warmingM2KPerW, TLane.Of(1));
        film.Dry = -(filmKgPerM2 * perStep);
    }

    // As NightBalance.LatentHeat.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane LatentHeat(TLane surfaceC)
    {
        TLane water = TLane.Of(MoistAir.EvaporationHeat);
        if (TLane.AllLessOrEqual(TLane.Zero, surfaceC))
        {
            return water;
        }

        TLane liquid = TLane.LessOrEqual(TLane.Zero, surfaceC);
        TLane ice = TLane.Of(MoistAir.SublimationHeat);
        TLane between = water + (surfaceC * TLane.Of(1 / NightBalance.AllFrozenC) * TLane.Of(MoistAir.SublimationHeat - MoistAir.EvaporationHeat));
        return TLane.Select(liquid, water, TLane.Select(TLane.LessOrEqual(surfaceC, TLane.Of(NightBalance.AllFrozenC)), ice, between));
    }

    // Adds up conductances, and conductances times saturation, of the films of a zone.
    private void AddFaces(StepLanes<TLane> step, int zone, ref TLane conductances, ref TLane drives)
    {
        Span<FaceState<TLane>> faces = Faces;
        Span<FaceWork<TLane>> works = _faceWork.Span;
        Span<FaceStep<TLane>> by = step.Faces.Span;
        int end = _batch.FaceEnd[zone];
        for (int k = zone == 0 ? 0 : _batch.FaceEnd[zone - 1]; k < end; k++)
        {
            if (!_idleFace[k])
            {
                AddFilm(faces[k].Wet, ref works[k].Film, by[k].AreaM2, ref conductances, ref drives);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void AddFilm(TLane wet, ref FilmWork<TLane> film, TLane areaM2, ref TLane conductances, ref TLane drives)
    {
        TLane conductance = TLane.And(wet, areaM2 * film.B);
        conductances += conductance;
        drives = TLane.Select(wet, TLane.MultiplyAdd(conductance, film.Psat, drives), TLane.SubtractProduct(drives, areaM2, film.Dry));
    }

    // Fluxes by the lines chosen; a mask of the vans where a film lies on its other line.
    private TLane ChooseFaces(StepLanes<TLane> step)
    {
        TLane changed = TLane.Zero;
        Span<FaceState<TLane>> faces = Faces;
        Span<FaceWork<TLane>> works = _faceWork.Span;
        Span<ZoneWork<TLane>> zones = _zoneWork.Span;
        for (int i = 0, k = 0; i < zones.Length; i++)
        {
            TLane pressure = zones[i].Pressure;
            int end = _batch.FaceEnd[i];
            bool surely = TLane.AllLessOrEqual(pressure, zones[i].SurelyPa);
            if (surely && _busyInZone[i] == 0)
            {
                k = end;
                continue;
            }

            for (; k < end; k++)
            {
                if (_idleFace[k] && (surely || StaysDry(ref faces[k], ref works[k], pressure, step.Faces.Span[k].Inverse, step.Seconds)))
                {
                    continue;
                }

                if (_idleFace[k])
                {
                    _idleFace[k] = false;
                    _busyInZone[i]++;
                }

                changed = TLane.Or(changed, ChooseFilm(ref faces[k], ref works[k].Film, pressure));
            }
        }

        return changed;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static TLane ChooseFilm(ref FaceState<TLane> face, ref FilmWork<TLane> film, TLane pressure)
    {
        TLane free = film.B * (pressure - film.Psat);
        TLane wet = TLane.Less(film.Dry, free);
        TLane changed = TLane.Xor(wet, face.Wet);
        face.Wet = wet;
        film.Flux = TLane.Select(wet, free, film.Dry);
        return changed;
    }

    // A dry face looked at closely; one that gets wet in some van has its lines from here on.
    private static bool StaysDry(ref FaceState<TLane> face, ref FaceWork<TLane> work, TLane pressurePa, TLane inverse, double stepS)
    {
        if (TLane.AllLessOrEqual(pressurePa, work.SurelyPa))
        {
            return true;
        }

        SetSurely(ref work);
        if (TLane.AllLessOrEqual(pressurePa, SaturationTable.Pa(work.DryC, out _)))
        {
            return true;
        }

        PrepareFilm(ref work.Film, face.FilmKgPerM2, work.DryC, inverse, TLane.Of(1.0 / stepS));
        return false;
    }
}
