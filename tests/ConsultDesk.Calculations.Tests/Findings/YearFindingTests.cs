using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using UnitsNet.Units;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed class YearFindingTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static readonly YearAssessment Dry = new HandMadeYear(Van, 12, 1, 2, 3).Write();

    // A made year instead of a calculated one: the rules are judged on their own.
    private static ImmutableArray<Finding> Judge(Design design, YearAssessment year, YearWeather? outdoor = null)
    {
        Assessment night = Assessor.Assess(design, TestContext.Current.CancellationToken) with { Year = year };
        FindingContext context = new(design, night, changed => Assessor.Assess(changed, CancellationToken.None)) { Outdoor = outdoor };
        return FindingRules.Judge(context);
    }

    private static Finding? Find(Design design, YearAssessment year, string code) => Judge(design, year).SingleOrDefault(finding => finding.Code == code);

    private static Assessment Year(Design design) => Assessor.Assess(design, AssessmentDepth.Year, progress: null, TestContext.Current.CancellationToken);

    [Fact]
    public void A_dry_quiet_year_raises_none_of_the_findings_of_the_year()
    {
        string[] ofTheYear = ["many-wet-mornings", "wet-skin", "damp-mattress", "damp-cupboard", "mould-grows", "flame-gases-high", "hot-nights", "heater-short-in-cold", "heater-cycles"];
        Assert.Empty(Judge(Van, Dry).Select(finding => finding.Code).Intersect(ofTheYear));
    }

    [Fact]
    public void A_shut_van_on_a_damp_coast_has_many_wet_mornings_and_is_told_the_missing_air_and_the_step_that_gives_it()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut);
        Assessment assessment = Year(shut);
        Finding wet = assessment.Findings.Single(finding => finding.Code == "many-wet-mornings");

        YearAssessment was = assessment.Year!;
        Assert.Equal(was.WetMornings.Count, (double)wet.Evidence[0].Value.Value);
        Assert.Contains("inlet", wet.Explanation, StringComparison.Ordinal);
        Evidence missing = wet.Evidence.Single(evidence => evidence.Label.Contains("missing", StringComparison.Ordinal));
        Assert.InRange(missing.Value.As(VolumeFlowUnit.CubicMeterPerHour), 1, 1000);

        Assessment after = Year(wet.Apply!(shut));
        YearAssessment now = after.Year!;
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{was.WetMornings.Count} of {was.WetMornings.Nights}, {missing.Value}, {wet.TriedAs} -> {now.WetMornings.Count} wet mornings, night air {was.NightAir.CubicMetersPerHour:F0} -> {now.NightAir.CubicMetersPerHour:F0} m3/h"));
        Assert.True(now.WetMornings.Count < was.WetMornings.Count / 2);
        Assert.True(after.Scores!.Ventilation.Points >= assessment.Scores!.Ventilation.Points);
    }

    [Fact]
    public void The_missing_air_of_a_made_night_is_that_of_the_balance_done_by_hand()
    {
        // By hand: 100 g/h at 20 degrees are 100/3.6e6 kg/s; times 461.5 J/(kg K) x 293.15 K over 300 Pa that the surface can bear
        // above outdoors, 45.1 m3/h, of which 25 are there.
        const double water = 0.1 / 3600;
        const double missing = (0.1 * 461.5 * 293.15 / 300) - 25;
        YearAssessment year = Dry with
        {
            Days = [.. Enumerable.Repeat(new DayState(Slept: true, WetMorning: true, 0, 0, 0, 0), 365)],
            Hours = Dry.Hours with
            {
                LivingC = Filled(20),
                WettestSurfaceC = Filled(MoistAir.DewPointC(700)),
                OutdoorAirM3PerH = Filled(25),
            },
        };
        YearWeather outdoor = new HandMadeYear(Van).Weather;
        Array.Fill(outdoor.VapourPressurePa, 400);
        Assert.Equal(missing, NightAirNeed.MissingM3PerH(year, outdoor, water, 0.1), 2);

        // As damp outside as the surface can bear: no air is enough.
        Array.Fill(outdoor.VapourPressurePa, 701);
        Assert.True(double.IsPositiveInfinity(NightAirNeed.MissingM3PerH(year, outdoor, water, 0.1)));
        // Where a tenth of the nights may stay wet, they may be the ones without hope.
        Array.Fill(outdoor.VapourPressurePa, 400, 24 * 40, YearWeather.Hours - (24 * 40));
        Assert.True(double.IsPositiveInfinity(NightAirNeed.MissingM3PerH(year, outdoor, water, 0.1)));
        Assert.Equal(missing, NightAirNeed.MissingM3PerH(year, outdoor, water, 0.12), 2);
    }

    [Fact]
    public void Wet_mornings_that_no_air_can_dry_are_answered_with_warmth_and_not_with_more_air()
    {
        YearAssessment wet = Dry with
        {
            WetMornings = Dry.WetMornings with { Count = 200, Nights = 365, SurfaceName = "Windscreen" },
            Days = [.. Enumerable.Repeat(new DayState(Slept: true, WetMorning: true, 0, 0, 0, 0), 365)],
            Hours = Dry.Hours with { LivingDewPointC = Filled(10), WettestSurfaceC = Filled(5), OutdoorAirM3PerH = Filled(25) },
        };
        YearWeather outdoor = new HandMadeYear(Van).Weather;
        Array.Fill(outdoor.VapourPressurePa, MoistAir.SaturationPressurePa(6));
        Finding finding = Judge(Van, wet, outdoor).Single(f => f.Code == "many-wet-mornings");

        Assert.StartsWith("No ventilation alone", finding.Remedy, StringComparison.Ordinal);
        Design after = finding.Apply!(Van);
        Assert.Equal(Van.Openings.Select(opening => opening.Position), after.Openings.Select(opening => opening.Position));
        Assert.All(after.Glazings, glazing => Assert.Equal(Cover.Outside, glazing.Pane.Cover));
    }

    [Fact]
    public void Skin_mattress_cupboard_heat_and_heater_of_a_bad_year_are_each_told()
    {
        YearAssessment bad = Dry with
        {
            Skins = [.. Dry.Skins.Select(skin => skin with { WetHours = 2000, HoursAbove80 = 5000 })],
            Mattress = new MattressYear(3000, 400, Mass.FromGrams(60)),
            Zones = [.. Dry.Zones.Select(zone => zone with { HoursAbove80 = 4000, HoursBelow30 = 400 })],
            Mould = [new MouldSurface(MouldPlace.Mattress, "Mattress underside", 3.4, 4.8), new MouldSurface(MouldPlace.LiningFace, "Walls, Bed", 0.4, 0.5)],
            HotNights = Dry.HotNights with { Nights = 25, Hours = 90, Hottest = Temperature.FromDegreesCelsius(31) },
            Heat = Dry.Heat with { HoursShort = 120, ColdestBed = Temperature.FromDegreesCelsius(7) },
            Extremes = Dry.Extremes with { HottestLocked = Temperature.FromDegreesCelsius(38), HottestLockedFanFailed = Temperature.FromDegreesCelsius(52) },
        };

        Assert.Equal(Severity.Warning, Find(Van, bad, "wet-skin")!.Severity);
        Assert.Equal(Severity.Warning, Find(Van, bad, "damp-mattress")!.Severity);
        Assert.Equal(BedBase.VentilatedUnderlay, Find(Van, bad, "damp-mattress")!.Apply!(Van).BedBase);
        Assert.NotNull(Find(Van, bad, "damp-cupboard"));
        Assert.Equal(Severity.Warning, Find(Van, bad, "mould-grows")!.Severity);
        Assert.Equal(3.4, (double)Find(Van, bad, "mould-grows")!.Evidence[0].Value.Value, 6);
        Assert.Contains("asthma", Find(Van, bad, "mould-grows")!.Explanation, StringComparison.Ordinal);
        Assert.Equal(Severity.Advice, Find(Van, bad with { Mould = [bad.Mould[0] with { Index = 1.2 }] }, "mould-grows")!.Severity);
        Assert.Null(Find(Van, bad with { Mould = [bad.Mould[1]] }, "mould-grows"));
        Assert.Equal(Severity.Warning, Find(Van, bad, "hot-nights")!.Severity);
        Assert.Equal(Severity.Warning, Find(Van, bad, "heater-short-in-cold")!.Severity);
        Assert.NotNull(Find(Van, bad, "air-dry"));
        Finding locked = Find(Van, bad, "locked-heat")!;
        Assert.Equal(52, locked.Evidence[0].Value.As(TemperatureUnit.DegreeCelsius), 6);
        Assert.Equal(38, locked.Evidence[1].Value.As(TemperatureUnit.DegreeCelsius), 6);
        Assert.Contains("from year to year", Find(Van, bad with { Skins = [.. bad.Skins.Select(skin => skin with { Accumulates = true })] }, "wet-skin")!.Title, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(15_100, 20.4, true)]
    [InlineData(6_000, 19.4, true)]
    [InlineData(14_900, 19.6, false)]
    public void A_flame_that_passes_what_is_allowed_at_work_for_a_quarter_of_an_hour_is_told_and_no_alarm_is_replaced(double ppm, double oxygenPercent, bool told)
    {
        YearAssessment year = Dry with
        {
            Combustion = new CombustionYear(VolumeConcentration.FromPartsPerMillion(ppm), Ratio.FromPercent(oxygenPercent), Mass.FromKilograms(30)),
        };
        Finding? found = Find(Van, year, "flame-gases-high");

        Assert.Equal(told, found is not null);
        if (found is not null)
        {
            Assert.Equal(ppm, (double)found.Evidence[0].Value.Value, 6);
            Assert.Contains("cannot be calculated", found.Explanation, StringComparison.Ordinal);
            Assert.Contains("alarm", found.Remedy, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Frost_hours_of_the_year_decide_over_the_night()
    {
        Design battery = Van with { Equipment = Van.Equipment with { Battery = BatteryKind.Lithium, WaterCarried = true, WaterZoneId = "under-bed", BatteryZoneId = "under-bed" } };
        YearAssessment frost = Dry with { Extremes = Dry.Extremes with { BatteryFrostHours = 7, WaterFrostHours = 9 } };
        Assert.Equal(7, Find(battery, frost, "battery-frost")!.Evidence[0].Value.As(DurationUnit.Hour), 6);
        Assert.Equal(9, Find(battery, frost, "water-frost")!.Evidence[0].Value.As(DurationUnit.Hour), 6);

        YearAssessment mild = Dry with { Extremes = Dry.Extremes with { BatteryFrostHours = 0, WaterFrostHours = 0 } };
        Assert.Null(Find(battery, mild, "battery-frost"));
    }

    [Fact]
    public void A_year_brings_scores_and_its_findings_hold_to_the_form_of_all_findings()
    {
        foreach (Design van in (Design[])[Van, Vans.With(Position.Shut, Position.Shut, HeaterKind.None), Van with { Stop = Presets.StopAt("madrid", 7), Household = Van.Household with { Sleepers = 4 } }])
        {
            Assessment assessment = Year(van);
            Assert.NotNull(assessment.Scores);
            TestContext.Current.TestOutputHelper?.WriteLine(string.Join("; ", assessment.Scores.All.Select(score => string.Create(
                CultureInfo.InvariantCulture, $"{score.Name} {score.Points:F0} by {score.Parts[0].Evidence.Label} {score.Parts[0].Evidence.Value}")))
                + " | " + string.Join(", ", assessment.Findings.Select(finding => $"{finding.Severity} {finding.Code}")));
            foreach (Finding finding in assessment.Findings)
            {
                Assert.NotEmpty(finding.Evidence);
                Assert.NotEmpty(finding.Remedy);
                Assert.DoesNotMatch(@"\d", finding.Title);
                Assert.DoesNotMatch(@"\d", finding.Explanation);
                Assert.True(finding.Apply is null || DesignCheck.Errors(finding.Apply(van)).IsEmpty, finding.Code);
            }
        }
    }

    private static ImmutableArray<float> Filled(double value) => [.. Enumerable.Repeat((float)value, YearWeather.Hours)];
}
