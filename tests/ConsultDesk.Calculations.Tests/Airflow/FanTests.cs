using ConsultDesk.Calculations.Airflow;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Airflow.Cabin;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>
/// What a roof fan does in a van: rules of the trade, common practice, no source. The sizes are a strong roof fan
/// (0.42 m3/s, 40 Pa) and a van of four zones with judged gaps; no number here was fitted to an answer.
/// </summary>
public sealed class FanTests
{
    private const double FreeAirM3PerS = 0.42;
    private const double ShutOffPa = 40;

    [Theory]
    [InlineData(20)]
    [InlineData(60)]
    [InlineData(100)]
    public void A_strong_fan_with_everything_shut_seals_itself_in(double leakageCm2)
    {
        FanOperatingPoint point = Run(leakageCm2, windowCm2: 0);

        Assert.InRange(point.ShareOfFreeAirFlow.Percent, 1, 30);
        Assert.InRange(point.PressureRise / point.ShutOffPressure, 0.85, 1);
    }

    [Theory]
    [InlineData(20, 600, 55)]
    [InlineData(100, 600, 55)]
    [InlineData(20, 1200, 75)]
    [InlineData(100, 1200, 75)]
    public void An_open_window_gives_the_fan_its_air_back(double leakageCm2, double windowCm2, double atLeastPercent) =>
        Assert.InRange(Run(leakageCm2, windowCm2).ShareOfFreeAirFlow.Percent, atLeastPercent, 100);

    [Fact]
    public void Behind_openings_alone_half_speed_keeps_the_share_of_free_air_and_sucks_a_quarter()
    {
        // The fan laws on a square-law system. A hair of leakage only, so that the window decides.
        FanOperatingPoint full = Run(0.01, 600);
        FanOperatingPoint half = Run(0.01, 600, speed: 0.5);

        Assert.Equal(full.ShareOfFreeAirFlow.Percent, half.ShareOfFreeAirFlow.Percent, 0.02);
        Assert.Equal(0.25, half.PressureRise / full.PressureRise, 1e-3);
    }

    [Fact]
    public void Behind_cracks_alone_half_speed_loses_some_of_the_share_because_cracks_choke_slow_flow()
    {
        FanOperatingPoint full = Run(100, windowCm2: 0);
        FanOperatingPoint half = Run(100, windowCm2: 0, speed: 0.5);

        Assert.InRange(half.ShareOfFreeAirFlow / full.ShareOfFreeAirFlow, 0.5, 0.95);
        Assert.InRange(half.PressureRise / full.PressureRise, 0.25, 0.3);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(600)]
    public void A_faster_fan_moves_more_air(double windowCm2)
    {
        double before = 0;
        foreach (double speed in (ReadOnlySpan<double>)[0.05, 0.1, 0.25, 0.5, 0.75, 1])
        {
            double flow = Run(60, windowCm2, speed).Flow.CubicMetersPerSecond;
            Assert.True(flow > before * 1.1, $"{flow} m3/s at {speed} after {before}");
            before = flow;
        }
    }

    [Fact]
    public void A_fan_turned_round_moves_the_same_air_the_other_way()
    {
        FanOperatingPoint exhaust = Run(100, 600);
        FanOperatingPoint intake = Run(100, 600, intake: true);

        Assert.Equal(exhaust.Flow.CubicMetersPerSecond, intake.Flow.CubicMetersPerSecond, 1e-7);
    }

