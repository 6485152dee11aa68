using BenchmarkDotNet.Attributes;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>What helps most: all single changes looked at, sixty assessed in every situation.</summary>
public class WhatHelpsBenchmarks
{
    private readonly Design _design = Samples.Van;

    [Benchmark]
    public WhatHelps Sixty_changes() => HelpSearch.Of(_design, PriceBooks.Default, new Wishes());

    [Benchmark]
    public object List_of_single_changes() => SingleChanges.Of(_design, PriceBooks.Default);

    [Benchmark]
    public CostSheet Cost_of_a_design() => Costing.Of(_design, PriceBooks.Default);
}
