using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class HeadlineBandTests
{
    [Fact]
    public void A_three_and_a_four_combine_to_a_five()
    {
        (double low, double high, int most) = HeadlineBands.Combine(10, [(7, 13), (14, 6)]);

        Assert.Equal((5, 15, 1), (low, high, most));
    }

    [Fact]
    public void An_assumption_that_moves_a_number_one_way_only_widens_that_side()
    {
        (double low, double high, int most) = HeadlineBands.Combine(10, [(12, 16), (10, 10)]);

        Assert.Equal((10, 16, 0), (low, high, most));
        Assert.Equal((10, 10, -1), HeadlineBands.Combine(10, [(10, 10)]));
    }

    [Fact]
    public void A_band_holds_every_single_step_and_is_narrower_than_their_sum()
    {
        Gen<(double, double)> ends = from a in Gen.Double.Unit from b in Gen.Double.Unit select (20 * a, 20 * b);
        ends.Array[1, 9].Sample(steps =>
        {
            (double low, double high, _) = HeadlineBands.Combine(10, steps);

            Assert.All(steps, step => Assert.True(
                low <= Math.Min(step.Item1, step.Item2) + 1e-9 && high >= Math.Max(step.Item1, step.Item2) - 1e-9));
            Assert.True(high - 10 <= steps.Sum(step => Math.Max(0, Math.Max(step.Item1, step.Item2) - 10)) + 1e-9);
        });
    }

    [Fact]
    public void The_front_door_gives_bands_that_hold_the_likely_numbers_and_say_what_moves_them()
    {
        List<double> told = [];
        Design van = Vans.With(Position.Shut, Position.Shut);

        Assessment assessment = Assessor.Assess(
            van, AssessmentDepth.Bands, new Told(share => { lock (told) { told.Add(share); } }), TestContext.Current.CancellationToken);

        YearAssessment year = Assert.IsType<YearAssessment>(assessment.Year);
        Assert.Equal(
            ["outdoor-air", "condensed", "design-load", "wet-mornings", "condensed-per-night", "night-air", "heat-per-day", "fuel-per-day", "wettest-skin", "hot-nights"],
            assessment.Bands.Select(band => band.Key));
        foreach (HeadlineBand band in assessment.Bands)
        {
            Assert.InRange(band.Likely.As(band.Likely.Unit), band.Low.As(band.Likely.Unit), band.High.As(band.Likely.Unit));
            Assert.True(band.MovedMostBy.Length > 0 || band.Low.As(band.Likely.Unit) == band.High.As(band.Likely.Unit));
        }

        HeadlineBand wet = assessment.Bands.Single(band => band.Key == "wet-mornings");
        Assert.Equal(year.WetMornings.Count, wet.Likely.As(wet.Likely.Unit));
        // Half to twice, as measured on five typical-year files (docs/method/climate.md): the band is no narrower, but no longer than the nights slept.
        Assert.True(wet.Low.As(wet.Likely.Unit) <= (0.5 * year.WetMornings.Count) + 1e-9);
        Assert.True(wet.High.As(wet.Likely.Unit) >= Math.Min(2 * year.WetMornings.Count, year.WetMornings.Nights) - 1e-9);
        HeadlineBand air = assessment.Bands.Single(band => band.Key == "night-air");
        // With everything shut the leakage and the wind on it are all there is.
        Assert.Contains(air.MovedMostBy, (string[])["leakage of the body", "wind at the van"]);
        Assert.Equal(1, told.Max(), 12);

        // Two cores in whatever order give the same to the last bit.
        Assessment again = Assessor.Assess(van, AssessmentDepth.Bands, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(Bits(assessment), Bits(again));

        static IEnumerable<long> Bits(Assessment assessment) => assessment.Bands.SelectMany(band =>
            new[] { band.Low, band.Likely, band.High }.Select(number => BitConverter.DoubleToInt64Bits(number.As(band.Likely.Unit))));
    }

    [Fact]
    public void Condensation_of_a_made_year_is_half_to_twice_and_that_of_a_measured_one_is_not()
    {
        Design van = Presets.Build("compact-low", Layout.FixedBedAcross);
        YearWeather made = YearWeather.Of(van);
        YearWeather measured = Measured(made);
        YearAssessment year = Assessor.AssessYear(van, made, Assumptions.Likely, null, TestContext.Current.CancellationToken);

        Dictionary<string, HeadlineBand> ofMade = Of(made);
        Dictionary<string, HeadlineBand> ofMeasured = Of(measured);

        Assert.Equal(ofMade.Keys, ofMeasured.Keys);
        foreach ((string key, HeadlineBand band) in ofMade)
        {
            (double low, double likely, double high) = Numbers(band);
            (double narrowLow, _, double narrowHigh) = Numbers(ofMeasured[key]);
            if (key is not ("wet-mornings" or "condensed-per-night" or "wettest-skin"))
            {
                Assert.Equal((narrowLow, narrowHigh), (low, high));
                continue;
            }

            // Root of the sum of squares with a step of half down and one of as much again up.
            double most = key == "wet-mornings" ? year.WetMornings.Nights : double.PositiveInfinity;
            Assert.Equal(Math.Max(0, likely - Math.Sqrt(Math.Pow(likely - narrowLow, 2) + Math.Pow(0.5 * likely, 2))), low, likely * 1e-3);
            if (narrowHigh < most)
            {
                Assert.Equal(Math.Min(most, likely + Math.Sqrt(Math.Pow(narrowHigh - likely, 2) + Math.Pow(likely, 2))), high, likely * 1e-3);
            }
        }

        Assert.Contains(ofMade.Values, band => band.MovedMostBy == "weather of a real year against one made from monthly means");
        Assert.DoesNotContain(ofMeasured.Values, band => band.MovedMostBy.Contains("real year", StringComparison.Ordinal));

        // The same hours, as a file would have brought them.
        static YearWeather Measured(YearWeather made)
        {
            YearWeather same = new() { Stays = made.Stays, Basis = new WeatherBasis(FromMonths: false, []) };
            made.TemperatureC.CopyTo(same.TemperatureC, 0);
            made.VapourPressurePa.CopyTo(same.VapourPressurePa, 0);
            made.StationWindMPerS.CopyTo(same.StationWindMPerS, 0);
            made.SunWPerM2.CopyTo(same.SunWPerM2, 0);
            made.SkyLossWPerM2.CopyTo(same.SkyLossWPerM2, 0);
            made.Falling.CopyTo(same.Falling, 0);
            made.SnowOnRoof.CopyTo(same.SnowOnRoof, 0);
            made.PressurePa.CopyTo(same.PressurePa, 0);
            made.Shelter.CopyTo(same.Shelter, 0);
            return same;
        }

        Dictionary<string, HeadlineBand> Of(YearWeather weather) =>
            HeadlineBands.Of(van, weather, year, null, TestContext.Current.CancellationToken).ToDictionary(band => band.Key);

        static (double Low, double Likely, double High) Numbers(HeadlineBand band) =>
            (band.Low.As(band.Likely.Unit), band.Likely.As(band.Likely.Unit), band.High.As(band.Likely.Unit));
    }

    [Fact]
    public void What_the_table_gave_is_moved_and_what_somebody_measured_stays()
    {
        Design assumed = Vans.With(Position.Shut, Position.Shut);
        Design measured = assumed with
        {
            Leakage = assumed.Leakage with { EffectiveArea = Area.FromSquareCentimeters(80) },
            Passages = [.. assumed.Passages.Select(passage => passage with { Mixing = VolumeFlow.FromCubicMetersPerHour(7) })],
        };

        Assert.Equal(Defaults.Low("leakage-area"), HeadlineBands.Leakage(assumed, BandEnd.Low).Design.Leakage.EffectiveArea.SquareCentimeters, 9);
        Assert.Equal(Defaults.High("leakage-area"), HeadlineBands.Leakage(assumed, BandEnd.High).Design.Leakage.EffectiveArea.SquareCentimeters, 9);
        Assert.Equal(80, HeadlineBands.Leakage(measured, BandEnd.High).Design.Leakage.EffectiveArea.SquareCentimeters, 9);
        Passage cab = HeadlineBands.Mixing(assumed, BandEnd.High).Design.Passages.Single(passage => passage.Id == "cab-gap");
        Assert.Equal(Defaults.High("mixing-cab-open"), cab.Mixing.CubicMetersPerHour, 9);
        Assert.All(HeadlineBands.Mixing(measured, BandEnd.High).Design.Passages, passage => Assert.Equal(7, passage.Mixing.CubicMetersPerHour, 9));
        // One that was measured stays, whatever it is.
        Design marked = Origins.With(assumed, $"passages[{cab.Id}].mixingM3PerS", Origin.Measured);
        Assert.Equal(Defaults.Likely("mixing-cab-open"), HeadlineBands.Mixing(marked, BandEnd.High).Design.Passages.Single(passage => passage.Id == cab.Id).Mixing.CubicMetersPerHour, 9);
    }

    [Fact]
    public void A_cancelled_assessment_stops()
    {
        using CancellationTokenSource source = new();
        Design van = Vans.With(Position.Shut, Position.Shut);

        Assert.ThrowsAny<OperationCanceledException>(() =>
            Assessor.Assess(van, AssessmentDepth.Bands, new Told(_ => source.Cancel()), source.Token));
    }

    private sealed class Told(Action<double> tell) : IProgress<double>
    {
        public void Report(double value) => tell(value);
    }
}
