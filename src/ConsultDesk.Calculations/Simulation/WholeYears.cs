using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Writes the years of many vans down and reads each when it has run; what a year was written to is lent to the next one of its size.</summary>
/// <param name="read">Takes what is needed out of a year, by the van's place among all.</param>
internal sealed class WholeYears<T>(Func<int, VanModel, YearSeries, T> read) : IYearReading<T>
{
    private readonly Func<int, VanModel, YearSeries, T> _read = read;

    // Rooms for years that nobody reads any more, the one given back last at the end.
    private readonly List<((int Zones, int Surfaces, int Skins) Size, YearSeries Series)> _freeRooms = [];

    /// <inheritdoc/>
    public IReadOnlyList<(int FromDay, int Days)> Spells { get; } = [(0, YearWeather.Days)];

    /// <inheritdoc/>
    public ILaneReading<TLane, T> Of<TLane>(VanBatch<TLane> batch, int[] indices)
        where TLane : struct, ILane<TLane> => new Written<TLane>(this, batch, indices);

    private static (int Zones, int Surfaces, int Skins) Size(VanModel van) => (van.ZoneCount, van.FirstLining, van.SkinCount + (van.Mattress is null ? 0 : 1));

    // A year takes some megabytes. For each new room a free one of another size is let go, so that there are never more than vans under way.
    private YearSeries Room(VanModel van)
    {
        lock (_freeRooms)
        {
            int at = _freeRooms.FindLastIndex(room => room.Size == Size(van));
            if (at >= 0)
            {
                YearSeries room = _freeRooms[at].Series;
                _freeRooms.RemoveAt(at);
                return room;
            }

            if (_freeRooms.Count > 0)
            {
                _freeRooms.RemoveAt(0);
            }
        }

        return YearSeries.Of(van);
    }

    private void GiveBack(VanModel van, YearSeries room)
    {
        lock (_freeRooms)
        {
            _freeRooms.Add((Size(van), room));
        }
    }

    private sealed class Written<TLane> : ILaneReading<TLane, T>
        where TLane : struct, ILane<TLane>
    {
        private readonly WholeYears<T> _years;
        private readonly VanModel[] _vans;
        private readonly int[] _indices;
        private readonly YearSeries?[] _series;
        private readonly YearWriter<TLane> _writer;

        public Written(WholeYears<T> years, VanBatch<TLane> batch, int[] indices)
        {
            _years = years;
            _vans = [.. batch.Vans.Take(batch.Used)];
            _indices = indices;
            YearSeries[] rooms = [.. _vans.Select(years.Room)];
            _series = [.. rooms];
            _writer = new YearWriter<TLane>(batch, rooms);
        }

        public void Begin(VanRun<TLane> run, int firstHour) => _writer.Begin(run, firstHour);

        public void Hour(VanRun<TLane> run, int hour, DaySlot slot) => _writer.Hour(run, hour, slot);

        public void End(VanRun<TLane> run) => _writer.End(run);

        public T Result(int lane) => _years._read(_indices[lane], _vans[lane], _series[lane]!);

        public void Dispose()
        {
            for (int lane = 0; lane < _vans.Length; lane++)
            {
                if (_series[lane] is YearSeries room)
                {
                    _series[lane] = null;
                    _years.GiveBack(_vans[lane], room);
                }
            }
        }
    }
}
