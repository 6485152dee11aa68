using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// What a cell of the running card wants and how it is measured: a row of <c>card-aims.csv</c>. The measure is a sum of
/// what the situation comes to, each part times its weight; docs/method/card.md shows the table.
/// </summary>
internal sealed record CardAim
{
    private static readonly ImmutableDictionary<(Moment, CardWeather), CardAim> Table = EmbeddedTable
        .Rows("Findings.card-aims.csv", columns: 16)
        .Select(cells => new CardAim(cells))
        .ToImmutableDictionary(aim => (aim.Moment, aim.Weather));

    private CardAim(string[] cells)
    {
        Moment = Enum.Parse<Moment>(cells[0]);
        Weather = Enum.Parse<CardWeather>(cells[1]);
        Unit = cells[2] is "g" or "W" or "°C" or "-"
            ? cells[2]
            : throw new InvalidOperationException($"card-aims.csv measures in '{cells[2]}'; expected g, W, °C or -.");
        Aim = cells[3];
        Measure = cells[4];
        Water = Number(cells[5]);
        Condensed = Number(cells[6]);
        Heat = Number(cells[7]);
        Air = Number(cells[8]);
        Cold = Number(cells[9]);
        Warmth = Number(cells[10]);
        Fan = Number(cells[11]);
        Open = Number(cells[12]);
        Price = Number(cells[13]);
        Caution = cells[14];
        Source = cells[15];
    }

    /// <summary>Row of the card.</summary>
    public Moment Moment { get; }

    /// <summary>Column of the card.</summary>
    public CardWeather Weather { get; }

    /// <summary>Unit of the measure: g, W, °C or - for a count.</summary>
    public string Unit { get; }

    /// <summary>What the cell wants.</summary>
    public string Aim { get; }

    /// <summary>What it is measured by.</summary>
    public string Measure { get; }

    /// <summary>Weight of a gram of water left in the van at the end.</summary>
    public double Water { get; }

    /// <summary>Weight of a gram condensed on glass and metal.</summary>
    public double Condensed { get; }

    /// <summary>Weight of a watt of the heater.</summary>
    public double Heat { get; }

    /// <summary>Weight of a m3/h of fresh air the sleepers miss.</summary>
    public double Air { get; }

    /// <summary>Weight of a kelvin the coldest room people use is too cold.</summary>
    public double Cold { get; }

    /// <summary>Weight of a degree Celsius of the room.</summary>
    public double Warmth { get; }

    /// <summary>Weight of a fan at full speed, in proportion at less.</summary>
    public double Fan { get; }

    /// <summary>Weight of an opening left open that can be shut.</summary>
    public double Open { get; }

    /// <summary>What an instruction must better the measure by to be worth giving.</summary>
    public double Price { get; }

    /// <summary>Caution that belongs to the cell whatever the van.</summary>
    public string Caution { get; }

    /// <summary>Where the aim and its weights come from.</summary>
    public string Source { get; }

    /// <summary>All cells.</summary>
    public static ImmutableArray<CardAim> All { get; } = [.. Table.Values.OrderBy(aim => aim.Moment).ThenBy(aim => aim.Weather)];

    /// <summary>The aim of a cell.</summary>
    public static CardAim Of(Moment moment, CardWeather weather) => Table[(moment, weather)];

    /// <summary>A value of the measure with its unit.</summary>
    public IQuantity Quantity(double value) => Unit switch
    {
        "g" => Mass.FromGrams(value),
        "W" => Power.FromWatts(value),
        "°C" => Temperature.FromDegreesCelsius(value),
        _ => Scalar.FromAmount(value),
    };

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
