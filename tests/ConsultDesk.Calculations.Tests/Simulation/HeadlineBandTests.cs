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
