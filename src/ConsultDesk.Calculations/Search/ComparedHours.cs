using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Reads what a search compares out of the hours of vans side by side while they run, so that no year is written down. The numbers are those the
/// assessment of each van has, to the bit.
/// </summary>
internal sealed class ComparedHours<TLane> : ILaneReading<TLane, ComparedYear>
    where TLane : struct, ILane<TLane>
{
    private readonly VanBatch<TLane> _batch;
    private readonly int _bed;
    private readonly int _living;
    private readonly TLane[] _wetHours;
    private readonly HeaterDays[] _heater;
    private readonly int[] _coldHours;
    private readonly HotHours<TLane> _hot;
    private readonly MouldLanes<TLane> _mould;
    private int _hours;

    public ComparedHours(VanBatch<TLane> batch)
    {
        _batch = batch;
        _bed = batch.Vans[0].Night.FirstOf(Vehicle.ZoneKind.Sleeping);
        _living = batch.Vans[0].Night.FirstOf(Vehicle.ZoneKind.Living);
        _wetHours = new TLane[batch.FaceCount];
        _heater = [.. batch.Vans.Take(batch.Used).Select(van => new HeaterDays(van.Night))];
        _coldHours = new int[batch.Used];
        _hot = new HotHours<TLane>(batch, _bed);
        _mould = new MouldLanes<TLane>(batch);
    }

    /// <inheritdoc/>
    public void Begin(VanRun<TLane> run, int firstHour)
    {
    }

    /// <inheritdoc/>
    public void Hour(VanRun<TLane> run, int hour, DaySlot slot)
    {
        TLane film = TLane.Of(YearReport.FilmKgPerM2);
        TLane one = TLane.Of(1);
        for (int face = 0; face < _wetHours.Length; face++)
        {
            _wetHours[face] += TLane.And(TLane.LessOrEqual(film, run.Zones.Face(face).FilmKgPerM2), one);
        }

        TLane hourS = TLane.Of(3600);
        TLane heaterW = run.HourHeaterJ / hourS;
        TLane fanW = run.HourFanJ / hourS;
        for (int lane = 0; lane < _heater.Length; lane++)
        {
            _heater[lane].Add(hour, LaneNumbers.At(ref heaterW, lane), LaneNumbers.At(ref fanW, lane));
            _coldHours[lane] += ComparedYear.IsCold(
                _batch.Vans[lane].Night.Design.Heater,
                slot.Asleep,
                slot.Occupied,
                (float)LaneNumbers.At(ref run.Zones.ZoneC(_bed), lane),
                (float)LaneNumbers.At(ref run.Zones.ZoneC(_living), lane)) ? 1 : 0;
        }

        if (slot.Asleep)
        {
            _hot.Asleep(run);
        }

        _mould.Hour(run, _hours++);
    }

    /// <inheritdoc/>
    public void End(VanRun<TLane> run)
    {
    }

    /// <inheritdoc/>
    public void Dispose() => _mould.GiveBack();

    /// <inheritdoc/>
    public ComparedYear Result(int lane)
    {
        VanModel van = _batch.Vans[lane];
        HeaterDays heater = _heater[lane];
        double wetHoursM2 = 0;
        for (int k = 0; k < van.FirstLining; k++)
        {
            wetHoursM2 += (int)_wetHours[_batch.FaceSlot(lane, k)][lane] * van.FaceM2[k];
        }

        return new ComparedYear(
            wetHoursM2,
            MouldHours.Worst(_mould.Of(lane)).Select(surface => surface.ThirdYear).DefaultIfEmpty(0).Max(),
            _coldHours[lane],
            _hot.Of(lane),
            heater.Fuel(heater.HeatJ.Sum()),
            Energy.FromJoules(heater.ElectricJ.Sum()),
            Energy.FromJoules(heater.ElectricJ.Max()));
    }
}

/// <summary>Reads years of many vans as <see cref="ComparedHours{TLane}"/> does.</summary>
internal sealed class ComparedYears : IYearReading<ComparedYear>
{
    /// <inheritdoc/>
    public IReadOnlyList<(int FromDay, int Days)> Spells { get; } = [(0, Climate.YearWeather.Days)];

    /// <inheritdoc/>
    public ILaneReading<TLane, ComparedYear> Of<TLane>(VanBatch<TLane> batch, int[] indices)
        where TLane : struct, ILane<TLane> => new ComparedHours<TLane>(batch);
}
