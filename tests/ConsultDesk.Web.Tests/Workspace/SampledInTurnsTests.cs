using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Workspace;
using Microsoft.Extensions.Logging.Abstractions;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>Samples taken a few at a turn: others come between, an edit stops them, and the numbers are those of the screen.</summary>
public sealed class SampledInTurnsTests
{
    private static readonly Design Van = Samples.Design();

    private static readonly Lazy<Assessment> Year = new(() => Assessor.Assess(Van, AssessmentDepth.Year));

    [Fact]
    public async Task Somebody_elses_year_comes_between_two_turns()
    {
        var cancel = TestContext.Current.CancellationToken;
        var queue = new ComputeQueue(1);
        List<string> order = [];
        Task? other = null;
        var told = new Told(share =>
        {
            lock (order)
            {
                order.Add(share < 1 ? "turn" : "last turn");
            }

            other ??= queue.RunAsync(new object(), Urgency.Soon, _ => { lock (order) { order.Add("year"); } return true; }, cancel);
        });

        var sampled = await new SampledInTurns(queue, new object(), () => WeatherHours.None, samples: 24).OfAsync(Van, Year.Value, told, cancel);

        await other!;
        Assert.Equal(24, sampled.Sure!.Samples);
        Assert.Same(Year.Value.Year, sampled.Year);
        Assert.Equal("turn", order[0]);
        Assert.InRange(order.IndexOf("year"), 1, order.IndexOf("last turn") - 1);
    }

    [Fact]
    public async Task An_edit_gives_the_samples_up_and_begins_anew_after_its_own_year()
    {
        var cancel = TestContext.Current.CancellationToken;
        var time = new ManualTime();
        List<(long Sleepers, Assessment Year)> began = [];
        var givenUp = new TaskCompletionSource();
        using var runner = new AssessmentRunner(
            (design, depth, _, _) => Samples.Assessed(depth), AssessmentDepth.Bands, design => design.Household.Sleepers.ToString(System.Globalization.CultureInfo.InvariantCulture),
            new ComputeQueue(1), new AssessmentCache(), new object(), time, NullLogger.Instance)
        {
            Behind = async (design, year, progress, token) =>
            {
                began.Add((design.Household.Sleepers, year));
                progress.Report(0.5);
                if (design.Household.Sleepers == 2)
                {
                    token.Register(() => givenUp.TrySetResult());
                    await Task.Delay(Timeout.Infinite, token);
                }

                return year with { Sure = Samples.Sure() };
            },
        };
        _ = runner.RequestAsync(Samples.Design(2), 1);
        await Until(() => began.Count == 1);
        Assert.Equal(0.5, runner.Progress);
        Assert.Same(runner.LatestYear!.Assessment, began[0].Year);

        _ = runner.RequestAsync(Samples.Design(4), 2);
        await givenUp.Task.WaitAsync(TimeSpan.FromSeconds(30), cancel);
        await Until(() => !runner.IsRunning);

        Assert.Equal([2, 4], began.Select(one => one.Sleepers));
        Assert.Equal(2, runner.LatestBands!.Revision);
        Assert.NotNull(runner.LatestBands.Assessment.Sure);
        // What is known already is sampled from the year that is known.
        _ = runner.RequestAsync(Samples.Design(2), 3);
        await Until(() => began.Count == 3);
        Assert.NotNull(began[2].Year.Year);

        async Task Until(Func<bool> reached)
        {
            for (var tries = 0; !reached(); tries++)
            {
                Assert.True(tries < 30_000, $"Waits for {runner.Pending}, failed: {runner.Failure}");
                time.Advance(1000);
                await Task.Delay(1, cancel);
            }
        }
    }

    // Two lists of the same numbers, one that is shown and one that is sampled, must not drift apart.
    [Fact]
    public void Every_number_sampled_is_one_of_the_screen_with_the_same_value_and_every_one_shown_is_sampled()
    {
        var sampling = Sampling.Of(Van, WeatherHours.None, Year.Value, samples: 1);
        sampling.Calculate(0, sampling.PartyCount, 1, TestContext.Current.CancellationToken);
        var sure = sampling.Read();
        Headline[] shown =
        [
            .. Headlines.Of(Van, Year.Value).Where(number => Headlines.Shown.Contains(number.Key)),
            .. Headlines.OfYear(Van, Year.Value).Where(number => !number.Key.StartsWith("score-", StringComparison.Ordinal)),
        ];

        Assert.Equal(shown.Where(number => number.Value is not null).Select(number => number.Key).Order(), sure.Numbers.Select(number => number.Key).Order());
        Assert.All(sure.Numbers, number =>
        {
            var headline = shown.Single(one => one.Key == number.Key);
            Assert.Equal(headline.Label, number.Label);
            Assert.Equal(Headlines.Text(headline, headline.Value!, DisplayUnits.Metric), Headlines.Text(headline, number.Likely, DisplayUnits.Metric));
        });
    }

    [Fact]
    public void A_band_is_told_in_words_that_say_what_it_is()
    {
        var number = new Headline("wet-mornings", "Wet mornings in a year", Measure.Count, Scalar.FromAmount(12), Better.Lower);
        string Words(double low, double high) => SureWords.Of(
            new SureNumber(number.Key, number.Label, Scalar.FromAmount(12), Scalar.FromAmount(low), Scalar.FromAmount(12), Scalar.FromAmount(high), 64, ""), number, DisplayUnits.Metric);

        Assert.Equal("7 to 21 in eight of ten", Words(6.6, 21.4));
        Assert.Equal("hardly moves", Words(11.6, 12.4));
        Assert.Equal("3 in eight of ten", Words(3.1, 2.9));
        Assert.Equal("Holds in all 64 samples", SureWords.Of(new SureFinding("wet", "Wet", Calculations.Findings.Severity.Warning, 64, 64, 0.94, 1, "")));
    }

    private sealed class Told(Action<double> tell) : IProgress<double>
    {
        public void Report(double value) => tell(value);
    }
}
