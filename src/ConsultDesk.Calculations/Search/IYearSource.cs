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
    /// <summary>Calculates years and keeps what is read of each.</summary>
    /// <param name="tasks">The years.</param>
    /// <param name="read">Takes what is needed out of a year; called from several threads, once for each year that balances.</param>
    /// <param name="threads">Calculations at the same time.</param>
    /// <param name="cancellation">Stops the work within one day of each year under way.</param>
    /// <returns>In the order of the tasks; null where a year does not balance.</returns>
    ImmutableArray<T?> Each<T>(IReadOnlyList<YearTask> tasks, Func<YearTask, YearAssessment, T> read, int threads, CancellationToken cancellation)
        where T : class;
}

/// <summary>Many years side by side in the lanes of the processor, the same to the bit as each by itself and several times faster.</summary>
public sealed class SideBySideYears : IYearSource
{
    /// <inheritdoc/>
    public ImmutableArray<T?> Each<T>(IReadOnlyList<YearTask> tasks, Func<YearTask, YearAssessment, T> read, int threads, CancellationToken cancellation)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(tasks);
        ArgumentNullException.ThrowIfNull(read);
        YearOrder[] orders = [.. tasks.Select(task => new YearOrder(task.Design, task.Weather, task.Assumed))];
        return
        [
            // Told by the null: whoever asked counts it.
            .. YearBatch.Run(
                orders,
                (index, van, series) => read(tasks[index], Assessor.AssessYear(van, series, tasks[index].Weather, cancellation)),
                threads,
                cancellation: cancellation).Select(outcome => outcome.Result),
        ];
    }
}

/// <summary>Each year by itself, as an assessment calculates it.</summary>
public sealed class SingleYears : IYearSource
{
    /// <inheritdoc/>
    public ImmutableArray<T?> Each<T>(IReadOnlyList<YearTask> tasks, Func<YearTask, YearAssessment, T> read, int threads, CancellationToken cancellation)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(tasks);
        ArgumentNullException.ThrowIfNull(read);
        T?[] results = new T?[tasks.Count];
        InOrder.Each(
            tasks.Count,
            threads,
            index =>
            {
                YearTask task = tasks[index];
                try
                {
                    results[index] = read(task, Assessor.AssessYear(task.Design, task.Weather, task.Assumed, progress: null, cancellation));
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
