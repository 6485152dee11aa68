using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Web.Workspace;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class NewOpeningTests
{
    [Theory]
    [InlineData("compact-low", Layout.FrontLounge)]
    [InlineData("short-low", Layout.RearPlatformBed)]
    [InlineData("extra-long-high", Layout.FixedBedAcross)]
    public void Added_openings_stay_behind_the_cab_until_there_is_no_place_left(string body, Layout layout)
    {
        Design design = Presets.Build(body, layout);
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Max(zone => zone.To.Meters);
        foreach ((string text, Func<Design, Opening> make) in NewOpening.Kinds)
        {
            int added = 0;
            while (NewOpening.Place(design, make(design)) is { } more)
            {
                design = more;
                added++;
                Assert.True(added < 1000, text);
            }
        }

        Assert.True(design.Openings.Length > 6);
        Assert.All(design.Openings, opening => Assert.True(opening.X.Meters - (opening.Length.Meters / 2) >= cabM - 1e-9, opening.Name));
        Assert.Empty(DesignCheck.Errors(design));
        Assert.Contains(design.Openings, opening => opening.Kind == OpeningKind.SlidingWindow && opening.Face == Face.Left);
    }
}