    [Fact]
    public void A_stopped_fan_is_an_opening_air_passes_either_way()
    {
        // K of the curve as an opening: Cd A = Q0 sqrt(rho/(2 P0)) = 0.0514 m2, each half of 2 Pa across two of them:
        // Q = 0.0514393 sqrt(2/1.2) = 66.41 L/s.
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int one = cabin.Builder.AddFan(
            "one", zone, Outside, Metres(1.9), VolumeFlow.FromCubicMetersPerSecond(FreeAirM3PerS), Pressure.FromPascals(ShutOffPa));
        int other = cabin.Builder.AddFan(
            "other", zone, Outside, Metres(1.9), VolumeFlow.FromCubicMetersPerSecond(FreeAirM3PerS), Pressure.FromPascals(ShutOffPa));
        cabin.Compile(StandardAirC);
        cabin.State.FanSpeed.Clear();
        cabin.State.PathWindPressurePa[one] = 2;
        AirFlowSolution air = cabin.Solve();

        Assert.Equal(66.41, air.BackwardFlow(one).LitersPerSecond, 0.01);
        Assert.Equal(66.41, air.ForwardFlow(other).LitersPerSecond, 0.01);
        Assert.Null(air.FanPoint(one));
    }

    [Fact]
    public void A_slow_fan_in_a_strong_wind_is_driven_backwards_and_beyond_its_free_air()
    {
        // 10 % speed gives 0.4 Pa: less than a breeze on the roof lid.
        FanOperatingPoint against = Run(100, 600, speed: 0.1, windOnLidPa: 5);
        FanOperatingPoint with = Run(100, 600, speed: 0.1, windOnLidPa: -5);

        Assert.True(against.Flow.CubicMetersPerSecond < 0);
        Assert.True(with.ShareOfFreeAirFlow.DecimalFractions > 1);
        Assert.True(with.PressureRise.Pascals < 0);
    }

    [Fact]
    public void A_curtain_behind_the_cab_costs_a_rear_fan_air_and_the_living_zone_freshness()
    {
        // A rear roof fan at 30 %, everything shut but a cab window ajar, the gap behind the cab 100 cm2, then 25.
        (double open, double openAge) = RearFan(gapCm2: 100);
        (double curtain, double curtainAge) = RearFan(gapCm2: 25);

        Assert.True(curtain < 0.9 * open, $"{curtain} m3/h of {open}");
        Assert.True(curtainAge > 1.1 * openAge, $"{curtainAge} s, {openAge} s");
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(1)]
    public void Air_over_the_bed_is_older_than_in_the_living_zone_until_the_lid_over_the_bed_opens(double speed)
    {
        (double living, double bed, double underBed) = FrontFan(speed, bedLid: false);
        (_, double bedWithLid, _) = FrontFan(speed, bedLid: true);

        Assert.True(bed >= 1.2 * living, $"bed {bed / 60} min, living {living / 60} min");
        Assert.True(underBed > bed, $"under the bed {underBed / 60} min");
        Assert.True(bedWithLid <= bed / 2, $"{bedWithLid / 60} min with the lid open, {bed / 60} without");
    }

    private static FanOperatingPoint Run(
        double leakageCm2, double windowCm2, double speed = 1, bool intake = false, double windOnLidPa = 0)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        cabin.Builder.AddCrack("leakage", Outside, zone, Metres(1), SquareCentimetres(leakageCm2), 0.65);
        if (windowCm2 > 0)
        {
            cabin.Builder.AddOrifice("window", Outside, zone, Metres(1.2), SquareCentimetres(windowCm2));
        }

