using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// Edits the stays of a year by the day each begins: a stay lasts until the next one begins, the last one until the
/// first, so that no day can be left out or counted twice.
/// </summary>
public static class Stays
{
    /// <summary>The stays of a design in the order of the year.</summary>
    public static ImmutableArray<ItineraryStop> InOrder(Design design) => [.. design.Itinerary.OrderBy(stay => YearCalendar.DayOfYear(stay.From))];

    /// <summary>The day, or null when the month does not have it.</summary>
    public static MonthDay? Day(int month, int day) => new MonthDay(month, day) is var date && YearCalendar.Contains(date) ? date : null;

    /// <summary>A stay as a design has it now: the page says it anew only a moment after an edit. As it was where the design has it no more.</summary>
    public static ItineraryStop AsItStands(Design design, ItineraryStop stay) => design.Itinerary.FirstOrDefault(other => other.Id == stay.Id) ?? stay;

    /// <summary>The stay that begins on a day, apart from one.</summary>
    public static ItineraryStop? BeginningOn(Design design, MonthDay day, string apartFrom) =>
        design.Itinerary.FirstOrDefault(stay => stay.Id != apartFrom && stay.From == day);

    /// <summary>The design with a stay changed. Its neighbours follow when it begins on another day.</summary>
    public static Design Change(Design design, string id, Func<ItineraryStop, ItineraryStop> change) =>
        With(design, design.Itinerary.Select(stay => stay.Id == id ? change(stay) : stay));

    /// <summary>The design with one more stay: the longest is split in two. Without stays the year is split at midsummer.</summary>
    public static Design Add(Design design)
    {
        if (design.Itinerary.IsEmpty)
        {
            var year = new ItineraryStop
            {
                Id = "stay-1",
                PlaceKey = design.Stop.PlaceKey,
                Altitude = design.Stop.Altitude,
                Shelter = design.Stop.Shelter,
                From = new MonthDay(1, 1),
                To = new MonthDay(12, 31),
            };
            return With(design, [year, year with { Id = "stay-2", From = new MonthDay(7, 1) }]);
        }

        var longest = design.Itinerary.MaxBy(Days)!;
        if (Days(longest) < 2)
        {
            return design;
        }

        return With(design, design.Itinerary.Add(longest with { Id = NewId([.. design.Itinerary]), From = After(longest.From, Days(longest) / 2) }));
    }

    /// <summary>
    /// The design with a stay that lasts from a day to another, across New Year when it ends before it begins. What it takes is taken
    /// from its neighbours, one of which may be split by it; what it gives up goes to them, or to the stop when it has none.
    /// </summary>
    public static Design Cover(Design design, string id, MonthDay from, MonthDay to)
    {
        List<ItineraryStop> stays = [.. InOrder(design)];
        var own = stays.FindIndex(stay => stay.Id == id);
        if (own < 0)
        {
            return design;
        }

        var count = stays.Count;
        var wanted = Itineraries.Days(stays[own] with { From = from, To = to }).ToHashSet();
        int[] before = [.. Itineraries.Days(stays[own])];
        if (count == 1)
        {
            stays.Add(stays[0] with { Id = NewId(stays), PlaceKey = design.Stop.PlaceKey, Altitude = design.Stop.Altitude, Shelter = design.Stop.Shelter });
        }

        var earlier = (own + stays.Count - 1) % stays.Count;
        var later = (own + 1) % stays.Count;
        var ownerOf = new int[YearWeather.Days];
        for (var stay = 0; stay < count; stay++)
        {
            foreach (var day in Itineraries.Days(stays[stay]))
            {
                ownerOf[day] = stay;
            }
        }

        var passed = false;
        foreach (var day in before)
        {
            passed |= wanted.Contains(day);
            ownerOf[day] = passed ? later : earlier;
        }

        foreach (var day in wanted)
        {
            ownerOf[day] = own;
        }

        List<ItineraryStop> covered = [];
        for (var day = 0; day < YearWeather.Days; day++)
        {
            if (ownerOf[day] == ownerOf[(day + YearWeather.Days - 1) % YearWeather.Days])
            {
                continue;
            }

            var stay = stays[ownerOf[day]] with { From = YearCalendar.Date(day) };
            covered.Add(covered.Any(other => other.Id == stay.Id) ? stay with { Id = NewId([.. stays, .. covered]) } : stay);
        }

        return With(design, covered.Count > 0 ? covered : [stays[own] with { From = new MonthDay(1, 1) }]);
    }

    /// <summary>The design without a stay: the one before it lasts until the next. Without the last, the year is spent at the stop.</summary>
    public static Design Remove(Design design, string id) => With(design, design.Itinerary.Where(stay => stay.Id != id));

    /// <summary>Nights of a stay, its last day included.</summary>
    public static int Days(ItineraryStop stay) => Itineraries.Days(stay).Count();

    private static string NewId(List<ItineraryStop> stays) => Enumerable.Range(1, stays.Count + 1)
        .Select(number => string.Create(CultureInfo.InvariantCulture, $"stay-{number}"))
        .First(candidate => stays.All(stay => stay.Id != candidate));

    private static Design With(Design design, IEnumerable<ItineraryStop> stays)
    {
        ItineraryStop[] ordered = [.. stays.OrderBy(stay => YearCalendar.DayOfYear(stay.From))];
        return design with
        {
            Itinerary = [.. ordered.Select((stay, index) => stay with { To = After(ordered[(index + 1) % ordered.Length].From, -1) })],
        };
    }

    private static MonthDay After(MonthDay day, int days) =>
        YearCalendar.Date((YearCalendar.DayOfYear(day) + days + YearWeather.Days) % YearWeather.Days);
}
