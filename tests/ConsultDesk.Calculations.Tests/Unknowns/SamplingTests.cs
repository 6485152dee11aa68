using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Unknowns;

/// <summary>Laws of the samples that say how sure an assessment is.</summary>
public sealed class SamplingTests(ITestOutputHelper output)
{
    private static readonly Design Van = Vans.With(Position.Shut, Position.Shut);

    private static readonly Lazy<Assessment> Likely = new(() => Assessor.Assess(Van, AssessmentDepth.Year));

    private static readonly Lazy<Sureness> Sixteen = new(() => Sampled(16, threads: 2));

    private static Sureness Sampled(int samples, int threads, int? seed = null, ImmutableArray<Unknown> unknowns = default)
    {
        Sampling sampling = Sampling.Of(Van, WeatherHours.None, Likely.Value, samples, seed, unknowns);
        sampling.Calculate(0, sampling.PartyCount, threads, TestContext.Current.CancellationToken);
        return sampling.Read();
    }

    private static double Value(IQuantity quantity) => (double)quantity.Value;

    [Fact]
    public void One_in_ten_lies_below_the_low_end_and_half_below_the_middle()
    {
        foreach (SureNumber number in Sixteen.Value.Numbers)
        {
            output.WriteLine(FormattableString.Invariant($"{number.Key}: likely {number.Likely}; {number.Low} {number.Middle} {number.High}; {number.MovedMostBy}"));
            Assert.True(Value(number.Low) <= Value(number.Middle) && Value(number.Middle) <= Value(number.High), number.Key);
            Assert.InRange(number.Of, 1, 16);
            Assert.Equal(number.Likely.Unit, number.High.Unit);
        }

        foreach (SureFinding finding in Sixteen.Value.Findings.Concat(Sixteen.Value.Hidden))
        {
            output.WriteLine($"{finding.Severity} {finding.Code} {finding.Holds}/{finding.Of} {finding.TurnsMostBy}");
            Assert.InRange(finding.Holds, 0, finding.Of);
            Assert.InRange((double)finding.Holds / finding.Of, finding.Least, finding.Most);
        }

        Assert.Equal(Likely.Value.Findings.Select(finding => finding.Code), Sixteen.Value.Findings.Select(finding => finding.Code));
        Assert.DoesNotContain(Sixteen.Value.Hidden, hidden => Likely.Value.Findings.Any(finding => finding.Code == hidden.Code) || hidden.Severity == Severity.Note);
        Assert.Equal(16, Sixteen.Value.Calculated + Sixteen.Value.NotCalculated.Length);
        // What only rules ask for is asked, not sampled.
        Assert.DoesNotContain("smoke alarm", Sixteen.Value.Varied);
        Assert.Contains("leakage of the body", Sixteen.Value.Varied);
    }

    // With nothing to vary and a year from measured hours every sample is the likely van itself; made of months only what condenses moves, by the factor of a real year.
    [Fact]
    public void With_nothing_unknown_every_band_is_the_likely_number_and_every_finding_holds()
    {
        Sureness sure = Sampled(16, threads: 2, unknowns: []);

        Assert.All(sure.Findings, finding => Assert.Equal(16, finding.Holds));
        Assert.Empty(sure.Hidden);
        Assert.Empty(sure.Varied);
        string[] condense = ["wet-mornings", "condensed-per-night", "wettest-skin"];
        foreach (SureNumber number in sure.Numbers)
        {
            if (condense.Contains(number.Key))
            {
                Assert.True(Value(number.Low) < Value(number.Likely) && Value(number.High) > Value(number.Likely), number.Key);
                Assert.Equal("weather of a real year against one made from monthly means", number.MovedMostBy);
                continue;
            }

            Assert.Equal(Value(number.Likely), Value(number.Low), 1e-12 * Math.Abs(Value(number.Likely)));
            Assert.Equal(Value(number.Likely), Value(number.High), 1e-12 * Math.Abs(Value(number.Likely)));
            Assert.Equal("", number.MovedMostBy);
        }

        Assert.Equal(MainNumbers.All.Where(number => number.Of(LaterParts.Without(Van), Likely.Value) is not null).Select(number => number.Key), sure.Numbers.Select(number => number.Key));
    }

