using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Climate;

/// <summary>The days of the year by stay.</summary>
public static class Itineraries
{
    /// <summary>Id of the stay that stands for a whole year at the design's stop.</summary>
    public const string WholeYearId = "whole-year";

    /// <summary>The stays of a design in the order of their first days; the whole year at its stop when it has no itinerary.</summary>
    public static ImmutableArray<ItineraryStop> Stays(Design design) => design.Itinerary.IsEmpty
        ?
        [
            new ItineraryStop
            {
                Id = WholeYearId,
                PlaceKey = design.Stop.PlaceKey,
                Altitude = design.Stop.Altitude,
                Shelter = design.Stop.Shelter,
                From = new MonthDay(1, 1),
                To = new MonthDay(12, 31),
            },
        ]
        : [.. design.Itinerary.OrderBy(stay => YearCalendar.DayOfYear(stay.From))];

    /// <summary>Days of the year, from 0, of a stay in their order; a stay that ends before it begins runs over New Year.</summary>
    public static IEnumerable<int> Days(ItineraryStop stay)
    {
        int from = YearCalendar.DayOfYear(stay.From);
        int to = YearCalendar.DayOfYear(stay.To);
        int count = ((to - from + YearWeather.Days) % YearWeather.Days) + 1;
        for (int day = 0; day < count; day++)
        {
            yield return (from + day) % YearWeather.Days;
        }
    }

    /// <summary>Months a stay touches, 1 to 12.</summary>
    public static IEnumerable<int> Months(ItineraryStop stay) => Days(stay).Select(YearCalendar.Month).Distinct();

    /// <summary>Which of the stays each day of the year belongs to.</summary>
    /// <exception cref="ArgumentException">A day has no stay or two.</exception>
    internal static int[] StayOfDay(ImmutableArray<ItineraryStop> stays)
    {
        int[] stayOfDay = new int[YearWeather.Days];
        Array.Fill(stayOfDay, -1);
        for (int stay = 0; stay < stays.Length; stay++)
        {
            foreach (int day in Days(stays[stay]))
            {
                if (stayOfDay[day] >= 0)
                {
                    throw new ArgumentException($"Two stays cover {YearCalendar.Date(day)}; expected one.", nameof(stays));
                }

                stayOfDay[day] = stay;
            }
        }

        int empty = Array.IndexOf(stayOfDay, -1);
        return empty < 0
            ? stayOfDay
            : throw new ArgumentException($"No stay covers {YearCalendar.Date(empty)}; expected stays through the whole year.", nameof(stays));
    }
}
