using System.Numerics;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Counts the hot hours asleep of vans side by side while they run, as <see cref="NightHeat"/> counts those of one.</summary>
internal sealed class HotHours<TLane>
    where TLane : struct, ILane<TLane>
{
    private readonly VanBatch<TLane> _batch;
    private readonly int _bed;
    private readonly TLane _mayBeHotC;
    private readonly Sleeper[] _sleepers;
    private readonly int[] _hours;

    /// <summary>Nobody has slept yet.</summary>
    /// <param name="batch">The vans.</param>
    /// <param name="bed">Zone of the bed.</param>
    public HotHours(VanBatch<TLane> batch, int bed)
    {
        _batch = batch;
        _bed = bed;
        _sleepers = [.. Enumerable.Range(0, batch.Used).Select(lane => new Sleeper(batch.Vans[lane].Night, bed))];
        _mayBeHotC = TLane.Of(double.PositiveInfinity);
        for (int lane = 0; lane < batch.Used; lane++)
        {
            _mayBeHotC = TLane.With(_mayBeHotC, lane, _sleepers[lane].MayBeHotC);
        }

        _hours = new int[batch.Used];
    }

    /// <summary>An hour in which people sleep.</summary>
    public void Asleep(VanRun<TLane> run)
    {
        uint lanes = TLane.Bits(TLane.LessOrEqual(_mayBeHotC, run.Zones.ZoneC(_bed)));
        for (; lanes != 0; lanes &= lanes - 1)
        {
            int lane = BitOperations.TrailingZeroCount(lanes);
            if (run.Failures[lane] is null)
            {
                _hours[lane] += _sleepers[lane].IsHot(State(run, lane)) ? 1 : 0;
            }
        }
    }

    /// <summary>Hot hours of a lane.</summary>
    public int Of(int lane) => _hours[lane];

    private ComfortState State(VanRun<TLane> run, int lane)
    {
        Sleeper sleeper = _sleepers[lane];
        double airC = LaneNumbers.At(ref run.Zones.ZoneC(_bed), lane);
        double sum = 0;
        double areaM2 = 0;
        foreach (Radiator radiator in sleeper.Radiators)
        {
            double faceC;
            if (radiator.ToSkinM2KPerW is double toSkin)
            {
                double skinC = LaneNumbers.At(ref run.Zones.Lining(_batch.LiningSlot(lane, radiator.Index)).SkinC, lane);
                faceC = InnerFaces.LiningC(airC, skinC, toSkin, radiator.InsideM2KPerW);
            }
            else
            {
                faceC = LaneNumbers.At(ref run.Zones.Face(_batch.FaceSlot(lane, radiator.Index)).SurfaceC, lane);
            }

            sum += radiator.AreaM2 * faceC;
            areaM2 += radiator.AreaM2;
        }

        TLane vapourPa = MoistAir.VapourPressurePa(run.Zones.HumidityRatio(_bed), TLane.Of(run.Zones.PressurePa));
        return new ComfortState(
            airC,
            areaM2 == 0 ? airC : sum / areaM2,
            Math.Min(sleeper.MostMPerS, sleeper.Air.SpeedMPerS(run.Air, lane)),
            LaneNumbers.At(ref vapourPa, lane),
            NightHeat.SleepingMet,
            sleeper.Clo);
    }

    // Glass, metal or a lining of the bed's zone; a lining has a resistance to the skin.
    private readonly record struct Radiator(int Index, double? ToSkinM2KPerW, double InsideM2KPerW, double AreaM2);

    private sealed class Sleeper
    {
        private readonly ComfortState _still;
        private readonly double _hotSetC;

        public Sleeper(NightModel model, int bed)
        {
            double thresholdC = model.Assumed["hot-night-threshold"];
            Clo = model.Assumed["night-clothing"];
            MostMPerS = model.Assumed["breeze-most"];
            MayBeHotC = thresholdC - NightHeat.CertainlyCoolerByK;
            _still = CoolingEffect.StillAt(thresholdC, NightHeat.SleepingMet, Clo);
            _hotSetC = NightHeat.HotSetC(thresholdC, Clo);
            Air = new BedAir(model);
            int firstLining = model.Surfaces.Count(surface => !VanModel.IsLining(surface.Part));
            Radiators =
            [
                .. model.Surfaces.Select((surface, k) => (surface, k)).Where(pair => InnerFaces.Radiates(pair.surface, bed)).Select(pair => pair.k < firstLining
                    ? new Radiator(pair.k, null, 0, pair.surface.AreaM2)
                    : new Radiator(pair.k - firstLining, InnerFaces.ToSkinM2KPerW(model, pair.surface.Part), pair.surface.Path.InsideM2KPerW, pair.surface.AreaM2)),
            ];
        }

        public double Clo { get; }

        public double MostMPerS { get; }

        public double MayBeHotC { get; }

        public BedAir Air { get; }

        public Radiator[] Radiators { get; }

        public bool IsHot(in ComfortState state) => NightHeat.SurelyHot(state, _still) ?? NightHeat.SetC(state) > _hotSetC;
    }
}