    [Fact]
    public void The_same_seed_gives_the_same_answer_on_any_number_of_threads_and_in_any_portions()
    {
        Sampling portions = Sampling.Of(Van, WeatherHours.None, Likely.Value, 16);
        Assert.Throws<InvalidOperationException>(portions.Read);
        for (int party = portions.PartyCount - 1; party >= 0; party--)
        {
            portions.Calculate(party, 1, 1, TestContext.Current.CancellationToken);
        }

        AssertSame(Sixteen.Value, portions.Read());
        Assert.NotEqual(Sixteen.Value.Numbers.Select(number => Value(number.High)), Sampled(16, 2, seed: 9).Numbers.Select(number => Value(number.High)));
    }

    private static void AssertSame(Sureness one, Sureness other)
    {
        Assert.Equal(one.Numbers.AsEnumerable(), other.Numbers);
        Assert.Equal(one.Findings.AsEnumerable(), other.Findings);
        Assert.Equal(one.Hidden.AsEnumerable(), other.Hidden);
        Assert.Equal(one.NotCalculated.AsEnumerable(), other.NotCalculated);
    }

    // A sample side by side with others is the van calculated alone with the same values, its shelter in its own weather.
    [Fact]
    public void A_sample_is_the_year_it_has_alone_and_a_shelter_moved_in_the_table_is_one_moved_in_the_weather()
    {
        ImmutableArray<Unknown> unknowns = [UnknownInputs.Of(Van).Single(unknown => unknown.Key == "shelter") with { ChanceLow = 0.5, ChanceHigh = 0.5 }];
        Sampling sampling = Sampling.Of(Van, WeatherHours.None, Likely.Value, 4, unknowns: unknowns);
        sampling.Calculate(0, sampling.PartyCount, 1, TestContext.Current.CancellationToken);
        SureNumber air = sampling.Read().Number("night-air")!;

        Design now = LaterParts.Without(Van);
        double[] alone =
        [
            .. new[] { -1, 1 }.Select(share => unknowns[0].Move(now, share).Design).Select(van =>
                Assessor.AssessYear(van, YearWeather.Of(van), Assumptions.Likely, progress: null, TestContext.Current.CancellationToken).NightAir.CubicMetersPerSecond).Order(),
        ];
        Assert.Equal(alone[0], ((VolumeFlow)air.Low).CubicMetersPerSecond);
        Assert.Equal(alone[1], ((VolumeFlow)air.High).CubicMetersPerSecond);
        Assert.True(alone[1] > alone[0]);
        YearOrder first = Sampling.Of(Van, WeatherHours.None, Likely.Value, 16).Orders[0];
        ImmutableArray<YearOutcome<double>> beside = YearBatch.Run(
            Sampling.Of(Van, WeatherHours.None, Likely.Value, 16).Orders, (_, _, series) => series.WaterInKg, threads: 2, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(YearRun.Of(first.Design, first.Weather, first.Assumed, cancellation: TestContext.Current.CancellationToken).WaterInKg, beside[0].Result);
    }

    // The passage behind the cab mixes within the row of the divider it came to have.
    [Fact]
    public void Moved_together_a_passage_mixes_as_its_new_divider_lets_it()
    {
        Design van = LaterParts.Without(Van);
        Passage passage = van.Passages.Single(passage => CabDividers.LeadsFromCab(van, passage));
        Unknown mixing = UnknownInputs.Of(Van).Single(unknown => unknown.Key == $"mixing[{passage.Id}]");
        CabDivider other = van.CabDivider == CabDivider.Curtain ? CabDivider.Open : CabDivider.Curtain;

        double Mixed(Design from, double share) => mixing.Move(from, share).Design.Passages.Single(one => one.Id == passage.Id).Mixing.CubicMetersPerHour;

        string row = other == CabDivider.Open ? "mixing-cab-open" : "mixing-cab-curtain";
        Design moved = CabDividers.With(van, other);
        Assert.Equal(Defaults.Likely(row), Mixed(moved, 0), 1e-9);
        Assert.Equal(Defaults.Low(row), Mixed(moved, -1), 1e-9);
        Assert.Equal(Defaults.High(row), Mixed(moved, 1), 1e-9);
        Assert.NotEqual(Mixed(van, 1), Mixed(moved, 1));
    }

    [Fact]
    public void A_sample_that_cannot_be_is_counted_and_said()
    {
        Unknown impossible = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "night-temperature") with
        {
            Continuous = false,
            ChanceLow = 0,
            ChanceHigh = 0.5,
            Move = (van, share) => (share == 0 ? van : van with { Heater = van.Heater with { NightSetPoint = Temperature.FromDegreesCelsius(300) } }, Assumptions.Likely),
        };
        Sureness sure = Sampled(8, 2, unknowns: [impossible]);

        Assert.Equal(4, sure.NotCalculated.Length);
        Assert.Equal(4, sure.Calculated);
        Assert.All(sure.NotCalculated, why => Assert.Contains("heater.nightSetPoint", why, StringComparison.OrdinalIgnoreCase));
        Assert.All(sure.Findings, finding => Assert.Equal(4, finding.Of));
    }

