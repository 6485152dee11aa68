using ConsultDesk.Calculations.Comfort;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Comfort;

/// <summary>What must hold of comfort whatever the table says.</summary>
public sealed class ComfortTests
{
    private static readonly ComfortState Sleeper = ComfortState.At(28, 28, 0.1, 60, 0.7, 0.5);

    [Theory]
    [InlineData(9.9, 22, 0.1, 1, 0.5)]
    [InlineData(22, 41, 0.1, 1, 0.5)]
    [InlineData(22, 22, 1.1, 1, 0.5)]
    [InlineData(22, 22, 0.1, 0.7, 0.5)]
    [InlineData(22, 22, 0.1, 1, 2.1)]
    [InlineData(22, double.NaN, 0.1, 1, 1)]
    public void A_vote_outside_the_standards_range_is_refused(double air, double radiant, double speed, double met, double clo) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PredictedMeanVote.Vote(ComfortState.At(air, radiant, speed, 50, met, clo)));

    [Theory]
    [InlineData(-1, 25, 0.1, 1, 0.5)]
    [InlineData(25, 51, 0.1, 1, 0.5)]
    [InlineData(25, 25, 4.1, 1, 0.5)]
    [InlineData(25, 25, 0.1, 0.6, 0.5)]
    [InlineData(25, 25, 0.1, 1, 4.1)]
    public void A_standard_effective_temperature_outside_its_range_is_refused(double air, double radiant, double speed, double met, double clo) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardEffectiveTemperature.OfC(ComfortState.At(air, radiant, speed, 50, met, clo)));

    [Fact]
    public void Nobody_dissatisfied_is_not_in_the_scale()
    {
        Assert.Equal(5, PredictedMeanVote.DissatisfiedPercent(0), 9);
        Assert.Throws<ArgumentOutOfRangeException>(() => PredictedMeanVote.DissatisfiedPercent(3.01));
    }

    [Fact]
    public void Still_air_at_half_humidity_feels_as_warm_as_it_is()
    {
        for (double airC = 16; airC <= 40; airC += 2)
        {
            Assert.Equal(airC, CoolingEffect.FeltC(ComfortState.At(airC, airC, 0.1, 50, 0.7, 0.5)), 3);
        }
    }

    [Fact]
    public void A_sleeper_feels_warmer_in_warmer_or_damper_air_and_cooler_in_a_breeze()
    {
        double still = CoolingEffect.FeltC(Sleeper);
        Assert.True(CoolingEffect.FeltC(ComfortState.At(29, 29, 0.1, 60, 0.7, 0.5)) > still);
        Assert.True(CoolingEffect.FeltC(ComfortState.At(28, 28, 0.1, 90, 0.7, 0.5)) > still);
        Assert.True(CoolingEffect.FeltC(ComfortState.At(28, 31, 0.1, 60, 0.7, 0.5)) > still);
        double last = still;
        foreach (double speed in new[] { 0.2, 0.4, 0.8, 1.6 })
        {
            double felt = CoolingEffect.FeltC(Sleeper with { AirSpeedMPerS = speed });
            Assert.True(felt < last, $"{speed} m/s");
            last = felt;
        }
    }

    [Fact]
    public void More_air_speed_never_feels_warmer_below_skin_temperature()
    {
        Random random = new(20261130);
        for (int round = 0; round < 300; round++)
        {
            double airC = 16 + (16 * random.NextDouble());
            ComfortState still = ComfortState.At(airC, airC, 2 * random.NextDouble(), 100 * random.NextDouble(), 0.7, random.NextDouble());
            double felt = CoolingEffect.FeltC(still);
            // The published program finds the clothing's surface to 0.01 K, and so no step finer than that.
            Assert.True(CoolingEffect.FeltC(still with { AirSpeedMPerS = still.AirSpeedMPerS + random.NextDouble() }) <= felt + 0.01, still.ToString());
        }
    }

    [Fact]
    public void Hot_damp_air_cools_nobody_by_moving() =>
        Assert.Throws<ComfortNotFoundException>(() => CoolingEffect.OfK(ComfortState.At(40, 40, 2, 98, 0.7, 0.5)));

    [Fact]
    public void A_fan_that_blows_out_stirs_almost_nothing_at_the_bed_and_the_window_it_draws_through_does()
    {
        double drawn = FreeJet.DrawnMPerS(0.1, 0.1, 1.2);
        double jet = FreeJet.AxisMPerS(0.1, 0.06, 0.6, 1.2, 5.7);
        Assert.True(drawn < 0.01, $"{drawn}");
        Assert.True(jet > 100 * drawn, $"{jet}");
    }

    [Fact]
    public void A_jet_keeps_its_momentum_and_never_outruns_its_mouth()
    {
        double mouth = 0.1 / (0.06 * 0.6);
        for (double x = 0; x <= 5; x += 0.25)
        {
            Assert.InRange(FreeJet.AxisMPerS(0.1, 0.06, 0.6, x, 5.7), 0, mouth);
        }

        Assert.Equal(2, FreeJet.AxisMPerS(0.1, 0.06, 0.6, 2, 5.7) / FreeJet.AxisMPerS(0.1, 0.06, 0.6, 4, 5.7), 9);
        Assert.Throws<ArgumentOutOfRangeException>(() => FreeJet.AxisMPerS(0.1, 0, 0.6, 1, 5.7));
        Assert.Throws<ArgumentOutOfRangeException>(() => FreeJet.DrawnMPerS(0.1, 0.1, 11));
    }
}
