using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>One way things nobody measured may be: habits, leakage, weather, prices. The same for all designs compared in it.</summary>
internal sealed record World(Func<Design, Design> Move, Assumptions Assumed, YearWeather Weather, PriceBook Book);

/// <summary>Draws worlds within the ranges the assessment has for what nobody measured (<c>unknowns.csv</c>, <c>defaults.csv</c>) and of prices (<c>worlds.csv</c>).</summary>
internal static class Worlds
{
    // Inputs of the van and its people all designs of a space share; what belongs to a part differs from design to design and is left alone.
    private static readonly ImmutableArray<string> Shared =
    [
        "leakage-area", "sleepers", "cooking-habit", "presence", "showers", "hot-drinks", "dries-clothes", "washes-up", "night-temperature", "shelter",
    ];

    private static readonly ImmutableArray<string> WeatherRows = ["winter-day-spread", "summer-day-spread", "dew-point-spread", "sky-cloud-dry", "sky-cloud-wet"];

    private static readonly ImmutableArray<(string Key, double Low, double Likely, double High)> Prices =
    [
        .. EmbeddedTable.Rows("Search.worlds.csv", columns: 6).Select(row => (row[0], Number(row[2]), Number(row[3]), Number(row[4]))),
    ];

    /// <summary>So many worlds of an order, from its seed.</summary>
    public static ImmutableArray<World> Of(SearchOrder order, int count)
    {
        Design now = LaterParts.Without(order.Design);
        Unknown[] unknowns = [.. UnknownInputs.Of(order.Design).Where(unknown => Shared.Contains(unknown.Key))];
        int dimensions = unknowns.Length + HeadlineBands.AssumedRows.Length + 1 + Prices.Length;
        double[][] points = Spread.Points(count, dimensions, order.Seed);
        return [.. points.Select(point => At(order, now, unknowns, point))];
    }

    private static World At(SearchOrder order, Design now, Unknown[] unknowns, double[] point)
    {
        int at = 0;
        double[] shares = [.. unknowns.Select(unknown => Share(unknown, point[at++]))];
        Assumptions assumed = Assumptions.Likely;
        foreach ((_, _, ImmutableArray<string> rows) in HeadlineBands.AssumedRows)
        {
            double share = Triangular(point[at++], 0.5, 0.5);
            assumed = rows.Aggregate(assumed, (moved, row) => moved.With(row, Between(Defaults.Low(row), Defaults.Likely(row), Defaults.High(row), share)));
        }

        double spell = Triangular(point[at++], 0.5, 0.5);
        Assumptions sky = WeatherRows.Aggregate(assumed, (moved, row) => moved.With(row, Between(Defaults.Low(row), Defaults.Likely(row), Defaults.High(row), spell)));
        Dictionary<string, double> price = [];
        foreach ((string key, double low, double likely, double high) in Prices)
        {
            price[key] = Between(low, likely, high, Triangular(point[at++], (likely - low) / (high - low), (high - likely) / (high - low)));
        }

        Design Move(Design design) => unknowns.Zip(shares).Aggregate(design, (van, pair) => pair.Second == 0 ? van : pair.First.Move(van, pair.Second).Design);
        return new World(Move, assumed, YearWeather.Of(Move(now), sky, order.Hours), Priced(order.Book, price));
    }

    private static PriceBook Priced(PriceBook book, Dictionary<string, double> price) => new(
    [
        .. book.Items.Select(item => item with
        {
            Price = Times(item.Price, price[item.Kind is PriceKind.LiquidFuel or PriceKind.BottledGas or PriceKind.Electricity or PriceKind.Firewood ? "energy-price" : "parts-price"]),
            Fitting = Times(item.Fitting, price["fitting-price"]),
        }),
    ]);

    private static decimal Times(decimal amount, double factor) => decimal.Round(amount * (decimal)factor, 4);

    private static double Share(Unknown unknown, double chance) => unknown.Continuous
        ? Triangular(chance, unknown.ChanceLow, unknown.ChanceHigh)
        : chance < unknown.ChanceLow ? -1 : chance >= 1 - unknown.ChanceHigh ? 1 : 0;

    /// <summary>Where a chance lies in a triangular density that is highest at 0 and 0 at both ends: -1 the low end, 1 the high end.</summary>
    internal static double Triangular(double chance, double low, double high) => chance < low
        ? Math.Sqrt(chance / low) - 1
        : high <= 0 ? 0 : 1 - Math.Sqrt(Math.Min(1, (1 - chance) / high));

    private static double Between(double low, double likely, double high, double share) => share < 0 ? likely - (share * (low - likely)) : likely + (share * (high - likely));

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}

/// <summary>
/// Points spread evenly over a cube: multiples of the square roots of primes, shifted by the seed (Kronecker sequence of Richtmyer; Niederreiter 1992, "Random
/// Number Generation and Quasi-Monte Carlo Methods", section 3.1; shift of Cranley and Patterson 1976), each coordinate then put into its own stripe, so
/// that every single coordinate is spread as evenly as can be (latinized: Saka, Gunzburger and Burkardt 2007).
/// </summary>
internal static class Spread
{
    /// <summary>So many points of so many coordinates, each more than 0 and less than 1.</summary>
    public static double[][] Points(int count, int dimensions, int seed)
    {
        double[][] points = [.. Enumerable.Range(0, count).Select(_ => new double[dimensions])];
        SplitMix draw = new((ulong)seed);
        int prime = 1;
        for (int k = 0; k < dimensions; k++)
        {
            prime = Next(prime);
            double root = Math.Sqrt(prime);
            double shift = draw.Next();
            double[] raw = [.. Enumerable.Range(1, count).Select(n => ((n * root) + shift) % 1)];
            int[] order = [.. Enumerable.Range(0, count).OrderBy(at => raw[at])];
            for (int rank = 0; rank < count; rank++)
            {
                points[order[rank]][k] = (rank + 0.5) / count;
            }
        }

        return points;
    }

    private static int Next(int prime)
    {
        do
        {
            prime++;
        }
        while (Enumerable.Range(2, Math.Max(0, (int)Math.Sqrt(prime) - 1)).Any(divisor => prime % divisor == 0));
        return prime;
    }
}
