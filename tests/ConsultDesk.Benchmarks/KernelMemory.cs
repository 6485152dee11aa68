using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>
/// What memory a batch of many options needs, in a process of its own: each design made from its choices when its turn comes and its year read to the
/// search's numbers, as a search does both.
/// </summary>
internal static class KernelMemory
{
    private const double Megabyte = 1e6;

    /// <summary>Runs the options and says what was held.</summary>
    public static string Text(int count)
    {
        Design van = Samples.Long;
        YearWeather weather = YearWeather.Of(van);
        double glassAndMetalM2 = Screen.GlassAndMetalM2(van);
        ManyOptions orders = new(van, weather, count);
        long before = GC.GetTotalMemory(forceFullCollection: true);
        long mostLive = 0;
        long mostHeap = 0;
        TimeSpan from = Process.GetCurrentProcess().TotalProcessorTime;
        long allocatedBefore = GC.GetTotalAllocatedBytes();
        ImmutableArray<YearOutcome<ComparedYear>> outcomes = YearBatch.Run(
            orders,
            new ComparedYears(),
            threads: 2,
            progress: new Seen(() =>
            {
                Most(ref mostLive, GC.GetGCMemoryInfo(GCKind.Any).HeapSizeBytes);
                Most(ref mostHeap, GC.GetTotalMemory(forceFullCollection: false));
            }));
        ObjectiveNumbers?[] numbers = [.. outcomes.Select((outcome, at) => outcome.Result is null
            ? null
            : YearNumbers.Of(orders[at].Design, outcome.Result, PriceBooks.Default, 0, 0, glassAndMetalM2))];
        double seconds = (Process.GetCurrentProcess().TotalProcessorTime - from).TotalSeconds;
        double allocated = (GC.GetTotalAllocatedBytes() - allocatedBefore) / Megabyte;
        if (outcomes.Any(outcome => outcome.Failure is not null))
        {
            throw new InvalidOperationException("What was measured is not what was meant.");
        }

        double after = GC.GetTotalMemory(forceFullCollection: true) / Megabyte;
        GC.KeepAlive(numbers);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Memory, in a process of its own, {LaneWidth.Best} lanes: a batch of {count} options on two threads, each design made from its choices when its turn had come and its year read to the search's nine numbers, as a search does, "
            + $"took {seconds:F0} s of processor time ({1000 * seconds / count:F0} ms an option, its report included) and allocated {allocated / count:F1} MB an option. After collections {mostLive / Megabyte:F0} MB at most were in use, "
            + $"with garbage not yet collected {mostHeap / Megabyte:F0} MB; {before / Megabyte:F0} MB stood there before and {after:F0} MB stand there with the results. **The process had {Process.GetCurrentProcess().PeakWorkingSet64 / Megabyte:F0} MB at most.**\n");
    }

    public static IReadOnlyList<YearOrder> Options(Design van, YearWeather weather, int count) => new ManyOptions(van, weather, count);

    // As a search keeps its candidates: three single changes of the preset each, applied when the design is asked for.
    private sealed class ManyOptions : IReadOnlyList<YearOrder>
    {
        private readonly Design _van;
        private readonly YearWeather _weather;
        private readonly SingleChange[] _changes;
        private readonly (short First, short Second, short Third)[] _chosen;

        public ManyOptions(Design van, YearWeather weather, int count)
        {
            (_van, _weather) = (van, weather);
            VanModel first = new(van, Assumptions.Likely);
            _changes =
            [
                .. SingleChanges.Of(van, PriceBooks.Default)
                    .Where(change => VanBatch<ScalarLane>.SameShape(first, new VanModel(change.Apply(van), Assumptions.Likely))),
            ];
            _chosen = new (short, short, short)[count];
            int given = 0;
            // Later ones come round again where there are not as many threes of them.
            for (int number = 0; given < count; number++)
            {
                int one = number % _changes.Length;
                int two = number / _changes.Length % _changes.Length;
                int three = number / _changes.Length / _changes.Length % _changes.Length;
                string[] groups = [_changes[one].Group, _changes[two].Group, _changes[three].Group];
                if (one < two && two < three && groups.Distinct().Count() == 3)
                {
                    _chosen[given++] = ((short)one, (short)two, (short)three);
                }
            }
        }

        public int Count => _chosen.Length;

        public YearOrder this[int index] => new(
            _changes[_chosen[index].Third].Apply(_changes[_chosen[index].Second].Apply(_changes[_chosen[index].First].Apply(_van))), _weather, Assumptions.Likely);

        public IEnumerator<YearOrder> GetEnumerator() => Enumerable.Range(0, Count).Select(index => this[index]).GetEnumerator();

        System.Collections.IEnumerator System.Collections.IEnumerable.GetEnumerator() => GetEnumerator();
    }

    // Told in the thread that has done them.
    private sealed class Seen(Action look) : IProgress<int>
    {
        private readonly Action _look = look;

        public void Report(int value) => _look();
    }

    private static void Most(ref long most, long now)
    {
        long seen;
        while (now > (seen = Interlocked.Read(ref most)) && Interlocked.CompareExchange(ref most, now, seen) != seen)
        {
        }
    }
}
