using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Airflow.Cabin;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>The laws of single paths, worked by hand, and what an answer says of itself.</summary>
public sealed class AirflowLawTests
{
    private static readonly Gen<double> Exponent = Gen.Double[0.5, 1];

    [Fact]
    public void An_orifice_passes_what_Bernoulli_says()
    {
        // Cd A sqrt(2 rho dp): 0.6 x 0.1 m2 x sqrt(2 x 1.2 x 4 Pa) = 0.18590 kg/s.
        Assert.Equal(0.18590, FlowLaw.OrificeCoefficient(0.6, 0.1) * Math.Sqrt(1.2) * FlowLaw.Unit(4, 0.5, out _), 5);
        Assert.Equal(0.18590 / 2, FlowLaw.OrificeCoefficient(0.6, 0.1) * Math.Sqrt(1.2) * FlowLaw.Unit(1, 0.5, out _), 5);
    }

    [Fact]
    public void A_crack_passes_at_four_pascals_what_its_leakage_area_says_whatever_its_exponent() =>
        // ASHRAE's effective leakage area (recalled): Q = A sqrt(2 x 4/1.2) at 4 Pa and standard air.
        Exponent.Sample(n =>
        {
            double massKgPerS = FlowLaw.CrackCoefficient(0.01, n) * Math.Pow(1.2, n) * FlowLaw.Unit(4, n, out _);
            Assert.Equal(1.2 * 0.01 * Math.Sqrt(8 / 1.2), massKgPerS, 1e-8);
            // Ten times the pressure gives 10^n times the flow.
            Assert.Equal(Math.Pow(10, n), FlowLaw.Unit(40, n, out _) / FlowLaw.Unit(4, n, out _), 1e-6);
        });

    [Fact]
    public void A_fan_moves_its_free_air_through_the_orifice_that_its_shut_off_pressure_would_drive() =>
        // c sqrt(rho P0) = Q0 rho at standard air.
        Assert.Equal(0.42 * 1.2, FlowLaw.FanCoefficient(0.42, 40) * Math.Sqrt(1.2 * 40), 1e-12);

    [Fact]
    public void A_path_passes_as_much_one_way_as_the_other_always_more_with_more_pressure_and_straight_through_none() =>
        Gen.Select(Exponent, Gen.Double[-6, 3], Gen.Double[1.001, 2]).Sample((n, power, more) =>
        {
            double pressurePa = Math.Pow(10, power);
            double there = FlowLaw.Unit(pressurePa, n, out double slope);
            Assert.Equal(-there, FlowLaw.Unit(-pressurePa, n, out double slopeBack));
            Assert.Equal(slope, slopeBack);
            Assert.True(there > 0 && slope > 0 && FlowLaw.Unit(more * pressurePa, n, out _) > there);
            double step = 1e-4 * pressurePa;
            double risen = (FlowLaw.Unit(pressurePa + step, n, out _) - FlowLaw.Unit(pressurePa - step, n, out _)) / (2 * step);
            Assert.Equal(risen, slope, 1e-6 * slope);
            Assert.Equal(0, FlowLaw.Unit(0, n, out double start));
            // At no pressure the slope is that of a straight line to the smoothing pressure, e^(n-1).
            Assert.Equal(Math.Pow(FlowLaw.SmoothingPressurePa, n - 1), start, 1e-9 * start);
        });

    [Fact]
    public void Smoothing_costs_a_quarter_per_cent_at_a_hundredth_of_a_pascal() =>
        Assert.Equal(0.9975, FlowLaw.Unit(0.01, 0.5, out _) / Math.Sqrt(0.01), 4);

    [Fact]
    public void The_quick_power_is_the_power_within_5e_11_for_any_number_of_lanes() =>
        Gen.Select(Exponent, Gen.Double[-24, 22]).Sample((n, power) =>
        {
            double x = Math.Pow(10, power);
            double exact = Math.Pow(x, (n - 1) / 2);
            double quick = Quick(x, n);
            Assert.Equal(exact, quick, 5e-11 * exact);
            Assert.Equal(quick, FlowPower.Of(FourLanes.Of(x), FourLanes.Of(FlowPower.Half(n)))[2]);
            Assert.Equal(quick, FlowPower.Of(EightLanes.Of(x), EightLanes.Of(FlowPower.Half(n)))[7]);
        });

