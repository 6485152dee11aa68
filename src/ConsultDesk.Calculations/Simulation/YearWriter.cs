using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Writes down the hours of vans that are run side by side, each into its own series.</summary>
/// <remarks>
/// A series has a list for each number, so an hour's numbers lie a year's hours apart in memory. A day is noted first, hour by hour and all vans at
/// once, and then handed over list by list, twenty-four numbers side by side.
/// </remarks>
internal sealed class YearWriter<TLane> : IHourReader<TLane>
    where TLane : struct, ILane<TLane>
{
    private const int HoursOfDay = 24;

    private readonly VanBatch<TLane> _batch;
    private readonly YearSeries[] _series;
    private readonly BedAir[] _beds;
    private readonly Target[] _targets;
    private readonly int _numbers;
    private readonly Aligned<TLane> _day;
    private TLane _furnishingRanOffKg;

    public YearWriter(VanBatch<TLane> batch, YearSeries[] series)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(series.Length, batch.Used, nameof(series));
        _batch = batch;
        _series = series;
        _beds = [.. batch.Vans.Take(batch.Used).Select(van => new BedAir(van.Night))];
        List<Target> targets = [];
        _numbers = AddTargets(targets);
        _targets = [.. targets];
        _day = VanBatch<TLane>.Records<TLane>(HoursOfDay * _numbers);
    }

    /// <inheritdoc/>
    public void Begin(VanRun<TLane> run, int firstHour)
    {
        run.ClearSums();
        run.Zones.ClearFilmSums();
        _furnishingRanOffKg = TLane.Zero;
        for (int lane = 0; lane < _batch.Used; lane++)
        {
            VanModel van = _batch.Vans[lane];
            YearSeries series = _series[lane];
            series.FirstHour = firstHour;
            for (int j = 0; j < van.SkinCount; j++)
            {
                ref LiningState<TLane> lining = ref run.Zones.Lining(_batch.LiningSlot(lane, j));
                lining.SkinRanOffKgPerM2 = TLane.With(lining.SkinRanOffKgPerM2, lane, 0);
                series.SkinFilmAtStartKgPerM2[j] = Math.Max(0, lining.SkinKgPerM2[lane] - van.SkinStorageKgPerM2);
            }

            series.Steps = -run.Steps[lane];
            series.NetworkSolves = -run.Air.Solves;
            series.NewtonSteps = -(long)run.Air.NewtonSteps[lane];
        }
    }

    /// <summary>Writes an hour down.</summary>
    public void Hour(VanRun<TLane> run, int hour, DaySlot slot)
    {
        int hourOfDay = hour % HoursOfDay;
        Span<TLane> numbers = _day.Span.Slice(hourOfDay * _numbers, _numbers);
        int next = NoteZones(run, numbers);
        next = NoteFaces(run, numbers, next);
        next = NoteSkins(run, numbers, next);
        NoteWhole(run, numbers, next, slot.Asleep);
        foreach (YearSeries series in _series)
        {
            series.Occupied[hour] = slot.Occupied;
            series.Asleep[hour] = slot.Asleep;
        }

        run.Zones.ClearFilmSums();
        if (hourOfDay == HoursOfDay - 1)
        {
            HandOver(run, hour - hourOfDay);
        }
    }

    /// <summary>The last hour was written down: totals and balances.</summary>
    public void End(VanRun<TLane> run)
    {
        TLane storedKg = run.Zones.StoredKg();
        TLane storedJ = run.Zones.StoredJ();
        for (int lane = 0; lane < _batch.Used; lane++)
        {
            BalanceSums sums = run.Zones.Sums(lane);
            YearSeries series = _series[lane];
            VanModel van = _batch.Vans[lane];
            for (int j = 0; j < van.SkinCount; j++)
            {
                series.SkinRanOffKgPerM2[j] = run.Zones.Lining(_batch.LiningSlot(lane, j)).SkinRanOffKgPerM2[lane];
            }

            series.FurnishingRanOffKg = _furnishingRanOffKg[lane];
            series.WaterInKg = sums.WaterKg;
            series.DriedKg = sums.DriedKg;
            series.WaterThroughputKg = sums.WaterKg + sums.BroughtKg;
            series.WaterUnaccountedKg = sums.WaterUnaccountedKg(storedKg[lane]);
            series.HeatInJ = sums.GivenJ + sums.SunJ;
            series.HeatThroughputJ = Math.Abs(sums.GivenJ) + sums.SunJ + Math.Abs(sums.LatentJ);
            series.HeatUnaccountedJ = sums.HeatUnaccountedJ(storedJ[lane]);
            series.Steps += run.Steps[lane];
            series.NetworkSolves += run.Air.Solves;
            series.NewtonSteps += (long)run.Air.NewtonSteps[lane];
            series.MostFilmRounds = (int)run.Zones.MostFilmRounds[lane];
        }
    }

    // Where each number of an hour goes, in the order they are noted in; how many there are.
    private int AddTargets(List<Target> targets)
    {
        int number = 0;
        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            int zone = i;
            AddOfAll(series => series.ZoneC, _ => zone);
            AddOfAll(series => series.ZoneVapourPressurePa, _ => zone);
            AddOfAll(series => series.ZoneCarbonDioxideShare, _ => zone);
            AddOfAll(series => series.ZoneAgeS, _ => zone);
        }

        for (int slot = 0; slot < _batch.FaceCount; slot++)
        {
            int Face(int lane) => PlaceOf(_batch.Vans[lane].FirstLining, face => _batch.FaceSlot(lane, face), slot);
            AddOfAll(series => series.SurfaceC, Face);
            AddOfAll(series => series.SurfaceFilmKgPerM2, Face);
            AddOfAll(series => series.SurfaceCondensedKgPerM2, Face);
            AddOfAll(series => series.SurfaceRanOffKgPerM2, Face);
        }

        for (int slot = 0; slot < _batch.LiningCount; slot++)
        {
            AddSkin(lane => PlaceOf(_batch.Vans[lane].SkinCount, lining => _batch.LiningSlot(lane, lining), slot));
        }

        if (_batch.Mattress is not null)
        {
            AddSkin(lane => _batch.Vans[lane].SkinCount);
        }

        AddOfAll(series => series.HeaterW, _ => 0);
        AddOfAll(series => series.HeaterLimitedShare, _ => 0);
        AddOfAll(series => series.MostOxygenUsedShare, _ => 0);
        AddOfAll(series => series.MostCarbonDioxideShare, _ => 0);
        AddOfAll(series => series.FanW, _ => 0);
        AddOfAll(series => series.OutdoorAirM3PerS, _ => 0);
        AddOfAll(series => series.BedAirSpeedMPerS, _ => 0);
        return number;

        void AddSkin(Func<int, int> place)
        {
            AddOfAll(series => series.SkinC, place);
            AddOfAll(series => series.SkinFilmKgPerM2, place);
            AddOfAll(series => series.SkinHumidityShare, place);
        }

        // A van that lacks a face has no place for it.
        void AddOfAll(Func<YearSeries, double[]> list, Func<int, int> place)
        {
            for (int lane = 0; lane < _batch.Used; lane++)
            {
                int at = place(lane);
                if (at >= 0)
                {
                    targets.Add(new Target(number, lane, list(_series[lane]), at * YearSeries.Hours));
                }
            }

            number++;
        }
    }

    private static int PlaceOf(int count, Func<int, int> slotOf, int slot)
    {
        for (int place = 0; place < count; place++)
        {
            if (slotOf(place) == slot)
            {
                return place;
            }
        }

        return -1;
    }

    private int NoteZones(VanRun<TLane> run, Span<TLane> numbers)
    {
        TLane[] age = run.Air.Flow.AgeS();
        TLane pressurePa = TLane.Of(run.Zones.PressurePa);
        int next = 0;
        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            numbers[next++] = run.Zones.ZoneC(i);
            numbers[next++] = MoistAir.VapourPressurePa(run.Zones.HumidityRatio(i), pressurePa);
            numbers[next++] = run.Zones.CarbonDioxide(i);
            numbers[next++] = age[i];
        }

        return next;
    }

    private int NoteFaces(VanRun<TLane> run, Span<TLane> numbers, int next)
    {
        for (int slot = 0; slot < _batch.FaceCount; slot++)
        {
            ref FaceState<TLane> face = ref run.Zones.Face(slot);
            numbers[next++] = face.SurfaceC;
            numbers[next++] = face.FilmKgPerM2;
            numbers[next++] = face.CondensedKgPerM2;
            numbers[next++] = face.RanOffKgPerM2;
        }

        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            _furnishingRanOffKg += run.Zones.Furnishing(i).RanOffKgPerM2 * _batch.FurnishingM2(i);
        }

        return next;
    }

    private int NoteSkins(VanRun<TLane> run, Span<TLane> numbers, int next)
    {
        for (int slot = 0; slot < _batch.LiningCount; slot++)
        {
            ref LiningState<TLane> lining = ref run.Zones.Lining(slot);
            next = NoteSkin(numbers, next, lining.SkinC, lining.SkinKgPerM2, _batch.SkinStorageKgPerM2);
        }

        if (_batch.Mattress is MattressLanes<TLane> mattress)
        {
            next = NoteSkin(numbers, next, run.Zones.WholeVan.MattressC, run.Zones.WholeVan.MattressKgPerM2, mattress.StorageKgPerM2);
        }

        return next;
    }

    private static int NoteSkin(Span<TLane> numbers, int next, TLane skinC, TLane waterKgPerM2, TLane storageKgPerM2)
    {
        numbers[next++] = skinC;
        numbers[next++] = TLane.Max(TLane.Zero, waterKgPerM2 - storageKgPerM2);
        numbers[next++] = TLane.Min(TLane.Of(1), waterKgPerM2 / storageKgPerM2);
        return next;
    }

    private void NoteWhole(VanRun<TLane> run, Span<TLane> numbers, int next, bool asleep)
    {
        TLane hourS = TLane.Of(3600);
        numbers[next++] = run.HourHeaterJ / hourS;
        numbers[next++] = run.HourLimitedS / hourS;
        numbers[next++] = run.HourOxygenUsed;
        numbers[next++] = run.HourCarbonDioxide;
        numbers[next++] = run.HourFanJ / hourS;
        numbers[next++] = run.HourAirM3 / hourS;
        ref TLane speedMPerS = ref numbers[next];
        speedMPerS = TLane.Zero;
        for (int lane = 0; asleep && lane < _batch.Used; lane++)
        {
            if (run.Failures[lane] is null)
            {
                LaneNumbers.At(ref speedMPerS, lane) = _beds[lane].SpeedMPerS(run.Air, lane);
            }
        }
    }

    // The day that begins with an hour of the year, of the vans that have not failed.
    private void HandOver(VanRun<TLane> run, int firstHour)
    {
        Span<double> day = MemoryMarshal.Cast<TLane, double>(_day.Span);
        int hourApart = _numbers * TLane.Count;
        foreach (ref readonly Target target in _targets.AsSpan())
        {
            if (run.Failures[target.Lane] is not null)
            {
                continue;
            }

            Span<double> list = target.List.AsSpan(target.At + firstHour, HoursOfDay);
            int from = (target.Number * TLane.Count) + target.Lane;
            for (int hour = 0; hour < list.Length; hour++, from += hourApart)
            {
                list[hour] = day[from];
            }
        }
    }

    // Number of an hour and lane it is taken from; list and place of its first hour of the year.
    private readonly record struct Target(int Number, int Lane, double[] List, int At);
}
