using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>The air of vans side by side is the air each has alone: presets with their single changes, and random vans that share nothing but the number of zones.</summary>
public sealed class VanAirLaneTests
{
    [Fact]
    public void A_preset_and_its_single_changes_have_side_by_side_the_air_they_have_alone()
    {
        int vans = 0;
        foreach (BodyClass body in BodyClasses.All)
        {
            Design preset = Presets.Build(body.Key, Layout.FixedBedAcross);
            vans += AsAlone<EightLanes>([preset, .. SingleChanges.Of(preset, PriceBooks.Default).Select(change => change.Apply(preset))]);
        }

        Assert.True(vans > 200, $"only {vans} vans");
    }

    [Fact]
    public void Random_vans_have_side_by_side_the_air_they_have_alone()
    {
        Design[] row = [.. RandomVan.Row(120)];

        Assert.True(AsAlone<FourLanes>(row) > 80);
        Assert.True(AsAlone<EightLanes>(row) > 60);
    }

    [Fact]
    public void A_van_whose_air_leaves_the_range_is_told_by_name_and_the_others_are_solved()
    {
        VanModel van = new(Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed), Assumptions.Likely);
        VanAirLanes<FourLanes> air = new([van, van, van, van]);
        FourLanes[] zoneC = [.. Enumerable.Repeat(FourLanes.Of(15), van.ZoneCount)];
        FourLanes[] ratio = [.. Enumerable.Repeat(FourLanes.Of(0.005), van.ZoneCount)];
        zoneC[1] = FourLanes.With(zoneC[1], 2, 85);

        FourLanes solved = air.Solve(zoneC, ratio, Weather(new Random(1)), occupied: true, covered: false, FourLanes.AllBits);

        Assert.Equal(0b1011u, FourLanes.Bits(solved));
        Assert.Contains(van.Night.Design.Zones[1].Name, Assert.IsType<AirOutOfRangeException>(air.Failure(2)).Message, StringComparison.Ordinal);
        Assert.Equal(air.OutdoorAirM3PerS[0], air.OutdoorAirM3PerS[3]);
    }

    // Groups of vans with as many zones; how many vans were compared.
    private static int AsAlone<TLane>(Design[] designs)
        where TLane : struct, ILane<TLane>
    {
        int compared = 0;
        VanModel[] models = [.. designs.Select(design => new VanModel(design, Assumptions.Likely))];
        foreach (VanModel[] group in models.GroupBy(van => van.ZoneCount).SelectMany(same => same.Chunk(TLane.Count)).Where(group => group.Length == TLane.Count))
        {
            compared += group.Length;
            AsAlone<TLane>(group);
        }

        return compared;
    }

    private static void AsAlone<TLane>(VanModel[] group)
        where TLane : struct, ILane<TLane>
    {
        Random random = new(group[0].FaceCount);
        int zones = group[0].ZoneCount;
        VanAirLanes<TLane> together = new(group);
        VanAirLanes<ScalarLane>[] alone = [.. group.Select(van => new VanAirLanes<ScalarLane>([van]))];
        for (int turn = 0; turn < 6; turn++)
        {
            TLane[] zoneC = Numbers(5, 25);
            TLane[] ratio = Numbers(0.003, 0.012);
            Outdoor outdoor = Weather(random);
            bool occupied = turn % 3 > 0;
            bool covered = turn % 2 > 0;
            for (int lane = 0; lane < group.Length; lane++)
            {
                Open(group[lane], lane);
            }

            Assert.True(TLane.All(together.Solve(zoneC, ratio, outdoor, occupied, covered, TLane.AllBits)));
            for (int lane = 0; lane < group.Length; lane++)
            {
                VanAirLanes<ScalarLane> one = alone[lane];
                ScalarLane[] itsC = [.. zoneC.Select(value => new ScalarLane(value[lane]))];
                ScalarLane[] itsRatio = [.. ratio.Select(value => new ScalarLane(value[lane]))];
                Assert.True(ScalarLane.All(one.Solve(itsC, itsRatio, outdoor, occupied, covered, ScalarLane.AllBits)));
                Same(one, lane);
            }
        }

        TLane[] Numbers(double low, double high) =>
            [.. Enumerable.Range(0, zones).Select(_ => TLane.Load([.. Enumerable.Range(0, TLane.Count).Select(_ => low + ((high - low) * random.NextDouble()))]))];

        void Open(VanModel van, int lane)
        {
            for (int opening = 0; opening < van.Night.Design.Openings.Length; opening++)
            {
                double share = random.Next(3) switch { 0 => 0, 1 => 0.25, _ => 1 };
                double speed = van.Night.Design.Openings[opening].Fan is null || share == 0 ? 0 : random.NextDouble();
                int place = together.PlaceOf(lane, opening);
                together.OpenShare[place] = TLane.With(together.OpenShare[place], lane, share);
                together.FanSpeed[place] = TLane.With(together.FanSpeed[place], lane, speed);
                place = alone[lane].PlaceOf(0, opening);
                alone[lane].OpenShare[place] = new ScalarLane(share);
                alone[lane].FanSpeed[place] = new ScalarLane(speed);
            }
        }

        void Same(VanAirLanes<ScalarLane> one, int lane)
        {
            Near(one.OutdoorAirM3PerS.Value, together.OutdoorAirM3PerS[lane]);
            Near(one.FanW.Value, together.FanW[lane]);
            Near(one.AboveCookerM3PerS.Value, together.AboveCookerM3PerS[lane]);
            Assert.Equal(one.NewtonSteps.Value, together.NewtonSteps[lane]);
            for (int at = 0; at < (zones + 1) * (zones + 1); at++)
            {
                Near(one.Flow.Transport[at].Value, together.Flow.Transport[at][lane]);
            }

            for (int zone = 0; zone < zones; zone++)
            {
                Near(one.Flow.AgeS()[zone].Value, together.Flow.AgeS()[zone][lane]);
            }

            BedAir bed = new(group[lane].Night);
            Near(bed.SpeedMPerS(one, 0), bed.SpeedMPerS(together, lane));
        }

        static void Near(double alone, double together) =>
            Assert.True(alone == together || Math.Abs(together - alone) <= 1e-12 * Math.Abs(alone), $"{together:R} together, {alone:R} alone");
    }

    private static Outdoor Weather(Random random) => new(
        TemperatureC: (40 * random.NextDouble()) - 15,
        VapourPressurePa: 100 + (1000 * random.NextDouble()),
        StationWindMPerS: 12 * random.NextDouble(),
        SunWPerM2: 0,
        Precipitation.None,
        PressurePa: 80_000 + (25_000 * random.NextDouble()),
        (Shelter)random.Next(3));
}
