using System.Diagnostics;
using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>How a whole search grows with the designs it looks at, on one core, and how large the spaces of some vans are.</summary>
internal static class SearchGrowth
{
    private const int Years = 480;

    private static readonly (string Name, string Size, BuildStage Stage)[] Vans =
    [
        ("compact, nothing built", "compact-", BuildStage.EmptyShell),
        ("long, insulation built", "long-high", BuildStage.PartlyBuilt),
        ("long, lived in", "long-high", BuildStage.LivedIn),
        ("extra long, nothing built", "extra-long-", BuildStage.EmptyShell),
    ];

    public static string Text()
    {
        StringBuilder page = new();
        Line(page, $"A whole search, compact van with nothing built, one core, processor time; at most {Years} years, no other worlds:\n");
        Line(page, $"| combinations | designs | listed and thinned, s | in situations, s | ms a design | raced, s | years | ms a year |");
        Line(page, $"| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (int most in new[] { 1_000, 4_000, 15_000, 60_000 })
        {
            Watch watch = new();
            SearchResult result = DesignSearch.Run(Order(Vans[0].Size, Vans[0].Stage, most) with { Currency = "" }, progress: watch);
            double end = Cpu();
            int looked = result.Race!.Looked[0];
            int years = result.Race.Years;
            Line(page, $"| {result.Space!.Size.Combined} | {result.Space.Count} | {watch.Counted - watch.From:F1} | {watch.Screened - watch.Counted:F1} | {1000 * (watch.Screened - watch.Counted) / Math.Max(1, looked):F2} | {end - watch.Screened:F1} | {years} | {1000 * (end - watch.Screened) / Math.Max(1, years):F1} |");
        }

        Line(page, $"\nSpaces at the demo prices:\n");
        Line(page, $"| van | listed | combined | designs |");
        Line(page, $"| --- | ---: | ---: | ---: |");
        foreach ((string name, string size, BuildStage stage) in Vans)
        {
            SpaceSize space = DesignSpaces.Of(Order(size, stage, new SearchEffort().MostCombinations)).Size;
            Line(page, $"| {name} | {(double)space.Listed:0.0e0} | {space.Combined} | {space.Candidates} |");
        }

        return page.ToString();
    }

    private static SearchOrder Order(string size, BuildStage stage, int most) => new()
    {
        Design = Presets.Start(
            BodyClasses.All.First(body => body.Key.StartsWith(size, StringComparison.Ordinal)).Key, Layout.RearPlatformBed, Presets.DefaultHousehold, Presets.DefaultStop, stage),
        Book = PriceBooks.Default,
        Effort = new SearchEffort { MostCombinations = most, MostYears = Years, CalculatesSmallSpacesWhole = false, Audited = 0, Worlds = 0 },
    };

    private static double Cpu() => Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds;

    private static void Line(StringBuilder page, FormattableString line) => page.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');

    /// <summary>Notes when the space was counted and when the last of its designs had been looked at.</summary>
    private sealed class Watch : IProgress<SearchProgress>
    {
        public double From { get; } = Cpu();

        public double Counted { get; private set; }

        public double Screened { get; private set; }

        public void Report(SearchProgress value)
        {
            if (value.Space is not null && Counted == 0)
            {
                Counted = Cpu();
            }

            if (value.Years == 0)
            {
                Screened = Cpu();
            }
        }
    }
}
