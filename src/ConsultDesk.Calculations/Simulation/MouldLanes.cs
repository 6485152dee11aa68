using System.Numerics;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Notes the hours in which mould grows in vans side by side while they run, on the surfaces <see cref="MouldReport"/> looks at. All vans are asked at
/// once whether any surface may be damp, and only those that are one by one.
/// </summary>
internal sealed class MouldLanes<TLane>
    where TLane : struct, ILane<TLane>
{
    // Below what any material needs, by more than the table of saturation is off and than a temperature worked out in another order.
    private const double SurelyDryShare = 0.7998;

    // So far from every temperature of a face that a lane without one is neither coldest nor warmest.
    private const double AwayC = 1000;

    // Warmer than this a face is asked by itself whether it is beyond the model's range.
    private const double SurelyWithinC = 49.9;

    private readonly VanBatch<TLane> _batch;
    private readonly TLane[] _toSkinShare;
    private readonly TLane[] _noFace;
    private readonly TLane[] _leastSkinKgPerM2;
    private readonly MouldHours?[][] _faces;
    private readonly MouldHours?[][] _skins;
    private readonly double[][] _toSkin;
    private readonly MouldHours[] _mattress;
    private readonly TLane _leastMattressKgPerM2;
    private readonly uint _used;

    /// <summary>Clean vans.</summary>
    public MouldLanes(VanBatch<TLane> batch)
    {
        _batch = batch;
        _used = (1u << batch.Used) - 1;
        _toSkinShare = new TLane[batch.LiningCount];
        _noFace = [.. Enumerable.Repeat(TLane.Of(AwayC), batch.LiningCount)];
        _leastSkinKgPerM2 = [.. Enumerable.Repeat(TLane.Of(double.PositiveInfinity), batch.LiningCount)];
        _faces = new MouldHours?[batch.Used][];
        _skins = new MouldHours?[batch.Used][];
        _toSkin = new double[batch.Used][];
        for (int lane = 0; lane < batch.Used; lane++)
        {
            AddLinings(lane);
        }

        _mattress = batch.Mattress is null ? [] : [.. batch.Vans.Take(batch.Used).Select(van => MouldReport.OfMattress(van.Night))];
        _leastMattressKgPerM2 = batch.Mattress is null ? default : TLane.Of(SurelyDryShare) * batch.Mattress.StorageKgPerM2;
    }

    /// <summary>An hour has run.</summary>
    /// <param name="run">The vans at its end.</param>
    /// <param name="hour">Hours since the year began.</param>
    public void Hour(VanRun<TLane> run, int hour)
    {
        for (int zone = 0; zone < _batch.ZoneCount; zone++)
        {
            int from = zone == 0 ? 0 : _batch.LiningEnd[zone - 1];
            if (from < _batch.LiningEnd[zone])
            {
                Linings(run, hour, zone, from, _batch.LiningEnd[zone]);
            }
        }

        if (_batch.Mattress is MattressLanes<TLane> mattress)
        {
            ref WholeState<TLane> whole = ref run.Zones.WholeVan;
            TLane asked = TLane.Or(TLane.LessOrEqual(_leastMattressKgPerM2, whole.MattressKgPerM2), TLane.Less(TLane.Of(SurelyWithinC), whole.MattressC));
            TLane storageKgPerM2 = mattress.StorageKgPerM2;
            for (uint lanes = TLane.Bits(asked) & _used; lanes != 0; lanes &= lanes - 1)
            {
                int lane = BitOperations.TrailingZeroCount(lanes);
                Skin(_mattress[lane], hour, LaneNumbers.At(ref whole.MattressC, lane), LaneNumbers.At(ref whole.MattressKgPerM2, lane), LaneNumbers.At(ref storageKgPerM2, lane));
            }
        }
    }

    /// <summary>Gives all room back.</summary>
    public void GiveBack()
    {
        for (int lane = 0; lane < _faces.Length; lane++)
        {
            foreach (MouldHours surface in Of(lane))
            {
                surface.GiveBack();
            }
        }
    }

    /// <summary>Surfaces of a lane in the order <see cref="MouldReport"/> looks at them.</summary>
    public IEnumerable<MouldHours> Of(int lane)
    {
        for (int lining = 0; lining < _batch.Vans[lane].SkinCount; lining++)
        {
            int slot = _batch.LiningSlot(lane, lining);
            if (_faces[lane][slot] is MouldHours face)
            {
                yield return face;
            }

            if (_skins[lane][slot] is MouldHours skin)
            {
                yield return skin;
            }
        }

        if (_mattress.Length > 0)
        {
            yield return _mattress[lane];
        }
    }

    private void AddLinings(int lane)
    {
        VanModel van = _batch.Vans[lane];
        _faces[lane] = new MouldHours?[_batch.LiningCount];
        _skins[lane] = new MouldHours?[_batch.LiningCount];
        _toSkin[lane] = new double[_batch.LiningCount];
        for (int lining = 0; lining < van.SkinCount; lining++)
        {
            NightSurface surface = van.Night.Surfaces[van.FirstLining + lining];
            int slot = _batch.LiningSlot(lane, lining);
            double toSkin = InnerFaces.ToSkinM2KPerW(van.Night, surface.Part);
            _toSkin[lane][slot] = toSkin;
            _faces[lane][slot] = MouldReport.OfFace(van.Night, surface);
            _skins[lane][slot] = MouldReport.OfSkin(van.Night, surface);
            if (_faces[lane][slot] is not null)
            {
                _toSkinShare[slot] = TLane.With(_toSkinShare[slot], lane, toSkin / (toSkin + MouldReport.ShelteredInsideM2KPerW));
                _noFace[slot] = TLane.With(_noFace[slot], lane, 0);
            }

            if (_skins[lane][slot] is not null)
            {
                _leastSkinKgPerM2[slot] = TLane.With(_leastSkinKgPerM2[slot], lane, SurelyDryShare * van.SkinStorageKgPerM2);
            }
        }
    }

    // Of one zone. The coldest face is the dampest.
    private void Linings(VanRun<TLane> run, int hour, int zone, int from, int to)
    {
        TLane roomC = run.Zones.ZoneC(zone);
        TLane within = TLane.Of(SurelyWithinC);
        TLane coldestC = TLane.Of(AwayC);
        TLane warmestC = TLane.Of(-AwayC);
        for (int slot = from; slot < to; slot++)
        {
            ref LiningState<TLane> lining = ref run.Zones.Lining(slot);
            TLane skinC = lining.SkinC;
            TLane faceC = TLane.MultiplyAdd(roomC - skinC, _toSkinShare[slot], skinC);
            coldestC = TLane.Min(coldestC, faceC + _noFace[slot]);
            warmestC = TLane.Max(warmestC, faceC - _noFace[slot]);
            TLane damp = TLane.And(TLane.LessOrEqual(_leastSkinKgPerM2[slot], lining.SkinKgPerM2), TLane.Less(TLane.Zero, skinC));
            uint lanes = TLane.Bits(TLane.Or(damp, TLane.Less(within, skinC))) & _used;
            if (lanes != 0)
            {
                Skins(ref lining, slot, hour, lanes);
            }
        }

        TLane vapourPa = MoistAir.VapourPressurePa(run.Zones.HumidityRatio(zone), TLane.Of(run.Zones.PressurePa));
        TLane dampestPa = SaturationTable.Pa(TLane.Min(TLane.Max(coldestC, TLane.Zero), within), out _);
        uint asked = TLane.Bits(TLane.Or(TLane.Less(TLane.Of(SurelyDryShare) * dampestPa, vapourPa), TLane.Less(within, warmestC))) & _used;
        for (; asked != 0; asked &= asked - 1)
        {
            int lane = BitOperations.TrailingZeroCount(asked);
            Faces(run, hour, lane, LaneNumbers.At(ref roomC, lane), LaneNumbers.At(ref vapourPa, lane), from, to);
        }
    }

    private void Faces(VanRun<TLane> run, int hour, int lane, double roomC, double vapourPa, int from, int to)
    {
        MouldHours?[] faces = _faces[lane];
        double[] toSkin = _toSkin[lane];
        for (int slot = from; slot < to; slot++)
        {
            if (faces[slot] is MouldHours face)
            {
                double skinC = LaneNumbers.At(ref run.Zones.Lining(slot).SkinC, lane);
                face.Face(hour, InnerFaces.LiningC(roomC, skinC, toSkin[slot], MouldReport.ShelteredInsideM2KPerW), vapourPa);
            }
        }
    }

    private void Skins(ref LiningState<TLane> lining, int slot, int hour, uint lanes)
    {
        for (; lanes != 0; lanes &= lanes - 1)
        {
            int lane = BitOperations.TrailingZeroCount(lanes);
            if (_skins[lane][slot] is MouldHours skin)
            {
                Skin(skin, hour, LaneNumbers.At(ref lining.SkinC, lane), LaneNumbers.At(ref lining.SkinKgPerM2, lane), _batch.Vans[lane].SkinStorageKgPerM2);
            }
        }
    }

    private static void Skin(MouldHours surface, int hour, double celsius, double waterKgPerM2, double storageKgPerM2) =>
        surface.Any(hour, celsius, 100 * Math.Min(1, waterKgPerM2 / storageKgPerM2));
}
