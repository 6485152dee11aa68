using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed class ScoreTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    // Parts of which more is better; all others are worse the more there is.
    private static readonly ImmutableHashSet<string> MoreIsBetter = ["night-air", "coldest-bed"];

    private static readonly YearAssessment Dry = new HandMadeYear(Van, 12, 1, 2, 3).Write();

    // For every part of a score: the year with the number it is made from moved by a share of a wide range, 0 the best.
    private static readonly ImmutableArray<(string Score, Func<YearAssessment, double, YearAssessment> Worsened)> Worsenings =
    [
        ("Ventilation", (year, share) => year with { NightAir = VolumeFlow.FromCubicMetersPerHour(120 * (1 - share)) }),
        ("Ventilation", (year, share) => year with { WetMornings = year.WetMornings with { Count = (int)Math.Round(share * year.WetMornings.Nights) } }),
        ("Ventilation", (year, share) => Rooms(year, room => room with { NightCarbonDioxide = VolumeConcentration.FromPartsPerMillion(500 + (8000 * share)) })),
        ("Ventilation", (year, share) => Rooms(year, room => room with { NightAge = Duration.FromHours(6 * share) })),
        ("Heating", (year, share) => year with { Heat = year.Heat with { ColdestBed = Temperature.FromDegreesCelsius(20 - (40 * share)) } }),
        ("Heating", (year, share) => year with { Heat = year.Heat with { HoursShort = (int)(8760 * share * share) } }),
        ("Heating", (year, share) => year with { Heat = year.Heat with { CyclingShare = Ratio.FromDecimalFractions(share) } }),
        ("Breathability", (year, share) => Skins(year, skin => skin with { WetHours = (int)(8760 * share) })),
        ("Breathability", (year, share) => Skins(year, skin => skin with { HoursAbove80 = (int)(8760 * share) })),
        ("Breathability", (year, share) => Skins(year, skin => skin with { DaysToDry = Duration.FromDays(365 * share) })),
        ("Breathability", (year, share) => Skins(year, skin => skin with { Accumulates = share > 0.5 })),
        ("Breathability", (year, share) => year with { Mattress = new MattressYear((int)(8760 * share), 0, Mass.Zero) }),
        ("Breathability", (year, share) => Rooms(year, room => room with { HoursAbove80 = (int)(8760 * share) })),
        ("Hot nights", (year, share) => year with { HotNights = year.HotNights with { Nights = (int)(365 * share) } }),
        ("Hot nights", (year, share) => year with { HotNights = year.HotNights with { Felt = Temperature.FromDegreesCelsius(15 + (30 * share)) } }),
    ];

    private static YearAssessment Rooms(YearAssessment year, Func<ZoneYear, ZoneYear> change) => year with { Zones = [.. year.Zones.Select(change)] };

    private static YearAssessment Skins(YearAssessment year, Func<SkinYear, SkinYear> change) => year with { Skins = [.. year.Skins.Select(change)] };

    [Fact]
    public void Every_curve_rises_or_falls_all_the_way_between_nothing_and_a_hundred_and_names_its_source()
    {
        Assert.NotEmpty(ScoreCurve.All);
        Assert.Equal(ScoreCurve.All.Length, ScoreCurve.All.Select(curve => curve.Part).Distinct().Count());
        foreach (ScoreCurve curve in ScoreCurve.All)
        {
            Assert.False(string.IsNullOrWhiteSpace(curve.Source), curve.Part);
            Assert.True(curve.Rows.Length >= 2, curve.Part);
            Assert.Equal(100, curve.Rows.Max(row => row.Points));
            Assert.All(curve.Rows, row => Assert.InRange(row.Points, 0, 100));
            Assert.True(curve.Rows.Zip(curve.Rows.Skip(1)).All(pair => pair.First.Number < pair.Second.Number), curve.Part);
            Assert.True(
                curve.Rows.Zip(curve.Rows.Skip(1)).All(pair => MoreIsBetter.Contains(curve.Part) == pair.First.Points < pair.Second.Points), curve.Part);
        }
    }

    [Fact]
    public void No_part_gets_more_points_when_its_number_worsens()
    {
        Gen.Select(Gen.Int[0, ScoreCurve.All.Length - 1], Gen.Double.Unit, Gen.Double.Unit).Sample((index, first, second) =>
        {
            ScoreCurve curve = ScoreCurve.All[index];
            double from = curve.Rows[0].Number;
            double width = 1.4 * (curve.Rows[^1].Number - from);
            double low = from - (0.2 * width) + (width * Math.Min(first, second));
            double high = from - (0.2 * width) + (width * Math.Max(first, second));
            double gain = curve.Points(high) - curve.Points(low);
            Assert.InRange(curve.Points(low), 0, 100);
            Assert.True(MoreIsBetter.Contains(curve.Part) ? gain >= 0 : gain <= 0, $"{curve.Part} {low} {high}");
        });
    }

    [Fact]
    public void No_score_rises_when_any_of_its_numbers_worsens_whatever_the_others_are()
    {
        Gen<double[]> shares = Gen.Double.Unit.Array[Worsenings.Length];
        Gen.Select(shares, Gen.Int[0, Worsenings.Length - 1], Gen.Double.Unit, Gen.Double.Unit).Sample((others, moved, first, second) =>
        {
            YearAssessment year = Dry;
            for (int i = 0; i < Worsenings.Length; i++)
            {
                year = Worsenings[i].Worsened(year, others[i]);
            }

            Scores better = Scoring.Of(Van, Worsenings[moved].Worsened(year, Math.Min(first, second)))!;
            Scores worse = Scoring.Of(Van, Worsenings[moved].Worsened(year, Math.Max(first, second)))!;
            foreach ((Score was, Score now) in better.All.Zip(worse.All))
            {
                Assert.True(now.Points <= was.Points, $"{was.Name} {was.Points} -> {now.Points}");
                // What is moved belongs to one score; the others do not hear of it.
                Assert.True(was.Name == Worsenings[moved].Score || now.Points == was.Points, was.Name);
            }
        }, iter: 2000);
    }

    [Fact]
    public void Every_number_that_can_worsen_decides_its_score_at_its_worst()
    {
        foreach ((string name, Func<YearAssessment, double, YearAssessment> worsened) in Worsenings)
        {
            YearAssessment good = Dry;
            foreach ((_, Func<YearAssessment, double, YearAssessment> other) in Worsenings)
            {
                good = other(good, 0);
            }

            Assert.True(
                Scoring.Of(Van, worsened(good, 1))!.All.Single(score => score.Name == name).Points
                < Scoring.Of(Van, good)!.All.Single(score => score.Name == name).Points, name);
        }
    }

    [Fact]
    public void A_score_is_its_lowest_part_and_that_part_stands_first()
    {
        foreach (Score score in Scoring.Of(Van, Dry)!.All)
        {
            Assert.Equal(score.Parts.Min(part => part.Points), score.Points);
            Assert.Equal(score.Points, score.Parts[0].Points);
            Assert.All(score.Parts, part => Assert.NotEmpty(part.Source));
        }
    }

    [Fact]
    public void A_wall_is_never_scored_without_the_air_of_its_room()
    {
        Score score = Scoring.Of(Van, Dry with { Skins = [], Mattress = null })!.Breathability;
        Assert.Contains("room", Assert.Single(score.Parts).Evidence.Label, StringComparison.Ordinal);

        // The same wall under damp air gets fewer points.
        YearAssessment damp = Rooms(Dry, room => room with { HoursAbove80 = 6000 });
        Assert.True(Scoring.Of(Van, damp)!.Breathability.Points < Scoring.Of(Van, Dry)!.Breathability.Points);
    }

    [Fact]
    public void Without_a_year_or_without_sleepers_there_are_no_scores()
    {
        Assert.Null(Scoring.Of(Van, null));
        Assert.Null(Scoring.Of(Van with { Household = Van.Household with { Sleepers = 0 } }, Dry));
        Assert.Null(Assessor.Assess(Van, TestContext.Current.CancellationToken).Scores);
    }

    [Fact]
    public void A_danger_takes_no_points_because_it_stands_outside_the_scores()
    {
        Design locker = Van with { Equipment = Van.Equipment with { GasBottles = true, GasLockerOpensInside = true } };
        Assert.Equal(Scoring.Of(Van, Dry)!.All.Select(score => score.Points), Scoring.Of(locker, Dry)!.All.Select(score => score.Points));
    }

    [Fact]
    public void Dry_air_takes_no_points_so_that_no_score_is_won_by_shutting_the_vent()
    {
        YearAssessment dry = Rooms(Dry, room => room with { HoursBelow30 = 5000 });
        Assert.Equal(Scoring.Of(Van, Dry)!.All.Select(score => score.Points), Scoring.Of(Van, dry)!.All.Select(score => score.Points));
    }
}
