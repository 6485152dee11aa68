using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// What people who build vans say (common practice, no source), as far as a steady night can answer it. The thresholds
/// are ours, set with a margin from trial calculations; they guard signs and sizes and prove no number.
/// </summary>
public sealed class PracticeTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    [Theory]
    [InlineData(20)]
    [InlineData(60)]
    [InlineData(100)]
    public void A_strong_fan_with_everything_shut_seals_itself_in(double leakageCm2)
    {
        FanPoint shut = Fan(WithLeakage(FullSpeed(Van), leakageCm2));

        Assert.True(shut.ShareOfFreeAir.Percent <= 30, $"{shut.ShareOfFreeAir.Percent} %");
        Assert.True(shut.Pressure.Pascals >= 0.85 * 40, $"{shut.Pressure.Pascals} Pa");
        Assert.True(Fan(WithWindow(WithLeakage(FullSpeed(Van), leakageCm2), 600)).ShareOfFreeAir.Percent >= 55);
        Assert.True(Fan(WithWindow(WithLeakage(FullSpeed(Van), leakageCm2), 1200)).ShareOfFreeAir.Percent >= 75);
    }

    [Fact]
    public void A_curtain_behind_the_cab_cuts_the_air_of_a_rear_fan()
    {
        Design curtain = Van with
        {
            Passages =
            [
                .. Van.Passages.Select(passage => passage.Id == "cab-gap"
                    ? passage with
                    {
                        FreeArea = Area.FromSquareCentimeters(25),
                        Mixing = VolumeFlow.FromCubicMetersPerHour(Defaults.Likely("mixing-cab-insulated-curtain")),
                    }
                    : passage),
            ],
        };

        Assert.True(Fan(curtain).Flow.CubicMetersPerHour < 0.85 * Fan(Van).Flow.CubicMetersPerHour);
        Assert.True(Age(curtain, "living") > Age(Van, "living"));
    }

    [Fact]
    public void A_front_fan_and_a_sliding_window_leave_the_bed_older_air_and_a_lid_over_it_halves_its_age()
    {
        Design front = WithWindow(Openings.MoveOnRoof(Van, Presets.RoofFanId, RoofPlace.Front), 600);
        Design lid = Openings.Add(front, Openings.Find(front, Presets.RoofFanId)! with
        {
            Id = "bed-lid",
            Name = "Lid over the bed",
            Fan = null,
            X = Openings.RoofX(front, RoofPlace.Rear),
        });

        Assert.True(Age(front, "sleeping") >= 1.2 * Age(front, "living"));
        Assert.True(Age(lid, "sleeping") <= 0.5 * Age(front, "sleeping"));
    }

    [Theory]
    [InlineData(60)]
    [InlineData(100)]
    [InlineData(150)]
    public void The_same_heat_unflued_condenses_at_least_half_as_much_again_shut_and_twice_as_much_with_a_lid_open(double leakageCm2)
    {
        Assert.True(UnfluedRatio(Position.Shut, leakageCm2) >= 1.5);
        Assert.True(UnfluedRatio(Position.Full, leakageCm2) >= 2);
    }

    [Theory]
    [InlineData(60)]
    [InlineData(100)]
    [InlineData(150)]
    public void A_low_opening_beside_an_open_lid_dries_the_glass_more_than_the_lid_alone(double leakageCm2)
    {
        Design lid = NoFan(WithLeakage(Van, leakageCm2));
        double shut = Glass(Openings.SetPosition(lid, Presets.RoofFanId, Position.Shut));

        Assert.True(Glass(lid) < shut);
        Assert.True(Glass(MoreAir.AddLowVent(lid)) < 0.5 * Glass(lid));
    }

    private static double UnfluedRatio(Position lid, double leakageCm2)
    {
        Design sealedHeat = Openings.SetPosition(NoFan(WithLeakage(Van, leakageCm2)), Presets.RoofFanId, lid);
        Design unflued = sealedHeat with { Heater = sealedHeat.Heater with { Kind = HeaterKind.UnfluedGas } };
        return Assess(unflued).Water.CondensedPerNight.Grams / Assess(sealedHeat).Water.CondensedPerNight.Grams;
    }

    private static Assessment Assess(Design design) =>
        Assessor.AssessWithoutFindings(design, Nights.At(design), TestContext.Current.CancellationToken);

    private static FanPoint Fan(Design design) => Assess(design).Air.Fans.Single();

    private static double Age(Design design, string zoneId) =>
        Assess(design).Zones.Single(zone => zone.ZoneId == zoneId).AgeOfAir.Minutes;

    private static double Glass(Design design) =>
        Assess(design).Surfaces.Where(surface => surface.Kind == SurfaceKind.Glass).Sum(surface => surface.CondensedPerNight.Grams);

    private static Design WithLeakage(Design design, double cm2) =>
        design with { Leakage = design.Leakage with { EffectiveArea = Area.FromSquareCentimeters(cm2) } };

    private static Design FullSpeed(Design design) =>
        Openings.Change(design, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 1 } });

    private static Design NoFan(Design design) => Openings.Change(design, Presets.RoofFanId, o => o with { Fan = null });

    // The sliding window opened to a free area, without a screen.
    private static Design WithWindow(Design design, double cm2) => Openings.Change(design, Presets.WindowId, o => o with
    {
        Position = Position.Full,
        FreeShare = cm2 / 1e4 / (o.Length.Meters * o.Width.Meters),
        Facts = o.Facts with { Screened = false },
    });
}
