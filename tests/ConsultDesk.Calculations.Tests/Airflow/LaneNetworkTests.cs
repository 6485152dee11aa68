using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Lanes;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>
/// Networks solved side by side against the same networks alone, on the fixed row of random ones; what a network alone must do is tested there.
/// Neighbours have the same number of zones and anything else as it comes, so that most places are empty in some lane.
/// </summary>
public sealed class LaneNetworkTests(ITestOutputHelper output)
{
    private const int Count = 2000;

    [Fact]
    public void Four_networks_side_by_side_have_the_answers_they_have_alone() => AsAlone<FourLanes>();

    [Fact]
    public void Eight_networks_side_by_side_have_the_answers_they_have_alone() => AsAlone<EightLanes>();

    [Fact]
    public void Who_stands_beside_a_network_changes_nothing_in_it()
    {
        foreach (Cabin[] group in Groups<EightLanes>(400))
        {
            Cabin[] among = [.. group];
            Cabin[] twins = [.. Enumerable.Repeat(group[3], EightLanes.Count)];

            LaneAirFlow<EightLanes> beside = Solved<EightLanes>(among, out LaneNetwork<EightLanes> mixed);
            LaneAirFlow<EightLanes> alike = Solved<EightLanes>(twins, out LaneNetwork<EightLanes> same);

            for (int zone = 0; zone < mixed.ZoneCount; zone++)
            {
                Assert.Equal(alike.Pressure[zone][0], beside.Pressure[zone][3]);
                Assert.Equal(alike.AgeS()[zone][0], beside.AgeS()[zone][3]);
            }

            for (int path = 0; path < group[3].Network.PathCount; path++)
            {
                Assert.Equal(alike.OutKgPerS(same.PlaceOf(0, path))[0], beside.OutKgPerS(mixed.PlaceOf(3, path))[3]);
                Assert.Equal(alike.BackKgPerS(same.PlaceOf(0, path))[0], beside.BackKgPerS(mixed.PlaceOf(3, path))[3]);
            }
        }
    }

    [Fact]
    public void Alike_networks_need_no_more_places_than_one()
    {
        Cabin cabin = RandomNetwork.Row(10).Last().Compile();

        LaneNetwork<FourLanes> network = new([cabin.Network, cabin.Network, cabin.Network, cabin.Network]);

        Assert.Equal(cabin.Network.PathCount, network.PathCount);
        Assert.Equal(cabin.Network.Lanes.LinkCount, network.LinkCount);
    }

    [Fact]
    public void A_lane_that_cannot_be_solved_is_told_and_leaves_the_others_alone()
    {
        Cabin[] group = Groups<FourLanes>(200).First(cabins => cabins[0].Network.ZoneCount == 3);
        LaneAirFlow<FourLanes> expected = Solved<FourLanes>(group, out _);
        LaneNetwork<FourLanes> network = new([.. group.Select(cabin => cabin.Network)]);
        LaneAirState<FourLanes> state = State(network, group);
        LaneAirFlow<FourLanes> flow = network.CreateFlow();

        state.TemperatureC[1] = FourLanes.With(state.TemperatureC[1], 2, double.NaN);
        FourLanes solved = network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, FourLanes.AllBits);

        Assert.Equal(0b1011u, FourLanes.Bits(solved));
        Assert.False(flow.Imbalance[2] <= AirNetwork.ToleranceKgPerS);
        Same([0, 1, 3]);

        // Everything shut: no zone has a path to outside.
        foreach (int place in Enumerable.Range(0, network.PathCount))
        {
            state.Open[place] = FourLanes.With(state.Open[place], 1, 0);
        }