        int fan = cabin.Builder.AddFan(
            "roof fan", intake ? Outside : zone, intake ? zone : Outside, Metres(1.9),
            VolumeFlow.FromCubicMetersPerSecond(FreeAirM3PerS), Pressure.FromPascals(ShutOffPa));
        cabin.Compile(StandardAirC);
        cabin.State.FanSpeed[fan] = speed;
        cabin.State.PathWindPressurePa[fan] = windOnLidPa;
        return cabin.Solve().FanPoint(fan)!;
    }

    private static (double FlowM3PerHour, double LivingAgeS) RearFan(double gapCm2)
    {
        Van van = new();
        int cabWindow = van.Cabin.Builder.AddOrifice("cab window", Outside, van.Cab, Metres(1.1), SquareCentimetres(300));
        van.Cabin.Builder.AddOrifice("gap behind the cab", van.Cab, van.Living, Metres(0.9), SquareCentimetres(gapCm2));
        van.Cabin.Builder.AddMixing("cab mixing", van.Cab, van.Living, VolumeFlow.FromCubicMetersPerHour(10));
        int fan = van.Fan(van.Sleeping);
        van.Cabin.Compile(StandardAirC);
        van.Cabin.State.FanSpeed[fan] = 0.3;
        AirFlowSolution air = van.Cabin.Solve();
        Assert.True(air.NetMassFlowKgPerS[cabWindow] > 0);
        return (air.ForwardFlow(fan).CubicMetersPerHour, air.ZoneAgeS[van.Living.ZoneIndex]);
    }

    private static (double Living, double Bed, double UnderBed) FrontFan(double speed, bool bedLid)
    {
        Van van = new();
        van.Cabin.Builder.AddOrifice("window", Outside, van.Living, Metres(1.2), SquareCentimetres(600));
        van.Cabin.Builder.AddVerticalOpening("behind the cab", van.Cab, van.Living, Metres(0.2), Metres(1.7), SquareMetres(0.8));
        van.Cabin.Builder.AddMixing("cab mixing", van.Cab, van.Living, VolumeFlow.FromCubicMetersPerHour(100));
        int lid = van.Cabin.Builder.AddHorizontalOpening("bed lid", van.Sleeping, Outside, Metres(1.9), SquareMetres(0.1225));
        int fan = van.Fan(van.Living);
        van.Cabin.Compile(StandardAirC);
        van.Cabin.State.FanSpeed[fan] = speed;
        van.Cabin.State.PathOpenShare[lid] = bedLid ? 1 : 0;
        AirFlowSolution air = van.Cabin.Solve();
        return (air.ZoneAgeS[van.Living.ZoneIndex], air.ZoneAgeS[van.Sleeping.ZoneIndex], air.ZoneAgeS[van.UnderBed.ZoneIndex]);
    }

    /// <summary>Four zones with 100 cm2 of leakage and open slats; the way to the cab is left to the test.</summary>
    private sealed class Van
    {
        public Van()
        {
            Cab = Zone("cab", 3, leakageCm2: 45);
            Living = Zone("living", 5, leakageCm2: 25);
            Sleeping = Zone("sleeping", 4, leakageCm2: 20);
            UnderBed = Zone("under-bed", 1.2, leakageCm2: 10);
            Cabin.Builder.AddVerticalOpening("to the bed", Living, Sleeping, Metres(0.6), Metres(1.8), SquareMetres(1.2));
            Cabin.Builder.AddMixing("bed mixing", Living, Sleeping, VolumeFlow.FromCubicMetersPerHour(150));
            Cabin.Builder.AddOrifice("slats", UnderBed, Sleeping, Metres(0.5), SquareMetres(0.1));
            Cabin.Builder.AddMixing("slat mixing", UnderBed, Sleeping, VolumeFlow.FromCubicMetersPerHour(30));
        }

        public Cabin Cabin { get; } = new();

        public AirNode Cab { get; }

        public AirNode Living { get; }

        public AirNode Sleeping { get; }

        public AirNode UnderBed { get; }

        public int Fan(AirNode zone) => Cabin.Builder.AddFan(
            "roof fan", zone, Outside, Metres(1.9),
            VolumeFlow.FromCubicMetersPerSecond(FreeAirM3PerS), Pressure.FromPascals(ShutOffPa));

        private AirNode Zone(string id, double m3, double leakageCm2)
        {
            AirNode zone = Cabin.Builder.AddZone(id, Volume.FromCubicMeters(m3));
            Cabin.Builder.AddCrack($"{id} leakage", Outside, zone, Metres(0.9), SquareCentimetres(leakageCm2), 0.65);
            return zone;
        }
    }
}