    // Dehumidifiers that heat a shut van past the temperatures air is known for: a valid design whose year breaks off on the way.
    [Fact]
    public void A_sample_whose_year_fails_is_counted_with_its_reason_and_the_others_still_say_what_they_say()
    {
        Unknown oven = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "night-temperature") with
        {
            Continuous = false,
            ChanceLow = 0,
            ChanceHigh = 0.5,
            Move = (van, share) => (share == 0 ? van : van with { Dryers = Ovens(van) }, Assumptions.Likely),
        };
        Assert.Empty(DesignCheck.Errors(LaterParts.Without(Van) with { Dryers = Ovens(Van) }));
        Sureness sure = Sampled(8, 2, unknowns: [oven]);

        Assert.Equal(4, sure.NotCalculated.Length);
        Assert.All(sure.NotCalculated, why => Assert.Contains("°C", why, StringComparison.Ordinal));
        Assert.Equal(4, sure.Calculated);
        Assert.Equal(8, sure.Samples);
        Assert.All(sure.Findings, finding => Assert.Equal((4, 4), (finding.Of, finding.Holds)));
        // What is left is the likely van itself: the lost ones moved no number.
        SureNumber air = sure.Number("night-air")!;
        Assert.Equal(4, air.Of);
        Assert.Equal(Value(air.Likely), Value(air.Low), 1e-12 * Value(air.Likely));
        Assert.Equal(Value(air.Likely), Value(air.High), 1e-12 * Value(air.Likely));
    }

    private static ImmutableArray<Dryer> Ovens(Design van) =>
    [
        .. Enumerable.Range(0, 40).Select(number => new Dryer
        {
            Id = FormattableString.Invariant($"oven-{number}"),
            Name = "Dehumidifier",
            Kind = DryerKind.Compressor,
            ZoneId = van.Zones.First(zone => zone.Kind == ZoneKind.Living).Id,
            RemovedPerDay = Mass.FromKilograms(0.1),
            ElectricDraw = Power.FromKilowatts(1),
            Running = true,
        }),
    ];

    [Fact]
    public void It_stops_when_it_is_told_to()
    {
        using CancellationTokenSource stop = new();
        Sampling sampling = Sampling.Of(Van, WeatherHours.None, Likely.Value, 64);
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => sampling.Calculate(0, sampling.PartyCount, 2, stop.Token));
        Assert.Throws<InvalidOperationException>(sampling.Read);
    }

    [Fact]
    public void Without_a_year_there_is_nothing_to_be_sure_of() =>
        Assert.Throws<ArgumentException>(() => Sampling.Of(Van, WeatherHours.None, Assessor.Assess(Van, TestContext.Current.CancellationToken)));

    // The triangular densities of the table: half the samples below the value that stands there where the range is even, all of them within.
    [Fact]
    public void What_is_varied_stays_in_its_range_and_leans_where_the_table_leans()
    {
        IReadOnlyList<YearOrder> orders = Sampling.Of(Van, WeatherHours.None, Likely.Value, 64).Orders;
        Unknown leakage = UnknownInputs.Of(Van).Single(unknown => unknown.Key == "leakage-area");
        double likely = Van.Leakage.EffectiveArea.SquareCentimeters;
        double[] areas = [.. orders.Select(order => order.Design.Leakage.EffectiveArea.SquareCentimeters)];
        Assert.All(areas, area => Assert.InRange(area, ((Area)leakage.Low!).SquareCentimeters, ((Area)leakage.High!).SquareCentimeters));
        Assert.Equal(leakage.ChanceLow * 64, areas.Count(area => area < likely), 1.0);
        Assert.Equal(64, areas.Distinct().Count());
        double[] water = [.. orders.Select(order => order.Assumed["sleeper-water"])];
        Assert.All(water, rate => Assert.InRange(rate, Defaults.Low("sleeper-water"), Defaults.High("sleeper-water")));
        Assert.Equal(32, water.Count(rate => rate < Defaults.Likely("sleeper-water")), 1.0);
    }
}
