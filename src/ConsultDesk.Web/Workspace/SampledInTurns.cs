using System.Runtime.ExceptionServices;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// Samples how sure a year is, a few parties at a turn of the shared queue: between two turns everybody else's edits, years and samples come first.
/// </summary>
/// <param name="queue">Where it runs.</param>
/// <param name="circuit">Whose turn in the queue it takes.</param>
/// <param name="hours">Hours of the weather files that are there.</param>
/// <param name="samples">How many; those of the calculation when left out.</param>
public sealed class SampledInTurns(ComputeQueue queue, object circuit, Func<WeatherHours> hours, int? samples = null)
{
    // Parties at a turn, each on a thread of its own: some tenths of a second.
    private static readonly int AtOnce = Math.Min(2, Environment.ProcessorCount);

    /// <summary>The assessment with how sure it is.</summary>
    /// <param name="design">The design.</param>
    /// <param name="year">Its assessment with the year.</param>
    /// <param name="progress">Told the share done after each turn.</param>
    /// <param name="cancellation">Stops it within a day of each year under way.</param>
    public async Task<Assessment> OfAsync(Design design, Assessment year, IProgress<double> progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(progress);
        var files = hours();
        var sampling = await InTurn(_ => Sampling.Of(design, files, year, samples));
        for (var from = 0; from < sampling.PartyCount; from += AtOnce)
        {
            await InTurn(token =>
            {
                Beside(
                    () => sampling.Calculate(from, 1, 1, token),
                    () => sampling.Calculate(from + 1, AtOnce - 1, 1, token));
                return true;
            });
            progress.Report(Math.Min(1, (double)(from + AtOnce) / sampling.PartyCount));
        }

        return year with { Sure = await InTurn(_ => sampling.Read()) };

        Task<T> InTurn<T>(Func<CancellationToken, T> work) => queue.RunAsync(circuit, Urgency.InTheEnd, work, cancellation);
    }

    // The turn's own thread is a quiet one already, and a thread it starts is as quiet: Linux hands niceness on. Both are waited for, whatever becomes of either.
    private static void Beside(Action first, Action second)
    {
        ExceptionDispatchInfo? failed = null;
        using var done = new ManualResetEventSlim();
        var beside = new Thread(() =>
        {
            try
            {
                second();
            }
            catch (Exception failure)
            {
                // Thrown again where the turn was asked for.
                failed = ExceptionDispatchInfo.Capture(failure);
            }
            finally
            {
                done.Set();
            }
        })
        {
            Name = "samples",
            IsBackground = true,
            Priority = ThreadPriority.BelowNormal,
        };
        beside.Start();
        try
        {
            first();
        }
        finally
        {
            done.Wait();
        }

        failed?.Throw();
    }
}
