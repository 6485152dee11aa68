using System.Diagnostics;
using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Benchmarks;

/// <summary>
/// How sure an assessment is, behind the live answer: processor time of the samples and seconds on two threads, and how far the ends of the bands move with the
/// number of samples and with another scrambling.
/// </summary>
internal static class SureSpeed
{
    private const int Passes = 3;

    private static readonly (string Name, Design Van)[] Vans = [("new client's van", Samples.Van), ("long preset", Samples.Long), ("van that fogs, three stays", Samples.Demo)];

    /// <summary>Measures and writes the page's tables.</summary>
    /// <param name="converges">Also how the bands move with the number of samples: minutes.</param>
    public static string Table(bool converges)
    {
        StringBuilder page = new();
        Line(page, $"| van | inputs varied | parties | processor time of {Sampling.Samples} samples, s | of it drawing | steps of the years | their reports | nights and findings | seconds on {Environment.ProcessorCount} threads | not calculated | found beside the likely |");
        Line(page, $"| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach ((string name, Design van) in Vans)
        {
            Assessment likely = Assessor.Assess(van, AssessmentDepth.Year);
            (double cpu, double drawing, double wall) = (double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity);
            (double steps, double reports) = (double.PositiveInfinity, double.PositiveInfinity);
            Sureness? sure = null;
            int parties = 0;
            for (int pass = 0; pass < Passes; pass++)
            {
                double begin = Cpu();
                long from = Stopwatch.GetTimestamp();
                Sampling sampling = Sampling.Of(van, WeatherHours.None, likely);
                double drawn = Cpu();
                sampling.Calculate(0, sampling.PartyCount, Environment.ProcessorCount, CancellationToken.None);
                sure = sampling.Read();
                parties = sampling.PartyCount;
                wall = Math.Min(wall, Stopwatch.GetElapsedTime(from).TotalSeconds);
                (cpu, drawing) = (Math.Min(cpu, Cpu() - begin), Math.Min(drawing, drawn - begin));
                IReadOnlyList<YearOrder> orders = sampling.Orders;
                begin = Cpu();
                _ = YearBatch.Run<object?>(orders, (_, _, _) => null, Environment.ProcessorCount);
                double stepped = Cpu() - begin;
                begin = Cpu();
                _ = YearBatch.Run<object?>(orders, (at, model, series) => Assessor.AssessYear(model, series, orders[at].Weather, CancellationToken.None), Environment.ProcessorCount);
                (steps, reports) = (Math.Min(steps, stepped), Math.Min(reports, Cpu() - begin - stepped));
            }

            Line(page, $"| {name} | {sure!.Varied.Length} | {parties} | {cpu:F2} | {drawing:F2} | {steps:F2} | {reports:F2} | {Math.Max(0, cpu - drawing - steps - reports):F2} | {wall:F2} | {sure.NotCalculated.Length} | {sure.Hidden.Length} |");
        }

        if (converges)
        {
            Convergence(page);
        }

        return page.ToString();
    }

    // Ends of the bands with so many samples against those of many samples of another seed, in shares of that band's width: mean over the numbers, and the worst.
    private static void Convergence(StringBuilder page)
    {
        int[] counts = [16, 32, 64, 128];
        const int Seeds = 3;
        const int All = 512;
        Line(page, $"\nHow far the ends of a band lie from those of {All} samples of another scrambling, in shares of that band's width; {Seeds} scramblings of each; the shares of the findings likewise, in hundredths.\n");
        Line(page, $"| van | samples | ends, mean | ends, worst | findings, mean | findings, worst |");
        Line(page, $"| --- | ---: | ---: | ---: | ---: | ---: |");
        foreach ((string name, Design van) in Vans.Skip(1))
        {
            Assessment likely = Assessor.Assess(van, AssessmentDepth.Year);
            Sureness Sure(int samples, int seed)
            {
                Sampling sampling = Sampling.Of(van, WeatherHours.None, likely, samples, seed);
                sampling.Calculate(0, sampling.PartyCount, Environment.ProcessorCount, CancellationToken.None);
                return sampling.Read();
            }

            Sureness whole = Sure(All, 77);
            foreach (int count in counts)
            {
                List<double> ends = [];
                List<double> shares = [];
                for (int seed = 0; seed < Seeds; seed++)
                {
                    Sureness some = Sure(count, seed == 0 ? Sampling.Seed : seed);
                    foreach (SureNumber number in whole.Numbers)
                    {
                        (double low, double high) = (Value(number.Low), Value(number.High));
                        if (high > low && some.Number(number.Key) is { } other)
                        {
                            ends.Add(Math.Abs(Value(other.Low) - low) / (high - low));
                            ends.Add(Math.Abs(Value(other.High) - high) / (high - low));
                        }
                    }

                    shares.AddRange(whole.Findings.Select(finding => Math.Abs(((double)finding.Holds / finding.Of) - ((double)some.Finding(finding.Code)!.Holds / some.Calculated))));
                }

                Line(page, $"| {name} | {count} | {ends.Average():F3} | {ends.Max():F2} | {100 * shares.Average():F1} | {100 * shares.Max():F0} |");
            }
        }
    }

    private static double Value(IQuantity quantity) => (double)quantity.Value;

    private static double Cpu() => Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds;

    private static void Line(StringBuilder page, FormattableString line) => page.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
}
