using Bunit;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Workspace.Night;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>The page that plays a night: what the script is given, and what stands there without it.</summary>
public sealed class NightPlayerTests : WorkspaceContext
{
    private static readonly Lazy<IReadOnlyList<NightSide>> Two = new(() =>
    {
        var shut = Openings.SetPosition(Samples.Design(), Presets.RoofFanId, Position.Shut);
        var open = Openings.SetPosition(Samples.Design(), Presets.RoofFanId, Position.Full);
        var weather = YearWeather.Of(shut);
        var day = PlayedNight.DayOf(weather, NightChoice.Coldest);
        return [new("A", "Shut", shut, PlayedNight.Of(shut, weather, day)), new("B", "Open", open, PlayedNight.Of(open, weather, day))];
    });

    private IRenderedComponent<NightPlayer> Player(params NightSide[] sides) => Render<NightPlayer>(p => p
        .Add(player => player.Sides, sides)
        .Add(player => player.Units, DisplayUnits.Metric));

    [Fact]
    public void Every_part_of_a_scene_has_its_place_in_every_moment()
    {
        var sides = Two.Value;
        NightScene[] scenes = [.. sides.Select(side => NightScene.Of(side.Design))];
        var score = NightScore.Of(sides, scenes, DisplayUnits.Metric);

        Assert.Equal(PlayedNight.Count, score.Moments.Length);
        Assert.Equal("17:30", score.Moments[0].Clock);
        Assert.Equal("08:30", score.Moments[^1].Clock);
        Assert.Contains(score.Moments, moment => moment.Doing == "cooking");
        Assert.Contains(score.Moments, moment => moment.Doing == "asleep");
        for (var side = 0; side < sides.Count; side++)
        {
            Assert.Equal(PlayedNight.Count, score.Sides[side].Length);
            Assert.All(score.Sides[side], moment =>
            {
                Assert.Equal(scenes[side].Zones.Length, moment.Steps.Length);
                Assert.Equal(scenes[side].Openings.Length, moment.In.Length);
                Assert.Equal(scenes[side].Openings.Length, moment.Out.Length);
                Assert.Equal(scenes[side].Glass.Length, moment.Glass.Length);
                Assert.Equal(sides[side].Night.Surfaces.Length, moment.Films.Length);
                Assert.All(moment.Glass, strength => Assert.InRange(strength, 0, 1));
                Assert.All(moment.FilmShares, share => Assert.InRange(share, 0, 1));
                Assert.InRange(moment.Steam, 0, 1);
            });
        }

        // One measure for both sides: the widest arrow and the longest bar stand once.
        Assert.Equal(1, score.Sides.SelectMany(side => side).Max(moment => moment.FilmShares.Max()));
        Assert.Equal(1, score.Sides.SelectMany(side => side).Max(moment => moment.Steam));
    }

    [Fact]
    public void A_glass_of_the_scene_is_one_of_the_night_and_lies_within_the_drawing()
    {
        var side = Two.Value[0];
        var scene = NightScene.Of(side.Design);
        Assert.NotEmpty(scene.Glass);
        Assert.All(scene.Glass, glass =>
        {
            Assert.Contains(side.Night.Surfaces, surface => surface.Id == glass.Id);
            Assert.All(glass.Outline, point => Assert.True(point.X >= 0 && point.X <= scene.Base.Width && point.Y >= 0 && point.Y <= scene.Base.Height));
        });
    }

    [Fact]
    public void The_script_is_given_the_whole_night_once()
    {
        var player = Player(Two.Value[0]);
        player.Render();

        var given = Assert.Single(JSInterop.Invocations, call => call.Identifier == "open");
        Assert.Equal(PlayedNight.Count, Assert.IsType<NightScore>(given.Arguments[1]).Moments.Length);
    }

    [Fact]
    public void The_slider_and_the_still_pictures_are_there_for_keyboard_and_paper()
    {
        var player = Player([.. Two.Value]);

        var slider = player.Find("input[type=range]");
        Assert.Equal("Time of the night", slider.GetAttribute("aria-label"));
        Assert.Equal((PlayedNight.Count - 1).ToString(System.Globalization.CultureInfo.InvariantCulture), slider.GetAttribute("max"));
        foreach (var strip in new[] { "night-strip-0", "night-strip-1" })
        {
            Assert.Equal(NightStrip.Hours.Length, player.FindAll($"#{strip} tbody tr").Count);
        }

        Assert.Contains("22:30", player.Find("#night-strip-0").TextContent, StringComparison.Ordinal);
        Assert.Equal(["Option A, Shut", "Option B, Open"], player.FindAll(".night-side").Select(side => side.GetAttribute("aria-label")));
    }
}
