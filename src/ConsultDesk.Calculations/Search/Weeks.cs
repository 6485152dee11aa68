using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Some days of the year, run as the year is and as many vans side by side: the coldest, the dampest mild and the warmest, with the ten days before each. About an eighth of a year's work.
/// Safe to use from several threads.
/// </summary>
internal sealed class Weeks
{
    /// <summary>Days of each spell that are written down. Our judgement.</summary>
    public const int Days = 6;

    private const double WarmC = 24;

    private readonly YearWeather _weather;
    private readonly double _glassAndMetalM2;
    private readonly ImmutableArray<int> _from;

    public Weeks(YearWeather weather, double glassAndMetalM2)
    {
        _weather = weather;
        _glassAndMetalM2 = glassAndMetalM2;
        double[] meanC = new double[YearWeather.Days];
        double[] damp = new double[YearWeather.Days];
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            meanC[hour / 24] += weather.TemperatureC[hour] / 24;
            damp[hour / 24] += weather.TemperatureC[hour] is > 0 and < 15 ? weather.HumidityShare[hour] : 0;
        }

        _from = [First(meanC.Select(value => -value)), First(damp), First(meanC)];
    }

    /// <summary>First days of the spells.</summary>
    public ImmutableArray<int> From => _from;

    /// <summary>Numbers of the spells, five for each, of designs without what comes later; null where one does not balance.</summary>
    public ImmutableArray<double[]?> Of(IReadOnlyList<Design> designs, int threads, CancellationToken cancellation)
    {
        YearOrder[] orders = [.. designs.Select(design => new YearOrder(design, _weather, Assumptions.Likely))];
        return [.. YearBatch.Run(orders, new Reading(this), threads, cancellation: cancellation).Select(outcome => outcome.Result)];
    }

    private sealed class Reading(Weeks weeks) : IYearReading<double[]>
    {
        private readonly double _glassAndMetalM2 = weeks._glassAndMetalM2;

        public IReadOnlyList<(int FromDay, int Days)> Spells { get; } = [.. weeks._from.Select(from => (from, Weeks.Days))];

        public ILaneReading<TLane, double[]> Of<TLane>(VanBatch<TLane> batch, int[] indices)
            where TLane : struct, ILane<TLane> => new Hours<TLane>(batch, _glassAndMetalM2);
    }

    private sealed class Hours<TLane> : ILaneReading<TLane, double[]>
        where TLane : struct, ILane<TLane>
    {
        private readonly VanBatch<TLane> _batch;
        private readonly double _glassAndMetalM2;
        private readonly int _bed;
        private readonly int _living;
        private readonly TLane _nightC;
        private readonly TLane _dayC;
        private readonly TLane[] _skinShare;
        private readonly List<TLane> _numbers = [];
        private TLane _wetM2;
        private TLane _heatKwh;
        private TLane _cold;
        private TLane _warm;
        private TLane _damp;

        public Hours(VanBatch<TLane> batch, double glassAndMetalM2)
        {
            _batch = batch;
            _glassAndMetalM2 = glassAndMetalM2;
            _bed = batch.Vans[0].Night.FirstOf(ZoneKind.Sleeping);
            _living = batch.Vans[0].Night.FirstOf(ZoneKind.Living);
            _nightC = batch.Lanes(van => van.Night.Design.Heater.NightSetPoint.DegreesCelsius - 1);
            _dayC = batch.Lanes(van => van.Night.Design.Heater.DaySetPoint.DegreesCelsius - 1);
            _skinShare = new TLane[batch.LiningCount];
            for (int lane = 0; lane < batch.Used; lane++)
            {
                for (int j = 0; j < batch.Vans[lane].SkinCount; j++)
                {
                    ref TLane share = ref _skinShare[batch.LiningSlot(lane, j)];
                    share = TLane.With(share, lane, 1.0 / batch.Vans[lane].SkinCount);
                }
            }
        }

        public void Begin(VanRun<TLane> run, int firstHour) => _wetM2 = _heatKwh = _cold = _warm = _damp = TLane.Zero;

        public void Hour(VanRun<TLane> run, int hour, DaySlot slot)
        {
            TLane film = TLane.Of(YearReport.FilmKgPerM2);
            for (int face = 0; face < _batch.FaceCount; face++)
            {
                _wetM2 += TLane.And(TLane.LessOrEqual(film, run.Zones.Face(face).FilmKgPerM2), _batch.FaceM2(face));
            }

            _heatKwh += run.HourHeaterJ * TLane.Of(1 / 3.6e6);
            TLane bedC = run.Zones.ZoneC(_bed);
            if (slot.Asleep)
            {
                _cold += TLane.And(TLane.Less(bedC, _nightC), TLane.Of(1));
                _warm += TLane.Max(TLane.Zero, bedC - TLane.Of(WarmC));
            }
            else if (slot.Occupied)
            {
                _cold += TLane.And(TLane.Less(run.Zones.ZoneC(_living), _dayC), TLane.Of(1));
            }

            for (int skin = 0; skin < _skinShare.Length; skin++)
            {
                TLane humidity = TLane.Min(TLane.Of(1), run.Zones.Lining(skin).SkinKgPerM2 * _batch.PerSkinStorage);
                _damp = TLane.MultiplyAdd(humidity, _skinShare[skin], _damp);
            }
        }

        public void End(VanRun<TLane> run) =>
            _numbers.AddRange([_glassAndMetalM2 > 0 ? _wetM2 * TLane.Of(1 / _glassAndMetalM2) : TLane.Zero, _heatKwh, _cold, _warm, _damp]);

        public double[] Result(int lane) => [.. _numbers.Select(number => number[lane])];

        public void Dispose()
        {
        }
    }

    // First day of the spell with the highest sum, the year taken round.
    private static int First(IEnumerable<double> ofDay)
    {
        double[] days = [.. ofDay];
        return Enumerable.Range(0, days.Length).MaxBy(day => Enumerable.Range(day, Days).Sum(at => days[at % days.Length]));
    }
}
