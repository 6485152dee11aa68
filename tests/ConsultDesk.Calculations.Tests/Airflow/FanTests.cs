using ConsultDesk.Calculations.Airflow;
using UnitsNet;
using Xunit;
using static ConsultDesk.Calculations.Tests.Airflow.Cabin;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>A roof fan in a van with few holes: the sizes are common practice, no source.</summary>
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

    private static FanOperatingPoint Run(double leakageCm2, double windowCm2)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        cabin.Builder.AddCrack("leakage", Outside, zone, Metres(1), SquareCentimetres(leakageCm2), 0.65);
        if (windowCm2 > 0)
        {
            cabin.Builder.AddOrifice("window", Outside, zone, Metres(1.2), SquareCentimetres(windowCm2));
        }

        int fan = cabin.Builder.AddFan(
            "roof fan", zone, Outside, Metres(1.9), VolumeFlow.FromCubicMetersPerSecond(FreeAirM3PerS), Pressure.FromPascals(ShutOffPa));
        return cabin.Compile(StandardAirC).Solve().FanPoint(fan)!;
    }
}
