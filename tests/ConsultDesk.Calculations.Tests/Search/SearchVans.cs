using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Tests.Search;

/// <summary>Orders and stand-ins the tests of the search share.</summary>
internal static class SearchVans
{
    /// <summary>A van that is lived in: all it has stays.</summary>
    public static Design LivedIn(string bodyClass = "long-high", Layout layout = Layout.RearPlatformBed) =>
        Presets.Start(bodyClass, layout, Presets.DefaultHousehold, Presets.DefaultStop, BuildStage.LivedIn);

    /// <summary>An empty van: all it has is proposed.</summary>
    public static Design Empty(string bodyClass = "compact-medium", Layout layout = Layout.RearPlatformBed) =>
        Presets.Start(bodyClass, layout, Presets.DefaultHousehold, Presets.DefaultStop, BuildStage.EmptyShell);

    public static SearchOrder Order(Design van, int mostCombinations = 400, Wishes? wishes = null, PriceBook? book = null) => new()
    {
        Design = van,
        Book = book ?? PriceBooks.Default,
        Wishes = wishes,
        Effort = new SearchEffort { MostCombinations = mostCombinations, Worlds = 0, Threads = 2 },
    };

    /// <summary>A rack over all of the roof.</summary>
    public static Design WithFullRoof(Design van) => van with
    {
        Body = van.Body with
        {
            RoofParts =
            [
                new RoofPart
                {
                    Id = "rack", Kind = RoofPartKind.Rack, Name = "Roof rack", State = PartState.Fitted,
                    X = van.Body.InteriorLength / 2, Y = van.Body.InteriorWidth / 2, Length = van.Body.InteriorLength, Width = van.Body.InteriorWidth,
                },
            ],
        },
    };

    public static PriceBook Without(params PriceKind[] kinds) => new([.. PriceBooks.Default.Items.Where(item => !kinds.Contains(item.Kind))]);

    /// <summary>Takes every report of a search.</summary>
    internal sealed class Reports : IProgress<SearchProgress>
    {
        public List<SearchProgress> All { get; } = [];

        public Action<SearchProgress>? Then { get; init; }

        public void Report(SearchProgress value)
        {
            All.Add(value);
            Then?.Invoke(value);
        }
    }

    /// <summary>Years that count themselves, and may do something else before each.</summary>
    internal sealed class CountedYears : IYearSource
    {
        private int _asked;

        public int Asked => _asked;

        public Action<int>? Before { get; init; }

        public System.Collections.Immutable.ImmutableArray<ComparedYear?> Each(IReadOnlyList<YearTask> tasks, int threads, CancellationToken cancellation)
        {
            List<ComparedYear?> results = [];
            foreach (YearTask task in tasks)
            {
                cancellation.ThrowIfCancellationRequested();
                Before?.Invoke(Interlocked.Increment(ref _asked));
                cancellation.ThrowIfCancellationRequested();
                results.Add(new SingleYears().Each([task], 1, cancellation)[0]);
            }

            return [.. results];
        }
    }
}
