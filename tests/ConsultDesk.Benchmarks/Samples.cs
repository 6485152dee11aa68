using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Benchmarks;

/// <summary>What is measured on.</summary>
internal static class Samples
{
    /// <summary>The van a new client starts with: the first body class, a platform bed, the default household and stop.</summary>
    public static Design Van { get; } = Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed);

    /// <summary>The long preset the speed of a year is stated for.</summary>
    public static Design Long { get; } = Presets.Build("long-high", Layout.RearPlatformBed);

    /// <summary>
    /// As the demo's van that fogs: two people live in it all year along three stays, covers hang in the cab, clothes dry, a shut
    /// cupboard and a circulation fan. Made of the preset, because the demo's own designs live in the web project.
    /// </summary>
    public static Design Demo { get; } = Fogged();

    private static Design Fogged()
    {
        Design van = Presets.Build("long-high", Layout.FixedBedAcross);
        return van with
        {
            Household = van.Household with { Presence = Presence.AllDay, CookingFuel = CookingFuel.Gas, DriesClothes = true },
            Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = Cover.InsideLoose } })],
            Itinerary =
            [
                Stay("winter", "seattle", 11, 1, 2, 28),
                Stay("spring", "san-francisco-sfo", 3, 1, 5, 31),
                Stay("summer", "aspen", 6, 1, 10, 31),
            ],
        };
    }

    private static ItineraryStop Stay(string id, string place, int fromMonth, int fromDay, int toMonth, int toDay) => new()
    {
        Id = id,
        PlaceKey = place,
        Altitude = Length.FromMeters(place == "aspen" ? 2400 : 10),
        Shelter = Shelter.Ordinary,
        From = new MonthDay(fromMonth, fromDay),
        To = new MonthDay(toMonth, toDay),
    };
}