    // The mantissa's range begins anew at odd powers of the root of 2, the power of two rounds at 2^(+-20/7) for this exponent.
    [Theory]
    [InlineData(-66.5)]
    [InlineData(-0.5)]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(20 / 7.0)]
    [InlineData(60.5)]
    public void The_quick_power_has_no_step_where_its_parts_begin_and_end(double power)
    {
        double at = Math.Pow(2, power);
        foreach (double x in new[] { at, at * (1 - 1e-15), at * (1 + 1e-15), 1.999999 * at })
        {
            double exact = Math.Pow(x, -0.175);
            Assert.Equal(exact, Quick(x, 0.65), 5e-11 * exact);
        }
    }

    private static double Quick(double x, double exponent) => FlowPower.Of(new ScalarLane(x), new ScalarLane(FlowPower.Half(exponent))).Value;

    [Fact]
    public void Through_a_lid_cold_air_sinks_as_Epstein_measured()
    {
        // Q = 0.055 sqrt(g drho/rho D^5) (Epstein 1988, recalled). D 0.4 m, 1.25 over 1.15 kg/m3: 0.055 sqrt(9.80665 x 0.1/1.2 x 0.01024) = 0.0050312 m3/s.
        Area circle = SquareMetres(Math.PI * 0.4 * 0.4 / 4);
        Density light = Density.FromKilogramsPerCubicMeter(1.15);
        Density heavy = Density.FromKilogramsPerCubicMeter(1.25);
        Assert.Equal(0.0050312, TwoWayExchange.Horizontal(circle, light, heavy).CubicMetersPerSecond, 6);
        Assert.Equal(0, TwoWayExchange.Horizontal(circle, heavy, light).CubicMetersPerSecond);
        Assert.Equal(0, TwoWayExchange.Horizontal(circle, light, light).CubicMetersPerSecond);
        // Twice the width, 2^2.5 times the exchange.
        Assert.Equal(
            Math.Pow(2, 2.5),
            TwoWayExchange.Horizontal(circle * 4, light, heavy).CubicMetersPerSecond / TwoWayExchange.Horizontal(circle, light, heavy).CubicMetersPerSecond,
            9);
    }

    [Fact]
    public void Through_a_doorway_warm_and_cold_air_change_places_as_Brown_and_Solvason_measured()
    {
        // (Cd/3) W H^1.5 sqrt(g dT/T) (recalled): 0.6/3 x 0.7 x 1.6^1.5 x sqrt(9.80665 x 20/283.15) = 0.235817 m3/s.
        VolumeFlow there = TwoWayExchange.Vertical(0.6, Metres(0.7), Metres(1.6), Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0));
        Assert.Equal(0.235817, there.CubicMetersPerSecond, 6);
        Assert.Equal(there, TwoWayExchange.Vertical(0.6, Metres(0.7), Metres(1.6), Temperature.FromDegreesCelsius(0), Temperature.FromDegreesCelsius(20)));
    }

    [Theory]
    [InlineData(3, 4, 0, 5)]
    [InlineData(3, 4, 2, 5 - (2 * 0.055 * 4 / Math.PI / 0.2))]
    [InlineData(3, 4, -2, 5 - (2 * 0.055 * 4 / Math.PI / 0.2))]
    [InlineData(3, 4, 100, 0)]
    public void What_is_left_of_an_exchange_falls_in_a_straight_line_with_the_net_flow(double buoyant, double gust, double net, double left) =>
        Assert.Equal(left, TwoWayExchange.LeftOverM3PerS(buoyant, gust, net), 9);

    [Theory]
    [InlineData(0, 0.6)]
    [InlineData(90, -0.44)]
    [InlineData(180, -0.36)]
    public void A_wall_is_pressed_and_sucked_as_Swami_and_Chandra_found(double degrees, double coefficient)
    {
        // Swami and Chandra 1988 in the form for a square plan; values of a public listing, two decimals.
        Assert.Equal(coefficient, WindPressure.WallCoefficient(Angle.FromDegrees(degrees)), 2);
        Assert.Equal(WindPressure.WallCoefficient(Angle.FromDegrees(degrees)), WindPressure.WallCoefficient(Angle.FromDegrees(-degrees)), 12);
        Assert.Equal(WindPressure.WallCoefficient(Angle.FromDegrees(degrees)), WindPressure.WallCoefficient(Angle.FromDegrees(degrees + 360)), 12);
    }

    [Fact]
    public void Wind_from_the_right_presses_the_right_wall_and_sucks_the_left()
    {
        double At(Face face, double degrees) => WindPressure.Coefficient(face, Angle.FromDegrees(degrees));
        (Face Face, double Degrees)[] pressed = [(Face.Nose, 0), (Face.Right, 90), (Face.Tail, 180), (Face.Left, 270)];
        foreach ((Face face, double degrees) in pressed)
        {
            Assert.Equal(0.6, At(face, degrees), 2);
            Assert.Equal(-0.36, At(face, degrees + 180), 2);
            Assert.Equal(-0.44, At(face, degrees + 90), 2);
            Assert.Equal(-0.44, At(face, degrees - 90), 2);
        }

        Assert.Equal((-0.4, 0), (At(Face.Roof, 33), At(Face.Floor, 33)));
        Assert.Contains("face of the body", Assert.Throws<ArgumentOutOfRangeException>(() => At((Face)99, 0)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Shelter_leaves_a_share_of_the_stations_wind_and_its_pressure_is_half_rho_U_squared()
    {
        Assert.Equal([0.2, 0.4, 0.6], new[] { Shelter.Sheltered, Shelter.Ordinary, Shelter.Exposed }.Select(WindPressure.ShelterFactor));
        Assert.Contains("sheltered, ordinary or exposed", Assert.Throws<ArgumentOutOfRangeException>(() => WindPressure.ShelterFactor((Shelter)9)).Message, StringComparison.Ordinal);
        Assert.Equal(60, WindPressure.DynamicPressure(Density.FromKilogramsPerCubicMeter(1.2), Speed.FromMetersPerSecond(10)).Pascals, 12);
    }

    [Fact]
    public void The_age_of_two_rooms_that_exchange_air_is_that_of_their_two_balances()
    {
        // Sandberg's balance by hand: room 1 of 12 kg takes 0.02 kg/s from outside and 0.03 from room 2; room 2 of 6 kg takes 0.03 from room 1 only.
        // 0.05 t1 = 12 + 0.03 t2, 0.03 t2 = 6 + 0.03 t1: t1 = 18/0.02 = 900 s, t2 = 1100 s. Room 3 gets nothing and no age; room 4 only air of room 3.
        double[] age = Ages([12, 6, 5, 4], [(0, 4, 0.02), (0, 1, 0.03), (1, 0, 0.03), (3, 2, 0.01)]);
        Assert.Equal(900, age[0], 9);
        Assert.Equal(1100, age[1], 9);
        Assert.Equal(double.PositiveInfinity, age[2]);
        Assert.Equal(double.PositiveInfinity, age[3]);
        // What leaks out of a room that gets no air itself (a remainder of the solver's tolerance) brings no age along.
        Assert.Equal(12 / 0.02, Ages([12, 6], [(0, 2, 0.02), (0, 1, 0.01)])[0], 9);
        // In whatever order the rooms are numbered.
        double[] turned = Ages([6, 5, 12], [(2, 3, 0.02), (2, 0, 0.03), (0, 2, 0.03)]);
        Assert.Equal(1100, turned[0], 9);
        Assert.Equal(double.PositiveInfinity, turned[1]);
        Assert.Equal(900, turned[2], 9);
        // Air in the order of the solver's tolerance is no air.
        Assert.Equal(double.PositiveInfinity, Ages([12], [(0, 1, 0.9e-9)])[0]);
        Assert.Equal(12 / 1.1e-9, Ages([12], [(0, 1, 1.1e-9)])[0], 1);
    }

    [Fact]
    public void Three_rooms_in_a_ring_are_as_old_as_their_balances_say() =>
        // Outdoor air 0.05 kg/s enters room 1, which also gets 0.02 back from room 3; 1 to 2, 2 to 3: 0.07 each; room 3 gives 0.05 away.
        // t2 = t1 + 7/0.07 = t1 + 100, t3 = t2 + 100; 0.07 t1 = 7 + 0.02 (t1 + 200): t1 = 11/0.05 = 220.
        Assert.Equal([220, 320, 420], Ages([7, 7, 7], [(0, 3, 0.05), (0, 2, 0.02), (1, 0, 0.07), (2, 1, 0.07)]).Select(age => Math.Round(age, 9)));

    [Fact]
    public void A_new_state_is_still_air_at_sea_level_with_all_open_and_asks_for_temperatures_and_fan_speeds()
    {
        Cabin cabin = OneRoom(out int fan, out int window);
        AirState state = cabin.Network.CreateState();

        Assert.Equal(101_325, state.BarometricPressurePa);
        Assert.Equal((0, 0), (state.WindSpeedMPerS, state.OutdoorHumidityRatioKgPerKg));
        Assert.True(double.IsNaN(state.OutdoorTemperatureC) && double.IsNaN(state.ZoneTemperatureC[0]) && double.IsNaN(state.FanSpeed[fan]));
        Assert.Equal(0, state.FanSpeed[window]);
        Assert.Equal([1.0, 1.0], state.PathOpenShare.ToArray());
        Assert.Equal([0.0, 0.0], state.PathWindPressurePa.ToArray());
        state.OutdoorTemperatureC = 5;
        state.OutdoorHumidityRatioKgPerKg = 0.004;
        state.ZoneHumidityRatioKgPerKg[0] = 0.008;
        Assert.Equal((5, 0.004, 0.008), (state.OutdoorTemperatureC, state.OutdoorHumidityRatioKgPerKg, state.ZoneHumidityRatioKgPerKg[0]));
        Assert.Equal(1, state.ZoneTemperatureC.Length);
    }

    [Fact]
    public void Before_it_is_solved_a_solution_has_no_answer_to_read()
    {
        Cabin cabin = OneRoom(out int fan, out _);
        AirNode room = AirNode.Outside;
        Action<AirFlowSolution>[] readings =
        [
            air => _ = air.ZonePressurePa[0],
            air => _ = air.ZoneDensityKgPerM3[0],
            air => _ = air.OutdoorDensityKgPerM3,
            air => _ = air.NetMassFlowKgPerS[0],
            air => _ = air.ForwardMassFlowKgPerS[0],
            air => _ = air.BackwardMassFlowKgPerS[0],
            air => _ = air.TransportKgPerS[0],
            air => _ = air.ZoneInflowKgPerS[0],
            air => _ = air.ZoneAgeS[0],
            air => air.OutdoorAir(),
            air => air.Transfer(room, room),
            air => air.FanPoint(fan),
        ];
        Assert.All(readings, read => Assert.Contains("has not been solved", Assert.Throws<InvalidOperationException>(() => read(cabin.Air)).Message, StringComparison.Ordinal));
        cabin.Solve();
        Assert.All(readings, read => read(cabin.Air));
        cabin.Air.Reset();
        Assert.All(readings, read => Assert.Throws<InvalidOperationException>(() => read(cabin.Air)));
    }

    [Fact]
    public void An_answer_tells_the_same_flow_by_mass_by_volume_by_path_and_by_zone()
    {
        Cabin cabin = OneRoom(out int fan, out int window);
        cabin.State.ZoneTemperatureC.Fill(25);
        cabin.State.OutdoorTemperatureC = -5;
        AirFlowSolution air = cabin.Solve();
        AirNode room = cabin.Room;

        double kgPerS = air.NetMassFlowKgPerS[fan];
        Assert.True(kgPerS > 0.01);
        double inside = DryAir(25).KilogramsPerCubicMeter;
        double outside = DryAir(-5).KilogramsPerCubicMeter;
        Assert.Equal(inside, air.ZoneDensityKgPerM3[0], 12);
        Assert.Equal(outside, air.OutdoorDensityKgPerM3, 12);
        Assert.Equal(kgPerS / inside, air.ForwardFlow(fan).CubicMetersPerSecond, 9);
        Assert.Equal(0, air.BackwardFlow(fan).CubicMetersPerSecond);
        // The window was added from outside into the room.
        Assert.Equal(kgPerS / outside, air.ForwardFlow(window).CubicMetersPerSecond, 6);
        Assert.Equal(kgPerS / outside, air.OutdoorAir().CubicMetersPerSecond, 6);
        Assert.Equal(air.OutdoorAir(), air.OutdoorAir(room));
        Assert.Equal(kgPerS, air.Transfer(room, AirNode.Outside).KilogramsPerSecond, 6);
        Assert.Equal(kgPerS, air.Transfer(AirNode.Outside, room).KilogramsPerSecond, 6);
        Assert.Equal(air.OutdoorAir().CubicMetersPerSecond * 3600 / 10, air.AirChangesPerHour(), 9);
        Assert.Equal(10 * inside / air.ZoneInflowKgPerS[0], air.AgeOfAir(room).Seconds, 6);
        Assert.Equal(kgPerS / inside, air.FanPoint(fan)!.Flow.CubicMetersPerSecond, 9);
        // An exhausting fan sucks.
        Assert.True(air.Suction(room).Pascals > 0);
        Assert.Equal(-air.ZonePressurePa[0], air.Suction(room).Pascals);
    }

    [Fact]
    public void Outdoor_air_is_told_zone_by_zone_and_adds_up()
    {
        // Two rooms of their own, each blown through: 0.01 and 0.03 kg/s or so, in the second more.
        Cabin cabin = new();
        AirNode[] rooms = [cabin.Builder.AddZone("one", Volume.FromCubicMeters(4)), cabin.Builder.AddZone("two", Volume.FromCubicMeters(6)), cabin.Builder.AddZone("three", Volume.FromCubicMeters(2))];
        foreach ((AirNode room, double m3PerS) in rooms.Zip([0.01, 0.03, 0.02]))
        {
            cabin.Builder.AddFan($"fan {room.ZoneIndex}", Outside, room, Metres(1), VolumeFlow.FromCubicMetersPerSecond(m3PerS), Pressure.FromPascals(40));
            cabin.Builder.AddOrifice($"hole {room.ZoneIndex}", room, Outside, Metres(1), SquareMetres(1));
        }

        AirFlowSolution air = cabin.Compile(StandardAirC).Solve();
        // Against a hole of a square metre each fan moves its free air.
        Assert.All(rooms.Zip([0.01, 0.03, 0.02]), pair => Assert.Equal(pair.Second, air.OutdoorAir(pair.First).CubicMetersPerSecond, 1e-5));
        Assert.Equal(0.06, air.OutdoorAir().CubicMetersPerSecond, 1e-5);
        Assert.Equal(0.06 * 3600 / 12, air.AirChangesPerHour(), 1e-2);
        Assert.All(rooms.Zip([400.0, 200, 100]), pair => Assert.Equal(pair.Second, air.AgeOfAir(pair.First).Seconds, 0.5));
    }

    [Fact]
    public void After_forgetting_its_pressures_a_solution_takes_the_steps_of_a_cold_start()
    {
        Cabin cabin = OneRoom(out _, out _);
        int cold = cabin.Solve().Iterations;
        Assert.True(cold > 0);
        Assert.Equal(0, cabin.Solve().Iterations);
        cabin.Air.Reset();
        Assert.Equal(cold, cabin.Solve().Iterations);
    }

    [Fact]
    public void A_fans_point_lies_on_its_parabola_and_only_a_running_open_fan_has_one()
    {
        Cabin cabin = OneRoom(out int fan, out int window);
        cabin.State.FanSpeed[fan] = 0.5;
        FanOperatingPoint point = cabin.Solve().FanPoint(fan)!;

        double share = point.ShareOfFreeAirFlow.DecimalFractions;
        Assert.Equal(0.05, point.FreeAirFlow.CubicMetersPerSecond, 9);
        Assert.Equal(point.Flow / point.FreeAirFlow, share, 9);
        // dp = P0 s2 (1 - (Q/(s Q0))2): 40 Pa at full speed, 10 Pa at half.
        Assert.Equal(10, point.ShutOffPressure.Pascals, 6);
        Assert.Equal(10 * (1 - (share * share)), point.PressureRise.Pascals, 3);

        Assert.Contains("'window'", Assert.Throws<ArgumentException>(() => cabin.Air.FanPoint(window)).Message, StringComparison.Ordinal);
        cabin.State.PathOpenShare[fan] = 0;
        Assert.Null(cabin.Solve().FanPoint(fan));
        cabin.State.PathOpenShare[fan] = 1;
        cabin.State.FanSpeed[fan] = 0;
        Assert.Null(cabin.Solve().FanPoint(fan));
    }

    [Fact]
    public void A_fan_driven_backwards_is_told_at_the_density_of_the_air_it_gets()
    {
        Cabin cabin = OneRoom(out int fan, out _);
        cabin.State.ZoneTemperatureC.Fill(20);
        cabin.State.OutdoorTemperatureC = 0;
        cabin.State.FanSpeed[fan] = 0.1;
        cabin.State.PathWindPressurePa[fan] = 200;
        AirFlowSolution air = cabin.Solve();
        FanOperatingPoint point = air.FanPoint(fan)!;

        Assert.True(air.NetMassFlowKgPerS[fan] < 0);
        Assert.Equal(air.NetMassFlowKgPerS[fan] / DryAir(0).KilogramsPerCubicMeter, point.Flow.CubicMetersPerSecond, 9);
        Assert.Equal(point.Flow / point.FreeAirFlow, point.ShareOfFreeAirFlow.DecimalFractions, 9);
        Assert.True(point.PressureRise > point.ShutOffPressure);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(1)]
    public void The_ends_of_what_a_crack_may_be_are_accepted(double exponent)
    {
        AirNetworkBuilder builder = new();
        AirNode room = builder.AddZone("cabin", Volume.FromCubicMeters(10));
        Assert.Equal(0, builder.AddCrack("crack", Outside, room, Metres(1), SquareCentimetres(10), exponent));
        Assert.Equal(1, builder.AddOrifice("hole", Outside, room, Metres(1), SquareCentimetres(10), dischargeCoefficient: 1));
        Assert.Equal(2, builder.AddHorizontalOpening("lid", room, Outside, Metres(2), SquareCentimetres(10), windExchange: 0.1));
        Assert.Equal(3, builder.AddVerticalOpening("window", Outside, room, Metres(1), Metres(1.5), SquareCentimetres(10), windExchange: 0.1));
        Assert.Equal(4, builder.AddMixing("mixing", room, Outside, VolumeFlow.Zero));
        AirNetwork network = builder.Build();
        Assert.Equal((1, 2, 5), (network.ZoneCount, network.NodeCount, network.PathCount));
        Assert.Equal(("cabin", "window"), (network.ZoneId(0), network.PathId(3)));
        Assert.Equal([10.0], network.ZoneVolumeM3.ToArray());
    }

    [Fact]
    public void What_cannot_be_a_path_is_refused_with_the_reason()
    {
        AirNetworkBuilder builder = new();
        AirNode room = builder.AddZone("cabin", Volume.FromCubicMeters(10));
        AirNetworkBuilder large = new();
        large.AddZone("one", Volume.FromCubicMeters(1));
        AirNode stranger = large.AddZone("two", Volume.FromCubicMeters(1));
        VolumeFlow flow = VolumeFlow.FromCubicMetersPerSecond(0.1);
        Pressure pressure = Pressure.FromPascals(40);

        Refused("'a': expected a flow exponent from 0.5 to 1", () => builder.AddCrack("a", Outside, room, Metres(1), SquareCentimetres(10), 1.0001));
        Refused("'a': expected a flow exponent from 0.5 to 1", () => builder.AddCrack("a", Outside, room, Metres(1), SquareCentimetres(10), 0.4999));
        Refused("'b': expected more than 0 m2", () => builder.AddCrack("b", Outside, room, Metres(1), Area.Zero, 0.65));
        Refused("'c': expected a discharge coefficient", () => builder.AddOrifice("c", Outside, room, Metres(1), SquareCentimetres(10), 0));
        Refused("'c': expected a discharge coefficient", () => builder.AddVerticalOpening("c", Outside, room, Metres(1), Metres(2), SquareCentimetres(10), 1.01));
        Refused("'c': expected a discharge coefficient", () => builder.AddHorizontalOpening("c", room, Outside, Metres(1), SquareCentimetres(10), 1.01));
        Refused("'d': expected a wind exchange", () => builder.AddVerticalOpening("d", Outside, room, Metres(1), Metres(2), SquareCentimetres(10), windExchange: 0.11));
        Refused("'d': expected a wind exchange", () => builder.AddHorizontalOpening("d", room, Outside, Metres(1), SquareCentimetres(10), windExchange: -0.01));
        Refused("'d': expected a wind exchange", () => builder.AddFan("d", room, Outside, Metres(1), flow, pressure, windExchange: 0.11));
        Refused("'e': expected more than 0 m above its bottom", () => builder.AddVerticalOpening("e", Outside, room, Metres(2), Metres(1), SquareCentimetres(10)));
        Refused("'f': expected more than 0 m2", () => builder.AddVerticalOpening("f", Outside, room, Metres(1), Metres(2), Area.Zero));
        Refused("'f': expected more than 0 m2", () => builder.AddHorizontalOpening("f", room, Outside, Metres(1), Area.Zero));
        Refused("'g': expected 0 m2 or more", () => builder.AddFan("g", room, Outside, Metres(1), flow, pressure, horizontalFreeArea: SquareMetres(-0.1)));
        Refused("'h': expected 0 m3/s or more", () => builder.AddMixing("h", room, Outside, -flow));
        Refused("'i' ends in a zone of another network", () => builder.AddMixing("i", room, stranger, flow));
        Refused("'i' ends in a zone of another network", () => builder.AddMixing("i", stranger, room, flow));
        Refused("'j' must join two different nodes", () => builder.AddMixing("j", Outside, Outside, flow));
        Refused("There is already a zone 'cabin'", () => builder.AddZone("cabin", Volume.FromCubicMeters(1)));
        Refused("'void': expected more than 0 m3", () => builder.AddZone("void", Volume.Zero));
        Assert.ThrowsAny<ArgumentException>(() => builder.AddZone(" ", Volume.FromCubicMeters(1)));

        static void Refused(string words, Action add) => Assert.Contains(words, Assert.ThrowsAny<ArgumentException>(add).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Gusts_pass_air_through_an_opening_to_outside_and_through_none_inside()
    {
        Cabin cabin = new();
        AirNode living = cabin.Builder.AddZone("living", Volume.FromCubicMeters(8));
        AirNode bed = cabin.Builder.AddZone("bed", Volume.FromCubicMeters(4));
        int window = cabin.Builder.AddVerticalOpening("window", Outside, living, Metres(1), Metres(1.5), SquareMetres(0.2), windExchange: 0.05);
        int door = cabin.Builder.AddVerticalOpening("door", living, bed, Metres(1), Metres(1.5), SquareMetres(0.2), windExchange: 0.05);
        cabin.Compile(StandardAirC);
        cabin.State.WindSpeedMPerS = 4;
        AirFlowSolution air = cabin.Solve();

        // Each way 0.05 x 0.2 m2 x 4 m/s.
        Assert.Equal(0.04, air.ForwardFlow(window).CubicMetersPerSecond, 9);
        Assert.Equal(0.04, air.BackwardFlow(window).CubicMetersPerSecond, 9);
        Assert.Equal(0, air.ForwardFlow(door).CubicMetersPerSecond, 9);
        Assert.Equal(double.PositiveInfinity, air.ZoneAgeS[bed.ZoneIndex]);
    }

    [Fact]
    public void What_stands_half_open_passes_half_the_gusts_and_half_the_mixing()
    {
        Cabin cabin = new();
        AirNode living = cabin.Builder.AddZone("living", Volume.FromCubicMeters(8));
        AirNode bed = cabin.Builder.AddZone("bed", Volume.FromCubicMeters(4));
        int window = cabin.Builder.AddVerticalOpening("window", Outside, living, Metres(1), Metres(1.5), SquareMetres(0.2), windExchange: 0.05);
        cabin.Builder.AddOrifice("gap", living, bed, Metres(1), SquareCentimetres(50));
        int curtain = cabin.Builder.AddMixing("curtain", living, bed, VolumeFlow.FromCubicMetersPerHour(50));
        cabin.Compile(StandardAirC);
        cabin.State.WindSpeedMPerS = 4;
        cabin.State.PathOpenShare[window] = 0.5;
        cabin.State.PathOpenShare[curtain] = 0.5;
        AirFlowSolution air = cabin.Solve();

        // Both are proportional to the area: 0.05 x 0.1 m2 x 4 m/s each way, and half of 50 m3/h.
        Assert.Equal(0.02, air.ForwardFlow(window).CubicMetersPerSecond, 9);
        Assert.Equal(25, air.ForwardFlow(curtain).CubicMetersPerHour, 6);
        Assert.Equal(25, air.BackwardFlow(curtain).CubicMetersPerHour, 6);
    }

    [Theory]
    [InlineData(true, 0, 20, true)]
    [InlineData(true, 20, 0, false)]
    [InlineData(false, 0, 20, false)]
    [InlineData(false, 20, 0, true)]
    public void Through_a_stopped_fan_in_a_lid_cold_air_falls_past_warm_whichever_way_it_blows(bool blowsUp, double fromC, double toC, bool settled)
    {
        // A fan that blows up lies below what it blows into: cold air under warm stays where it is.
        Cabin cabin = new();
        AirNode from = cabin.Builder.AddZone("from", Volume.FromCubicMeters(5));
        AirNode to = cabin.Builder.AddZone("to", Volume.FromCubicMeters(5));
        int fan = cabin.Builder.AddFan(
            "fan", from, to, Metres(1), VolumeFlow.FromCubicMetersPerSecond(0.1), Pressure.FromPascals(40), SquareMetres(0.1), blowsUp);
        cabin.Builder.AddOrifice("a", Outside, from, Metres(1), SquareCentimetres(10));
        cabin.Builder.AddOrifice("b", Outside, to, Metres(1), SquareCentimetres(10));
        cabin.Compile(10);
        cabin.State.FanSpeed.Clear();
        cabin.State.ZoneTemperatureC[from.ZoneIndex] = fromC;
        cabin.State.ZoneTemperatureC[to.ZoneIndex] = toC;
        AirFlowSolution air = cabin.Solve();

        double exchanged = Math.Min(air.ForwardMassFlowKgPerS[fan], air.BackwardMassFlowKgPerS[fan]);
        Assert.Equal(settled, exchanged < 1e-9);
    }

    private static double[] Ages(double[] massKg, (int Into, int From, double KgPerS)[] flows)
    {
        int zones = massKg.Length;
        double[] transport = new double[(zones + 1) * (zones + 1)];
        foreach ((int into, int from, double kgPerS) in flows)
        {
            transport[(into * (zones + 1)) + from] = kgPerS;
        }

        double[] age = new double[zones];
        AgeOfAir.Solve(transport, massKg, age);
        return age;
    }

    // Ten cubic metres with a fan that blows out, 0.1 m3/s at most and 40 Pa, and a window of 200 cm2.
    private static Cabin OneRoom(out int fan, out int window)
    {
        Cabin cabin = new();
        cabin.Room = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        fan = cabin.Builder.AddFan("fan", cabin.Room, Outside, Metres(1), VolumeFlow.FromCubicMetersPerSecond(0.1), Pressure.FromPascals(40));
        window = cabin.Builder.AddOrifice("window", Outside, cabin.Room, Metres(1), SquareCentimetres(200));
        return cabin.Compile(StandardAirC);
    }
}
