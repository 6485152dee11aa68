using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class NewOpeningsTests
{
    [Theory]
    [InlineData("compact-low", Layout.FrontLounge)]
    [InlineData("short-low", Layout.RearPlatformBed)]
    [InlineData("extra-long-high", Layout.FixedBedAcross)]
    public void Added_openings_stay_behind_the_cab_until_there_is_no_place_left(string body, Layout layout)
    {
        Design design = Presets.Build(body, layout);
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Max(zone => zone.To.Meters);
        foreach ((string text, Func<Design, Opening> make) in NewOpenings.Kinds)
        {
            int added = 0;
            while (NewOpenings.Place(design, make(design)) is { } more)
            {
                design = more;
                added++;
                Assert.True(added < 1000, text);
            }
        }

        Assert.True(design.Openings.Length > 6);
        Assert.All(design.Openings.Where(opening => opening.Kind is OpeningKind.CabWindow or OpeningKind.CabWindowVent), opening =>
            Assert.True(opening.X.Meters + (opening.Length.Meters / 2) <= cabM + 1e-9, opening.Name));
        Assert.All(design.Openings.Where(opening => opening.Kind is not (OpeningKind.CabWindow or OpeningKind.CabWindowVent or OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap)), opening => Assert.True(opening.X.Meters - (opening.Length.Meters / 2) >= cabM - 1e-9, opening.Name));
        Assert.Empty(DesignCheck.Errors(design));
        Assert.Contains(design.Openings, opening => opening.Kind == OpeningKind.SlidingWindow && opening.Face == Face.Left);
    }

    [Fact]
    public void Every_opening_of_the_price_book_is_placed_with_its_key_its_size_and_its_facts()
    {
        var items = PriceBooks.Default.Items.Where(item => BookedParts.Openable.Contains(item.Kind)).ToList();
        Assert.InRange(items.Count, 10, 100);
        foreach (var item in items)
        {
            Design van = Presets.Build("extra-long-high", Layout.FixedBedAcross);
            Design? placed = NewOpenings.Place(van, BookedParts.OpeningOf(van, item));

            Assert.True(placed is not null, item.Key);
            Opening added = Assert.Single(placed.Openings, opening => opening.PriceKey == item.Key);
            Assert.Equal(item.Facts.GetValueOrDefault("usableInRain") == "yes", added.Facts.UsableInRain);
            Assert.Equal(item.Facts.GetValueOrDefault("rainSensor") == "yes", added.Facts.RainSensor);
            Assert.Equal(item.Kind == PriceKind.RoofFan, added.Fan is not null);
            if (item.Facts.TryGetValue("lengthMm", out string? length))
            {
                Assert.Equal(double.Parse(length, System.Globalization.CultureInfo.InvariantCulture), added.Length.Millimeters, 6);
            }
        }
    }
}