        FourLanes again = network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, FourLanes.AllBits);

        Assert.Equal(0b1001u, FourLanes.Bits(again));
        Same([0, 3]);

        // Mended, it starts anew.
        foreach (int place in Enumerable.Range(0, network.PathCount))
        {
            state.Open[place] = FourLanes.Of(1);
        }

        state.TemperatureC[1] = FourLanes.With(state.TemperatureC[1], 2, group[2].State.TemperatureC[1]);
        Assert.True(FourLanes.All(network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, FourLanes.AllBits)));
        Same([0, 1, 2, 3]);

        void Same(int[] lanes)
        {
            foreach (int lane in lanes)
            {
                for (int zone = 0; zone < network.ZoneCount; zone++)
                {
                    Assert.Equal(expected.Pressure[zone][lane], flow.Pressure[zone][lane]);
                }
            }
        }
    }

    [Fact]
    public void A_lane_out_of_steps_is_told_and_the_others_are_done()
    {
        int told = 0;
        foreach (Cabin[] group in Groups<EightLanes>(200))
        {
            LaneNetwork<EightLanes> network = new([.. group.Select(cabin => cabin.Network)]);
            LaneAirFlow<EightLanes> flow = network.CreateFlow();

            EightLanes solved = network.Solve(State(network, group), flow, AirNetwork.ToleranceKgPerS, 5, EightLanes.AllBits);

            for (int lane = 0; lane < EightLanes.Count; lane++)
            {
                bool alone = group[lane].Network.TrySolve(group[lane].State, group[lane].Air, 5);
                Assert.Equal(alone, (EightLanes.Bits(solved) >> lane & 1) != 0);
                Assert.Equal(group[lane].Air.Iterations, flow.Iterations[lane]);
                told += alone ? 0 : 1;
            }
        }

        Assert.InRange(told, 20, 180);
    }

    [Fact]
    public void A_lane_nobody_asks_for_is_left_out()
    {
        Cabin[] group = Groups<FourLanes>(100).First();
        LaneAirFlow<FourLanes> expected = Solved<FourLanes>(group, out _);
        LaneNetwork<FourLanes> network = new([.. group.Select(cabin => cabin.Network)]);
        LaneAirState<FourLanes> state = State(network, group);
        state.TemperatureC[0] = FourLanes.With(state.TemperatureC[0], 1, double.NaN);
        LaneAirFlow<FourLanes> flow = network.CreateFlow();

        FourLanes solved = network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, FourLanes.Mask(0b1101));

        Assert.Equal(0b1101u, FourLanes.Bits(solved));
        Assert.Equal(0, flow.Iterations[1]);
        Assert.Equal(expected.Pressure[0][3], flow.Pressure[0][3]);
    }

    [Fact]
    public void Networks_of_other_sizes_or_numbers_are_refused()
    {
        Cabin[] row = [.. RandomNetwork.Row(100).Select(network => network.Compile())];
        AirNetwork one = row.First(cabin => cabin.Network.ZoneCount == 1).Network;
        AirNetwork two = row.First(cabin => cabin.Network.ZoneCount == 2).Network;

        Assert.Throws<ArgumentException>(() => new LaneNetwork<FourLanes>([one, one, two, one]));
        Assert.Throws<ArgumentException>(() => new LaneNetwork<FourLanes>([one, one, one]));
    }

    [Fact]
    public void Solving_side_by_side_allocates_nothing()
    {
        foreach (Cabin[] group in Groups<EightLanes>(200))
        {
            LaneNetwork<EightLanes> network = new([.. group.Select(cabin => cabin.Network)]);
            LaneAirState<EightLanes> state = State(network, group);
            LaneAirFlow<EightLanes> flow = network.CreateFlow();
            _ = network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, EightLanes.AllBits);
            flow.Reset();

            long before = GC.GetAllocatedBytesForCurrentThread();
            _ = network.Solve(state, flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, EightLanes.AllBits);
            _ = flow.AgeS();

            Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        }
    }

    private void AsAlone<TLane>()
        where TLane : struct, ILane<TLane>
    {
        double largest = 0;
        int compared = 0;
        int groups = 0;
        foreach (Cabin[] group in Groups<TLane>(Count))
        {
            groups++;
            LaneAirFlow<TLane> flow = Solved<TLane>(group, out LaneNetwork<TLane> network);
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                Cabin cabin = group[lane];
                AirFlowSolution alone = cabin.Solve();
                Assert.Equal(alone.Iterations, flow.Iterations[lane]);
                Compare(alone.ZonePressurePa, zone => flow.Pressure[zone][lane]);
                Compare(alone.ZoneAgeS, zone => flow.AgeS()[zone][lane]);
                Compare(alone.TransportKgPerS, at => flow.Transport[at][lane]);
                Paths(cabin.Network, lane, network, alone, flow);
            }
        }

        output.WriteLine($"{groups} groups of {TLane.Count}, {compared} numbers, largest difference {largest:g3}");
        Assert.True(groups > Count / TLane.Count / 2);

        void Compare(ReadOnlySpan<double> alone, Func<int, double> beside)
        {
            for (int i = 0; i < alone.Length; i++)
            {
                Near(alone[i], beside(i));
            }
        }

        void Near(double alone, double beside)
        {
            compared++;
            double difference = alone == beside ? 0 : Math.Abs(beside - alone) / Math.Abs(alone);
            Assert.True(difference <= 1e-12, $"{beside:R} beside others, {alone:R} alone");
            largest = Math.Max(largest, difference);
        }

        void Paths(AirNetwork one, int lane, LaneNetwork<TLane> network, AirFlowSolution alone, LaneAirFlow<TLane> flow)
        {
            for (int path = 0; path < one.PathCount; path++)
            {
                int place = network.PlaceOf(lane, path);
                bool forward = (TLane.Bits(network.LeadsForward(place)) >> lane & 1) != 0;
                Near(alone.NetMassFlowKgPerS[path], forward ? flow.NetKgPerS(place)[lane] : -flow.NetKgPerS(place)[lane]);
                Near(alone.ForwardMassFlowKgPerS[path], forward ? flow.OutKgPerS(place)[lane] : flow.BackKgPerS(place)[lane]);
                Near(alone.BackwardMassFlowKgPerS[path], forward ? flow.BackKgPerS(place)[lane] : flow.OutKgPerS(place)[lane]);
            }
        }
    }

    private static LaneAirFlow<TLane> Solved<TLane>(Cabin[] group, out LaneNetwork<TLane> network)
        where TLane : struct, ILane<TLane>
    {
        network = new LaneNetwork<TLane>([.. group.Select(cabin => cabin.Network)]);
        LaneAirFlow<TLane> flow = network.CreateFlow();
        Assert.True(TLane.All(network.Solve(State(network, group), flow, AirNetwork.ToleranceKgPerS, AirNetwork.MaximumIterations, TLane.AllBits)));
        return flow;
    }

    private static LaneAirState<TLane> State<TLane>(LaneNetwork<TLane> network, Cabin[] group)
        where TLane : struct, ILane<TLane>
    {
        LaneAirState<TLane> state = network.CreateState();
        for (int lane = 0; lane < TLane.Count; lane++)
        {
            AirState from = group[lane].State;
            for (int node = 0; node <= network.ZoneCount; node++)
            {
                state.TemperatureC[node] = TLane.With(state.TemperatureC[node], lane, from.TemperatureC[node]);
                state.HumidityRatioKgPerKg[node] = TLane.With(state.HumidityRatioKgPerKg[node], lane, from.HumidityRatioKgPerKg[node]);
            }

            state.BarometricPressurePa = TLane.With(state.BarometricPressurePa, lane, from.BarometricPressurePa);
            state.WindSpeedMPerS = TLane.With(state.WindSpeedMPerS, lane, from.WindSpeedMPerS);
            for (int path = 0; path < group[lane].Network.PathCount; path++)
            {
                int place = network.PlaceOf(lane, path);
                state.WindPa[place] = TLane.With(state.WindPa[place], lane, from.WindPa[path]);
                state.Open[place] = TLane.With(state.Open[place], lane, from.Open[path]);
                state.Speed[place] = TLane.With(state.Speed[place], lane, from.Speed[path]);
            }
        }

        return state;
    }

    // The row in groups with the same number of zones.
    private static IEnumerable<Cabin[]> Groups<TLane>(int count)
        where TLane : struct, ILane<TLane> =>
        RandomNetwork.Row(count).GroupBy(network => network.Zones).SelectMany(same => same.Chunk(TLane.Count))
            .Where(group => group.Length == TLane.Count).Select(group => group.Select(network => network.Compile()).ToArray());
}
