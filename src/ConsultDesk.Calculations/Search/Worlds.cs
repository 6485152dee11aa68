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

    private const string Warmth = "year-warmth";

    // Factors of prices, and by how much the year is warmer than the place's mean, K.
    private static readonly ImmutableArray<(string Key, double Low, double Likely, double High)> Ranges =
    [
        .. EmbeddedTable.Rows("Search.worlds.csv", columns: 6).Select(row => (row[0], Number(row[2]), Number(row[3]), Number(row[4]))),
    ];

    /// <summary>So many worlds of an order, from its seed; each is made when it is come to, because a year of weather is large.</summary>
    public static IEnumerable<World> Of(SearchOrder order, int count)
    {
        Design now = LaterParts.Without(order.Design);
        Unknown[] unknowns = [.. UnknownInputs.Of(order.Design).Where(unknown => Shared.Contains(unknown.Key))];
        int dimensions = unknowns.Length + HeadlineBands.AssumedRows.Length + 1 + Ranges.Length;
        double[][] points = Spread.Points(count, dimensions, order.Seed);
        return points.Select(point => At(order, now, unknowns, point));
    }

    private static World At(SearchOrder order, Design now, Unknown[] unknowns, double[] point)
    {
        int at = 0;
        double[] shares = [.. unknowns.Select(unknown => Share(unknown, point[at++]))];
        Assumptions assumed = Assumptions.Likely;
        foreach ((_, _, ImmutableArray<string> rows) in HeadlineBands.AssumedRows)
        {
            double share = Triangular(point[at++], 0.5, 0.5);
            assumed = rows.Aggregate(assumed, (moved, row) => moved.With(row, Defaults.Get(row).Between(share)));
        }

        double spell = Triangular(point[at++], 0.5, 0.5);
        Assumptions sky = WeatherRows.Aggregate(assumed, (moved, row) => moved.With(row, Defaults.Get(row).Between(spell)));
        Dictionary<string, double> drawn = [];
        foreach ((string key, double low, double likely, double high) in Ranges)
        {
            drawn[key] = Between(low, likely, high, Triangular(point[at++], (likely - low) / (high - low), (high - likely) / (high - low)));
        }

        Design Move(Design design) => unknowns.Zip(shares).Aggregate(design, (van, pair) => pair.Second == 0 ? van : pair.First.Move(van, pair.Second).Design);
        return new World(Move, assumed, YearWeather.Of(Move(now), sky, order.Hours, drawn[Warmth]), Priced(order.Book, drawn));
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

    /// <summary>How far an unknown is moved where a chance between 0 and 1 lies: -1 to 1, 0 as it stands.</summary>
    internal static double Share(Unknown unknown, double chance) => unknown.Continuous
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
/// Points spread evenly over a cube: Latin hypercubes (McKay, Beckman and Conover 1979, Technometrics 21:239), every single coordinate with one point in each
/// stripe; of some drawn from the seed the one in which the two coordinates most alike are least alike (least largest correlation; Iman and Conover 1982 for
/// why). Few points in many coordinates: a sequence of Kronecker or Korobov was tried and had coordinates that went up and down together.
/// </summary>
internal static class Spread
{
    // Hypercubes the best is taken from. Our judgement: more gain little.
    private const int Tries = 100;

    /// <summary>So many points of so many coordinates, each more than 0 and less than 1.</summary>
    public static double[][] Points(int count, int dimensions, int seed)
    {
        SplitMix draw = new((ulong)seed);
        double[][] best = [];
        double least = double.PositiveInfinity;
        for (int attempt = 0; attempt < Tries; attempt++)
        {
            double[][] points = Drawn(count, dimensions, draw);
            double largest = LargestCorrelation(points);
            if (largest < least)
            {
                (best, least) = (points, largest);
            }
        }

        return best;
    }

    /// <summary>Largest correlation of two coordinates, 0 to 1; 0 with fewer than two points or coordinates.</summary>
    internal static double LargestCorrelation(double[][] points)
    {
        double whole = points.Sum(point => (point[0] - 0.5) * (point[0] - 0.5));
        double largest = 0;
        for (int a = 0; a < points[0].Length && whole > 0; a++)
        {
            for (int b = 0; b < a; b++)
            {
                largest = Math.Max(largest, Math.Abs(points.Sum(point => (point[a] - 0.5) * (point[b] - 0.5))) / whole);
            }
        }

        return largest;
    }

    private static double[][] Drawn(int count, int dimensions, SplitMix draw)
    {
        double[][] points = [.. Enumerable.Range(0, count).Select(_ => new double[dimensions])];
        for (int k = 0; k < dimensions; k++)
        {
            int[] order = draw.Shuffled(count);
            for (int at = 0; at < count; at++)
            {
                points[at][k] = (order[at] + 0.5) / count;
            }
        }

        return points;
    }
}
