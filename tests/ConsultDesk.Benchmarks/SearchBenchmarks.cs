using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>What a search spends its time on, on one core: the space, one look in situations, eight in weeks, and a whole small search.</summary>
public class SearchBenchmarks
{
    private readonly Design _design = Samples.Van;
    private readonly YearWeather _weather = YearWeather.Of(Samples.Van);
    private readonly Screen _screen = new(Samples.Van, YearWeather.Of(Samples.Van), PriceBooks.Default);
    private readonly Weeks _weeks = new(YearWeather.Of(Samples.Van), 1);

    [Benchmark]
    public DesignSpace Space_of_twenty_thousand_combinations() => DesignSpaces.Of(Order(20_000));

    [Benchmark]
    public object? A_look_in_situations() => _screen.Of(_design, CancellationToken.None);

    [Benchmark]
    public object? Looks_in_weeks_of_eight_designs() => _weeks.Of([.. Enumerable.Repeat(_design, 8)], 1, CancellationToken.None);

    [Benchmark]
    public object A_year() => new SingleYears().Each([new YearTask(_design, _weather, Assumptions.Likely)], 1, CancellationToken.None);

    [Benchmark]
    public SearchResult Search_with_forty_years() => DesignSearch.Run(Order(300, 40));

    private SearchOrder Order(int combinations, int years = 240) => new()
    {
        Design = _design,
        Book = PriceBooks.Default,
        Effort = new SearchEffort { MostCombinations = combinations, MostYears = years, Audited = 12, Worlds = 0 },
    };
}
