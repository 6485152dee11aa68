using System.Buffers;
using ConsultDesk.Calculations.Comfort;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The hours in which mould grows on a surface, noted in the order they come from the start of its year; what lies between them is dry. Kept until
/// the year has run, because the index is that of a year which comes again and again. Its room is lent and must be given back.
/// </summary>
internal sealed class MouldHours
{
    // Below what any material needs, by more than the table of saturation is off.
    private const double SurelyDryPercent = 79.99;

    private const int FirstRoom = 128;

    // The year repeats until the third.
    private const int Years = 3;

    private readonly double _decline;
    private GrowingHour[] _hours = [];
    private int _count;
    private int _skipped;
    private double _largest;
    private MouldState _state;

    // What it adds to growth is worked out when it is first asked for and is not a number before.
    private struct GrowingHour
    {
        public int Place;
        public double Celsius;
        public double Percent;
        public double Largest;
        public double Growth;
    }

    /// <summary>A clean surface.</summary>
    /// <param name="place">Where it is.</param>
    /// <param name="name">The surface in words.</param>
    /// <param name="material">Its class.</param>
    /// <param name="decline">Decline of mould over that on pine.</param>
    public MouldHours(MouldPlace place, string name, MouldSensitivity material, double decline) => (Place, Name, Material, _decline) = (place, name, material, decline);

    /// <summary>Where it is.</summary>
    public MouldPlace Place { get; }

    /// <summary>The surface in words.</summary>
    public string Name { get; }

    /// <summary>How readily it feeds mould.</summary>
    public MouldSensitivity Material { get; }

    /// <summary>Takes an hour of a face before room air. Every hour must be told in which mould may grow or the surface is above the model's range; others need not be.</summary>
    /// <param name="hour">Hours since the year began.</param>
    /// <param name="celsius">Temperature of the face.</param>
    /// <param name="vapourPa">Vapour pressure of the air before it.</param>
    public void Face(int hour, double celsius, double vapourPa)
    {
        // How dry a face is makes no difference where nothing grows: only a damp one is asked of the equation itself, most hours of the
        // year of the table. Nothing grows at or below freezing.
        if (celsius <= 0)
        {
            return;
        }

        double roughPercent = 100 * vapourPa / Air.SaturationTable.Pa(celsius, out _);
        if (roughPercent < SurelyDryPercent && celsius <= MouldIndex.TemperatureRange.Maximum)
        {
            return;
        }

        // Above saturation water lies on it, and the air in its pores is saturated.
        Any(hour, celsius, 100 * Math.Min(1, vapourPa / Air.MoistAir.SaturationPressureOverWaterPa(celsius)));
    }

    /// <summary>Takes an hour by its humidity; see <see cref="Face"/>.</summary>
    /// <param name="hour">Hours since the year began.</param>
    /// <param name="celsius">Temperature of the surface.</param>
    /// <param name="percent">Relative humidity there.</param>
    public void Any(int hour, double celsius, double percent)
    {
        if (celsius > MouldIndex.TemperatureRange.Maximum)
        {
            // Nothing is known above the model's range: steel in the sun grows nothing, and what it kills is not said.
            _skipped++;
        }
        else if (MouldIndex.Grows(celsius, percent, Material))
        {
            if (_count == _hours.Length)
            {
                MoreRoom();
            }

            double largest = MouldIndex.LargestGrowing(celsius, percent, Material);
            _hours[_count++] = new GrowingHour { Place = hour - _skipped, Celsius = celsius, Percent = percent, Largest = largest, Growth = double.NaN };
            _largest = Math.Max(_largest, largest);
        }
    }

    /// <summary>The worst surface of each kind, the worst first; gives all their room back.</summary>
    /// <param name="surfaces">Surfaces whose year has run.</param>
    public static List<MouldSurface> Worst(IEnumerable<MouldHours> surfaces)
    {
        List<MouldSurface> worst = [];
        foreach (IGrouping<MouldPlace, MouldHours> kind in surfaces.GroupBy(surface => surface.Place))
        {
            MouldHours? first = null;
            double firstIndex = 0;
            double thirdYear = -1;
            foreach (MouldHours surface in kind)
            {
                // It never gets beyond the largest index of any of its hours, so it need not be worked out where another is worse.
                if (first is not null && surface._largest < firstIndex)
                {
                    continue;
                }

                double index = surface.NextYear();
                if (first is not null && index == firstIndex)
                {
                    // Of equals the one that is worse later, and the first of those.
                    thirdYear = thirdYear < 0 ? first.Third() : thirdYear;
                    double third = surface.Third();
                    (first, thirdYear) = third > thirdYear ? (surface, third) : (first, thirdYear);
                }
                else if (first is null || index > firstIndex)
                {
                    (first, firstIndex, thirdYear) = (surface, index, -1);
                }
            }

            worst.Add(new MouldSurface(kind.Key, first!.Name, firstIndex, thirdYear < 0 ? first.Third() : thirdYear));
            foreach (MouldHours surface in kind)
            {
                surface.GiveBack();
            }
        }

        return [.. worst.OrderByDescending(surface => surface.Index)];
    }

    // Called after the first year.
    private double Third()
    {
        double highest = 0;
        for (int year = 1; year < Years; year++)
        {
            highest = NextYear();
        }

        return highest;
    }

    // The highest index in a year more.
    private double NextYear()
    {
        // What starts clean and is never damp enough stays clean.
        if (_count == 0)
        {
            return 0;
        }

        int place = 0;
        double highest = 0;
        Span<GrowingHour> hours = _hours.AsSpan(0, _count);
        for (int at = 0; at < hours.Length;)
        {
            ref readonly GrowingHour first = ref hours[at];
            if (first.Place > place)
            {
                // The year before may have ended with more than this one ever has.
                highest = place == 0 ? MouldIndex.Dried(_state, _decline, 1).Index : highest;
                _state = MouldIndex.Dried(_state, _decline, first.Place - place);
            }

            // Hours one after the other with the same largest index, as all saturated ones have, are one spell.
            double growth = 0;
            for (place = first.Place; at < hours.Length && hours[at].Place == place && hours[at].Largest == first.Largest; at++, place++)
            {
                growth += _state.Index < first.Largest ? Growth(ref hours[at]) : 0;
            }

            _state = new MouldState(MouldIndex.Grown(_state.Index, Material, first.Largest, growth), 0);
            highest = Math.Max(highest, _state.Index);
        }

        _state = MouldIndex.Dried(_state, _decline, YearSeries.Hours - _skipped - place);
        return highest;
    }

    private static double Growth(ref GrowingHour hour)
    {
        if (double.IsNaN(hour.Growth))
        {
            hour.Growth = MouldIndex.GrowthOf(hour.Celsius, hour.Percent, 1);
        }

        return hour.Growth;
    }

    private void MoreRoom()
    {
        GrowingHour[] more = ArrayPool<GrowingHour>.Shared.Rent(Math.Max(FirstRoom, 2 * _count));
        int count = _count;
        _hours.AsSpan(0, count).CopyTo(more);
        GiveBack();
        (_hours, _count) = (more, count);
    }

    /// <summary>Gives its room back; its hours are then forgotten.</summary>
    public void GiveBack()
    {
        if (_hours.Length > 0)
        {
            ArrayPool<GrowingHour>.Shared.Return(_hours);
            _hours = [];
            _count = 0;
        }
    }
}
