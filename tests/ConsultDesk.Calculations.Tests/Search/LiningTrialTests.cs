using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Search;

public sealed class LiningTrialTests(ITestOutputHelper output)
{
    private static readonly Design Van = YearVans.Lid("long-high", Layout.RearPlatformBed, "bergen");

    [Fact]
    public void Each_way_past_the_lining_is_a_year_of_the_same_van_and_one_of_them_stands()
    {
        Design clips = LiningTrials.With(Van, LinedPart.Walls, LiningGaps.ClipsAndSeams);

        ImmutableArray<LiningTrial> trials = LiningTrials.Of(clips, LinedPart.Walls, WeatherHours.None, cancellation: TestContext.Current.CancellationToken);

        foreach (LiningTrial trial in trials)
        {
            output.WriteLine(FormattableString.Invariant(
                $"{trial.Gaps}: {trial.Check.Skin!.PeakPerSquareMetre.Grams:0.0} g/m2, wet {trial.Check.Skin.WetHours} h, damp {trial.Check.Skin.HoursAbove80} h, dries in {trial.Check.Skin.DaysToDry.Days:0.0} days, {trial.WetMornings.Count} wet mornings"));
        }

        Assert.Equal(Enum.GetValues<LiningGaps>(), trials.Select(trial => trial.Gaps));
        LiningTrial stands = Assert.Single(trials, trial => trial.Stands);
        Assert.Equal(LiningGaps.ClipsAndSeams, stands.Gaps);
        YearAssessment year = Assessor.AssessYear(clips, YearWeather.Of(clips), Assumptions.Likely, progress: null, TestContext.Current.CancellationToken);
        WallCheck walls = year.Walls.Single(check => check.Part == "Walls");
        Assert.Equal(walls.Skin, stands.Check.Skin! with { PeakByMonth = walls.Skin!.PeakByMonth });
        Assert.Equal(year.WetMornings.Count, stands.WetMornings.Count);

        // Common practice, no source: what lets more of the room's air through brings more water to a cold skin.
        Assert.True(trials[0].Check.Skin!.PeakPerSquareMetre < trials[^1].Check.Skin!.PeakPerSquareMetre);
    }

    [Fact]
    public void The_gaps_of_one_part_change_no_other_part()
    {
        foreach (LinedPart part in Enum.GetValues<LinedPart>())
        {
            Design changed = LiningTrials.With(Van, part, LiningGaps.Sealed);
            Assert.Equal(LiningGaps.Sealed, LiningTrials.Of(changed, part).Gaps);
            Assert.All(Enum.GetValues<LinedPart>().Where(other => other != part), other => Assert.Same(LiningTrials.Of(Van, other), LiningTrials.Of(changed, other)));
        }
    }
}
