using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Air;

/// <summary>In every lane moist air has the very numbers it has alone; against outside values it is checked alone.</summary>
public sealed class MoistAirLaneTests
{
    [Fact]
    public void Four_lanes_give_the_numbers_of_one() => Check<FourLanes>();

    [Fact]
    public void Eight_lanes_give_the_numbers_of_one() => Check<EightLanes>();

    private static void Check<TLane>()
        where TLane : struct, ILane<TLane>
    {
        var random = new Random(20_261_130);
        for (int turn = 0; turn < 2000; turn++)
        {
            // Beyond the table in some lanes now and then: its ends are -60 and 90 degrees.
            double[] celsius = Numbers(-64, 94);
            double[] vapourPa = Numbers(1, 5000);
            double[] pascals = Numbers(50_000, 110_000);
            double[] ratio = Numbers(0, 0.2);

            TLane saturationPa = SaturationTable.Pa(TLane.Load(celsius), out TLane slope);
            Same(saturationPa, lane => SaturationTable.Pa(celsius[lane], out _));
            Same(slope, lane => SlopePaPerK(celsius[lane]));
            Same(MoistAir.HumidityRatio(TLane.Load(vapourPa), TLane.Load(pascals)), lane => MoistAir.HumidityRatio(vapourPa[lane], pascals[lane]));
            Same(MoistAir.VapourPressurePa(TLane.Load(ratio), TLane.Load(pascals)), lane => MoistAir.VapourPressurePa(ratio[lane], pascals[lane]));
            Same(
                MoistAir.DensityKgPerM3(TLane.Load(celsius), TLane.Load(ratio), TLane.Load(pascals)),
                lane => MoistAir.DensityKgPerM3(celsius[lane], ratio[lane], pascals[lane]));
            Same(MoistAir.EnthalpyJPerKg(TLane.Load(celsius), TLane.Load(ratio)), lane => MoistAir.EnthalpyJPerKg(celsius[lane], ratio[lane]));
        }

        double[] Numbers(double low, double high) => [.. Enumerable.Range(0, TLane.Count).Select(_ => low + ((high - low) * random.NextDouble()))];

        static double SlopePaPerK(double celsius)
        {
            _ = SaturationTable.Pa(celsius, out double slope);
            return slope;
        }

        static void Same(TLane lanes, Func<int, double> alone)
        {
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                Assert.Equal(alone(lane), lanes[lane]);
            }
        }
    }
}
