using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Writes down the hours of vans that are run side by side, each into its own series.</summary>
internal sealed class YearWriter<TLane>
    where TLane : struct, ILane<TLane>
{
    private readonly VanBatch<TLane> _batch;
    private readonly YearSeries[] _series;
    private readonly BedAir[] _beds;

    public YearWriter(VanBatch<TLane> batch, YearSeries[] series)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(series.Length, batch.Used, nameof(series));
        _batch = batch;
        _series = series;
        _beds = [.. batch.Vans.Take(batch.Used).Select(van => new BedAir(van.Night))];
    }

    /// <summary>The first hour that is written down comes next.</summary>
    public void Begin(VanRun<TLane> run, int firstHour)
    {
        run.ClearSums();
        run.Zones.ClearFilmSums();
        for (int lane = 0; lane < _batch.Used; lane++)
        {
            VanModel van = _batch.Vans[lane];
            YearSeries series = _series[lane];
            series.FirstHour = firstHour;
            series.FurnishingRanOffKg = 0;
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

    /// <summary>Writes an hour.</summary>
    public void Write(VanRun<TLane> run, int hour, DaySlot slot)
    {
        for (int lane = 0; lane < _batch.Used; lane++)
        {
            if (run.Failures[lane] is null)
            {
                WriteZones(run, lane, hour);
                WriteSurfaces(run, lane, hour);
                WriteSkins(run, lane, hour);
                WriteWhole(run, lane, hour, slot);
            }
        }

        run.Zones.ClearFilmSums();
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

    private void WriteZones(VanRun<TLane> run, int lane, int hour)
    {
        YearSeries series = _series[lane];
        TLane[] age = run.Air.Flow.AgeS();
        for (int i = 0, at = hour; i < _batch.ZoneCount; i++, at += YearSeries.Hours)
        {
            series.ZoneC[at] = LaneNumbers.At(ref run.Zones.ZoneC(i), lane);
            series.ZoneVapourPressurePa[at] = MoistAir.VapourPressurePa(LaneNumbers.At(ref run.Zones.HumidityRatio(i), lane), run.Zones.PressurePa);
            series.ZoneCarbonDioxideShare[at] = LaneNumbers.At(ref run.Zones.CarbonDioxide(i), lane);
            series.ZoneAgeS[at] = LaneNumbers.At(ref age[i], lane);
        }
    }

    private void WriteSurfaces(VanRun<TLane> run, int lane, int hour)
    {
        YearSeries series = _series[lane];
        VanModel van = _batch.Vans[lane];
        for (int k = 0, at = hour; k < van.FirstLining; k++, at += YearSeries.Hours)
        {
            ref FaceState<TLane> face = ref run.Zones.Face(_batch.FaceSlot(lane, k));
            series.SurfaceC[at] = LaneNumbers.At(ref face.SurfaceC, lane);
            series.SurfaceFilmKgPerM2[at] = LaneNumbers.At(ref face.FilmKgPerM2, lane);
            series.SurfaceCondensedKgPerM2[at] = LaneNumbers.At(ref face.CondensedKgPerM2, lane);
            series.SurfaceRanOffKgPerM2[at] = LaneNumbers.At(ref face.RanOffKgPerM2, lane);
        }

        for (int i = 0; i < _batch.ZoneCount; i++)
        {
            series.FurnishingRanOffKg += LaneNumbers.At(ref run.Zones.Furnishing(i).RanOffKgPerM2, lane) * van.FurnishingM2[i];
        }
    }

    private void WriteSkins(VanRun<TLane> run, int lane, int hour)
    {
        YearSeries series = _series[lane];
        VanModel van = _batch.Vans[lane];
        int at = hour;
        for (int j = 0; j < van.SkinCount; j++, at += YearSeries.Hours)
        {
            ref LiningState<TLane> lining = ref run.Zones.Lining(_batch.LiningSlot(lane, j));
            double waterKgPerM2 = LaneNumbers.At(ref lining.SkinKgPerM2, lane);
            series.SkinC[at] = LaneNumbers.At(ref lining.SkinC, lane);
            series.SkinFilmKgPerM2[at] = Math.Max(0, waterKgPerM2 - van.SkinStorageKgPerM2);
            series.SkinHumidityShare[at] = Math.Min(1, waterKgPerM2 / van.SkinStorageKgPerM2);
        }

        if (van.Mattress is Mattress mattress)
        {
            double waterKgPerM2 = run.Zones.WholeVan.MattressKgPerM2[lane];
            series.SkinC[at] = run.Zones.WholeVan.MattressC[lane];
            series.SkinFilmKgPerM2[at] = Math.Max(0, waterKgPerM2 - mattress.StorageKgPerM2);
            series.SkinHumidityShare[at] = Math.Min(1, waterKgPerM2 / mattress.StorageKgPerM2);
        }
    }

    private void WriteWhole(VanRun<TLane> run, int lane, int hour, in DaySlot slot)
    {
        YearSeries series = _series[lane];
        series.HeaterW[hour] = run.HourHeaterJ[lane] / 3600;
        series.HeaterLimitedShare[hour] = run.HourLimitedS[lane] / 3600;
        series.MostOxygenUsedShare[hour] = run.HourOxygenUsed[lane];
        series.MostCarbonDioxideShare[hour] = run.HourCarbonDioxide[lane];
        series.FanW[hour] = run.HourFanJ[lane] / 3600;
        series.OutdoorAirM3PerS[hour] = run.HourAirM3[lane] / 3600;
        series.BedAirSpeedMPerS[hour] = slot.Asleep ? _beds[lane].SpeedMPerS(run.Air, lane) : 0;
        series.Occupied[hour] = slot.Occupied;
        series.Asleep[hour] = slot.Asleep;
    }
}
