using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>One year to calculate.</summary>
/// <param name="Design">A valid design without parts that come later.</param>
/// <param name="Weather">Its year.</param>
/// <param name="Assumed">What is assumed.</param>
public sealed record YearTask(Design Design, YearWeather Weather, Assumptions Assumed);

/// <summary>Where the search has its years from: one at a time, or many side by side.</summary>
public interface IYearSource
{
    /// <summary>Calculates years and keeps what is compared of each.</summary>
    /// <param name="tasks">The years.</param>
    /// <param name="threads">Calculations at the same time.</param>
    /// <param name="cancellation">Stops the work within one day of each year under way.</param>
    /// <returns>In the order of the tasks; null where a year does not balance.</returns>
    ImmutableArray<ComparedYear?> Each(IReadOnlyList<YearTask> tasks, int threads, CancellationToken cancellation);
}

/// <summary>
/// Many years side by side in the lanes of the processor, the same to the bit as each by itself and several times faster. Read while they run: nothing
/// of them is written down, and what no search compares is not worked out.
/// </summary>
public sealed class SideBySideYears : IYearSource
{
    /// <inheritdoc/>
    public ImmutableArray<ComparedYear?> Each(IReadOnlyList<YearTask> tasks, int threads, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(tasks);
        YearOrder[] orders = [.. tasks.Select(task => new YearOrder(task.Design, task.Weather, task.Assumed))];

        // Told by the null: whoever asked counts it.
        return [.. YearBatch.Run(orders, new ComparedYears(), threads, cancellation: cancellation).Select(outcome => outcome.Result)];
    }
}

/// <summary>Each year by itself, as an assessment calculates it.</summary>
public sealed class SingleYears : IYearSource
{
    /// <inheritdoc/>
    public ImmutableArray<ComparedYear?> Each(IReadOnlyList<YearTask> tasks, int threads, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(tasks);
        ComparedYear?[] results = new ComparedYear?[tasks.Count];
        InOrder.Each(
            tasks.Count,
            threads,
            index =>
            {
                YearTask task = tasks[index];
                try
                {
                    results[index] = ComparedYear.Of(task.Design, Assessor.AssessYear(task.Design, task.Weather, task.Assumed, progress: null, cancellation));
                }
                catch (CalculationFailedException)
                {
                    // Told by the null: whoever asked counts it.
                    results[index] = null;
                }
            },
            cancellation);
        return [.. results];
    }
}
