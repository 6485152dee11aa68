using System.Globalization;
using ConsultDesk.Calculations.Airflow;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>
/// What must hold for any network, on a fixed row of random ones; their range stands at <see cref="RandomNetwork"/>.
/// AIR_NETWORKS in the environment sets how many are balanced (2,000 unless set).
/// </summary>
public sealed class RandomNetworkTests(ITestOutputHelper output)
{
    private const int Few = 500;

    // Any imbalance left in the zones can shift a flow by at most their sum.
    private static double FlowTolerance(Cabin cabin) => 2 * cabin.Network.ZoneCount * AirNetwork.ToleranceKgPerS;

    [Fact]
    public void Every_zone_takes_in_as_much_air_as_it_gives_off()
    {
        int count = int.Parse(Environment.GetEnvironmentVariable("AIR_NETWORKS") ?? "2000", CultureInfo.InvariantCulture);
        int failures = 0;
        double iterations = 0;
        double evaluations = 0;
        int mostIterations = 0;
        int mostEvaluations = 0;
        double largest = 0;
        int solved = 0;
        foreach (RandomNetwork network in RandomNetwork.Row(count))
        {
            Cabin cabin = network.Compile();
            if (!cabin.Network.TrySolve(cabin.State, cabin.Air))
            {
                failures++;
                continue;
            }

            solved++;
            iterations += cabin.Air.Iterations;
            evaluations += cabin.Air.Evaluations;
            mostIterations = Math.Max(mostIterations, cabin.Air.Iterations);
            mostEvaluations = Math.Max(mostEvaluations, cabin.Air.Evaluations);
            largest = Math.Max(largest, LargestImbalance(network, cabin.Air));
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{count} networks, {failures} not balanced; Newton steps {iterations / solved:f2} mean, {mostIterations} most; "
            + $"evaluations {evaluations / solved:f2} mean, {mostEvaluations} most; largest imbalance {largest:g3} kg/s"));
        Assert.Equal(0, failures);
        Assert.InRange(largest, 0, AirNetwork.ToleranceKgPerS);
    }

    [Fact]
    public void A_warm_start_gives_the_answer_of_a_cold_one()
    {
        RandomNetwork[] row = [.. RandomNetwork.Row(Few)];
        foreach (RandomNetwork network in row)
        {
            Cabin cabin = network.Compile();
            Cabin changed = (network with
            {
                TemperatureC = [.. network.TemperatureC.Select(t => 0.9 * t)],
                Paths = [.. network.Paths.Select(path => path with { WindPa = -0.5 * path.WindPa, Speed = path.Speed / 2 })],
            }).Compile();
            cabin.Solve();
            changed.Solve();
            CopyState(changed.State, cabin.State);

            cabin.Solve();

            AssertSame(changed.Air.NetMassFlowKgPerS, cabin.Air.NetMassFlowKgPerS, FlowTolerance(cabin));
        }
    }

    [Fact]
    public void Solving_again_from_the_answer_takes_no_step()
    {
        foreach (RandomNetwork network in RandomNetwork.Row(Few))
        {
            Cabin cabin = network.Compile();
            cabin.Solve();
            double[] first = cabin.Air.ZonePressurePa.ToArray();

            cabin.Solve();

            Assert.Equal(0, cabin.Air.Iterations);
            Assert.Equal(first, cabin.Air.ZonePressurePa.ToArray());
        }
    }

    [Fact]
    public void Numbering_the_zones_the_other_way_round_changes_no_flow()
    {
        foreach (RandomNetwork network in RandomNetwork.Row(Few))
        {
            Cabin cabin = network.Compile();
            Cabin mirrored = network.Compile(zone => -zone);

            cabin.Solve();
            mirrored.Solve();

            AssertSame(cabin.Air.NetMassFlowKgPerS, mirrored.Air.NetMassFlowKgPerS, FlowTolerance(cabin));
        }
    }

    [Fact]
    public void At_one_temperature_reversed_wind_and_fans_reverse_every_flow()
    {
        foreach (RandomNetwork any in RandomNetwork.Row(Few))
        {
            RandomNetwork network = any with
            {
                TemperatureC = [.. any.TemperatureC.Select(_ => 10.0)],
                HumidityRatioKgPerKg = [.. any.HumidityRatioKgPerKg.Select(_ => 0.005)],
            };
            RandomNetwork reversed = network with
            {
                Paths = [.. network.Paths.Select(path => path.Kind == PathKind.Fan
                    ? path with { From = path.To, To = path.From, WindPa = -path.WindPa }
                    : path with { WindPa = -path.WindPa })],
            };
            Cabin forth = network.Compile();
            Cabin back = reversed.Compile();

            forth.Solve();
            back.Solve();

            // A fan was turned round, so its flow keeps its sign; every other path was not.
            double[] expected = [.. forth.Air.NetMassFlowKgPerS.ToArray()
                .Select((flow, path) => network.Paths[path].Kind == PathKind.Fan ? flow : -flow)];
            AssertSame(expected, back.Air.NetMassFlowKgPerS, FlowTolerance(forth));
        }
    }

    [Fact]
    public void A_faster_fan_never_moves_less_air()
    {
        int fans = 0;
        foreach (RandomNetwork network in RandomNetwork.Row(Few))
        {
            int fan = Array.FindIndex(network.Paths, path => path.Kind == PathKind.Fan);
            if (fan < 0)
            {
                continue;
            }

            fans++;
            Cabin cabin = network.Compile();
            double before = double.NegativeInfinity;
            for (double speed = 0; speed <= 1; speed += 0.125)
            {
                cabin.State.FanSpeed[fan] = speed;
                double flow = cabin.Solve().NetMassFlowKgPerS[fan];

                Assert.True(flow >= before - FlowTolerance(cabin), $"{flow} after {before} kg/s at speed {speed} of {network}");
                before = flow;
            }
        }

        Assert.True(fans > Few / 2, $"only {fans} networks have a fan");
    }

    [Fact]
    public void Air_carried_into_a_zone_is_carried_out_of_it_and_no_air_is_younger_than_the_zone_lets_it_be()
    {
        foreach (RandomNetwork network in RandomNetwork.Row(Few))
        {
            Cabin cabin = network.Compile();
            AirFlowSolution air = cabin.Solve();
            int nodes = cabin.Network.NodeCount;
            for (int zone = 0; zone < network.Zones; zone++)
            {
                double inflow = 0;
                double outflow = 0;
                for (int node = 0; node < nodes; node++)
                {
                    double flow = air.TransportKgPerS[(zone * nodes) + node];
                    Assert.True(flow >= 0);
                    inflow += flow;
                    outflow += air.TransportKgPerS[(node * nodes) + zone];
                }

                Assert.Equal(inflow, air.ZoneInflowKgPerS[zone], 1e-15);
                Assert.Equal(inflow, outflow, AirNetwork.ToleranceKgPerS + (1e-12 * inflow));
                double massKg = air.ZoneDensityKgPerM3[zone] * network.VolumeM3[zone];
                Assert.True(air.ZoneAgeS[zone] >= massKg / inflow * (1 - 1e-6), $"{air.ZoneAgeS[zone]} s, {massKg} kg, {inflow} kg/s");
            }
        }
    }

    [Fact]
    public void Outdoor_air_leaves_at_the_age_of_all_the_air_inside_over_all_the_outdoor_air()
    {
        int sharp = 0;
        foreach (RandomNetwork network in RandomNetwork.Row(Few))
        {
            Cabin cabin = network.Compile();
            AirFlowSolution air = cabin.Solve();
            int nodes = cabin.Network.NodeCount;
            double massKg = 0;
            double exhaust = 0;
            double allowed = 1e-9;
            for (int zone = 0; zone < network.Zones; zone++)
            {
                double ageS = air.ZoneAgeS[zone];
                massKg += air.ZoneDensityKgPerM3[zone] * network.VolumeM3[zone];
                exhaust += air.TransportKgPerS[(network.Zones * nodes) + zone] * ageS;
                // An imbalance left in the zone, and flows too small to count, take its age with them.
                allowed += nodes * AirNetwork.ToleranceKgPerS * ageS;
            }

            if (allowed > 1e-3 * massKg)
            {
                continue;
            }

            sharp++;
            Assert.Equal(massKg, exhaust, allowed);
        }

        Assert.True(sharp > Few / 3, $"only {sharp} networks could be judged");
    }

    [Fact]
    public void Solving_allocates_nothing()
    {
        Cabin[] cabins = [.. RandomNetwork.Row(20).Select(network => network.Compile())];
        foreach (Cabin cabin in cabins)
        {
            cabin.Solve();
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        foreach (Cabin cabin in cabins)
        {
            cabin.Air.Reset();
            cabin.Network.Solve(cabin.State, cabin.Air);
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private static void CopyState(AirState from, AirState to)
    {
        from.ZoneTemperatureC.CopyTo(to.ZoneTemperatureC);
        from.ZoneHumidityRatioKgPerKg.CopyTo(to.ZoneHumidityRatioKgPerKg);
        from.PathWindPressurePa.CopyTo(to.PathWindPressurePa);
        from.FanSpeed.CopyTo(to.FanSpeed);
        to.OutdoorTemperatureC = from.OutdoorTemperatureC;
    }

    private static void AssertSame(ReadOnlySpan<double> expected, ReadOnlySpan<double> actual, double tolerance)
    {
        Assert.Equal(expected.Length, actual.Length);
        for (int i = 0; i < expected.Length; i++)
        {
            Assert.Equal(expected[i], actual[i], tolerance);
        }
    }

    // From the flows of the paths alone, not from what the solver says of itself.
    private static double LargestImbalance(RandomNetwork network, AirFlowSolution air)
    {
        var gain = new double[network.Zones + 1];
        for (int path = 0; path < network.Paths.Length; path++)
        {
            double net = air.ForwardMassFlowKgPerS[path] - air.BackwardMassFlowKgPerS[path];
            int from = network.Paths[path].From;
            int to = network.Paths[path].To;
            gain[from < 0 ? network.Zones : from] -= net;
            gain[to < 0 ? network.Zones : to] += net;
        }

        return gain.Take(network.Zones).Max(Math.Abs);
    }
}
