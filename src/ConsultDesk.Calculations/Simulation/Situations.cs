using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>A cell of the running card with its situation.</summary>
/// <param name="Moment">Row of the card.</param>
/// <param name="Weather">Column of the card.</param>
/// <param name="OccursWhen">When this cell counts as occurring, in words.</param>
/// <param name="Situation">The situation; null when it never occurs on the itinerary.</param>
public sealed record CardSituation(Moment Moment, CardWeather Weather, string OccursWhen, Situation? Situation);

/// <summary>
/// The table of situations, <c>situations.csv</c>: which hours of the year each one is taken from and which quantile of
/// them. Which hours and quantiles is our judgement; the numbers come from the itinerary's own hours.
/// docs/method/situations.md describes it.
/// </summary>
public static class Situations
{
    /// <summary>Hours a year of its kind below which a situation counts as never occurring.</summary>
    public const int FewestHours = 5;

    // Half the width of the band of hours, as a share of all that qualify, whose mean stands for the quantile.
    private const double HalfBand = 0.05;

    private static readonly ImmutableArray<Row> Table = Read();

    // Weather of the headline situations where the itinerary has none.
    private static readonly ImmutableDictionary<string, string[]> StandIns = EmbeddedTable
        .Rows("Simulation.situation-stand-ins.csv", columns: 8)
        .ToImmutableDictionary(cells => cells[0]);

    /// <summary>
    /// The headline situations that occur on the itinerary: cooking in the rain, a damp mild night, a deep-frost night,
    /// a hot still night, locked and left in the sun.
    /// </summary>
    /// <param name="design">The design whose people these are.</param>
    /// <param name="weather">Its year.</param>
    /// <param name="assumptions">How long cooking takes; the likely value when left out.</param>
    public static ImmutableArray<Situation> Of(Design design, YearWeather weather, Assumptions? assumptions = null) =>
    [
        .. Table.Where(row => row.Cell.IsEmpty)
            .Select(row => Fill(row, design, weather, assumptions ?? Assumptions.Likely))
            .OfType<Situation>(),
    ];

    /// <summary>
    /// All headline situations, in the order of the table: as the itinerary has them, and with the weather of
    /// <c>situation-stand-ins.csv</c>, our judgement, where it has not.
    /// </summary>
    /// <param name="design">The design whose people, stop and altitude these are.</param>
    /// <param name="met">What <see cref="Of"/> found, or an assessment of the year holds.</param>
    /// <param name="assumptions">How long cooking takes and how clouded the sky is; the likely values when left out.</param>
    public static ImmutableArray<NamedSituation> Named(Design design, IEnumerable<Situation> met, Assumptions? assumptions = null)
    {
        ArgumentNullException.ThrowIfNull(design);
        Dictionary<string, Situation> found = met.ToDictionary(situation => situation.Key);
        Assumptions assumed = assumptions ?? Assumptions.Likely;
        return
        [
            .. Table.Where(row => row.Cell.IsEmpty).Select(row => found.TryGetValue(row.Key, out Situation? situation)
                ? new NamedSituation(situation, Occurs: true, row.OccursWhen)
                : new NamedSituation(StandIn(row, design, assumed), Occurs: false, row.OccursWhen)),
        ];
    }

    /// <summary>A situation of weather and use somebody names, at the stop of a design.</summary>
    /// <param name="design">The design whose stop gives altitude and shelter, and whose sleepers are meant when nobody says how many.</param>
    /// <param name="key">Stable key.</param>
    /// <param name="name">Name a person recognises.</param>
    /// <param name="outdoor">Outdoor temperature, within <see cref="SituationLimits.Outdoor"/>.</param>
    /// <param name="humidity">Outdoor relative humidity, within <see cref="SituationLimits.Humidity"/>.</param>
    /// <param name="wind">Wind of the station at 10 m, within <see cref="SituationLimits.Wind"/>.</param>
    /// <param name="falling">What falls from the sky; it also says how clouded the sky is.</param>
    /// <param name="sun">Global sun on a level surface, within <see cref="SituationLimits.Sun"/>.</param>
    /// <param name="activity">What the people do.</param>
    /// <param name="people">How many, within <see cref="SituationLimits.People"/>; null for the design's sleepers, nobody when it is left.</param>
    /// <param name="lasts">How long it lasts, within <see cref="SituationLimits.Lasts"/>.</param>
    /// <param name="snowOnRoof">Snow lies on the roof.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static Situation Own(
        Design design, string key, string name, Temperature outdoor, RelativeHumidity humidity, Speed wind, Precipitation falling,
        Irradiance sun, Activity activity, int? people, Duration lasts, bool snowOnRoof = false)
    {
        ArgumentNullException.ThrowIfNull(design);
        double pressurePa = StandardAtmosphere.PressurePa(design.Stop.Altitude.Meters);
        Situation situation = new()
        {
            Key = key,
            Name = name,
            Outdoor = outdoor,
            OutdoorHumidity = humidity,
            StationWind = wind,
            Falling = falling,
            Sun = sun,
            Pressure = Pressure.FromPascals(pressurePa),
            Lasts = lasts,
            Activity = activity,
            SnowOnRoof = snowOnRoof,
            People = activity == Activity.LockedAndLeft ? 0 : people ?? design.Household.Sleepers,
            Shelter = design.Stop.Shelter,
        };
        RequireWithinLimits(situation);
        return situation with { SkyLoss = SkyLoss(situation, Assumptions.Likely[Cloud(falling)]) };
    }

    /// <summary>
    /// A situation changed by hand under the sky it had: what is lost to the sky follows temperature and humidity with
    /// the cloud it had before, and takes the cloud of a wet or a dry day when rain begins or ends.
    /// </summary>
    /// <param name="changed">The situation as it was changed; its sky loss is not read.</param>
    /// <param name="from">What it was before, with its sky loss.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number of it lies outside the range of <see cref="SituationLimits"/>.</exception>
    public static Situation UnderItsSky(Situation changed, Situation from)
    {
        ArgumentNullException.ThrowIfNull(changed);
        ArgumentNullException.ThrowIfNull(from);
        RequireWithinLimits(changed);
        if ((changed.Falling == Precipitation.None) != (from.Falling == Precipitation.None))
        {
            return changed with { SkyLoss = SkyLoss(changed, Assumptions.Likely[Cloud(changed.Falling)]) };
        }

        double before = SkyLoss(from, cloudShare: 0).WattsPerSquareMeter;
        return changed with { SkyLoss = before > 0 ? SkyLoss(changed, cloudShare: 0) * (from.SkyLoss.WattsPerSquareMeter / before) : from.SkyLoss };
    }

    /// <summary>The cell of the running card whose aim a situation has: its row by what the people do, its column by the weather.</summary>
    /// <remarks>
    /// Snow before rain before frost before heat; what is none of them counts as damp and mild. Heat begins where it
    /// does on the card, and not while the heater may still want to run.
    /// </remarks>
    public static (Moment Moment, CardWeather Weather) CellOf(Design design, Situation situation)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(situation);
        Moment moment = situation.Activity switch
        {
            Activity.Awake => Moment.Morning,
            Activity.Cooking => Moment.Cooking,
            Activity.Asleep => Moment.GoingToBed,
            Activity.LockedAndLeft => Moment.LeavingItLocked,
            Activity.Driving => Moment.DrivingOff,
            _ => throw new ArgumentOutOfRangeException(nameof(situation), situation.Activity, "Expected a known activity."),
        };
        double outdoorC = situation.Outdoor.DegreesCelsius;
        Temperature kept = situation.Activity is Activity.Asleep or Activity.LockedAndLeft ? design.Heater.NightSetPoint : design.Heater.DaySetPoint;
        bool away = situation.Activity == Activity.LockedAndLeft;
        bool heats = !situation.HeaterOff && (!away || design.Heater.RunsWhenAway) && HeaterLimit.OfW(design) > 0 && situation.Outdoor < kept;
        double heatFromC = Table.Single(row => row.Cell.Contains((moment, CardWeather.Heat))).LowestC;
        return (moment, situation switch
        {
            { SnowOnRoof: true } or { Falling: Precipitation.Snow } => CardWeather.Snow,
            { Falling: Precipitation.Rain or Precipitation.DrivingRain } => CardWeather.Rain,
            _ when outdoorC < 0 => CardWeather.Frost,
            _ when outdoorC >= heatFromC && !heats => CardWeather.Heat,
            _ => CardWeather.Damp,
        });
    }

    private static Situation StandIn(Row row, Design design, Assumptions assumed)
    {
        string[] cells = StandIns[row.Key];
        double Number(int column) => double.Parse(cells[column], CultureInfo.InvariantCulture);
        Situation situation = Own(
            design, row.Key, row.Name, Temperature.FromDegreesCelsius(Number(1)), RelativeHumidity.FromPercent(Number(2)),
            Speed.FromMetersPerSecond(Number(3)), Enum.Parse<Precipitation>(cells[4]), Irradiance.FromWattsPerSquareMeter(Number(5)),
            row.Activity, row.Household ? null : 0, row.Lasts(assumed), row.SnowOnRoof);
        return situation with { SkyLoss = SkyLoss(situation, assumed[cells[6]]) };
    }

    private static string Cloud(Precipitation falling) => falling == Precipitation.None ? "sky-cloud-dry" : "sky-cloud-wet";

    private static Irradiance SkyLoss(Situation situation, double cloudShare)
    {
        double outdoorC = situation.Outdoor.DegreesCelsius;
        double dewPointC = MoistAir.DewPointC(situation.OutdoorHumidity.Percent / 100 * MoistAir.SaturationPressurePa(outdoorC));
        return Nights.SkyLoss(outdoorC, dewPointC, situation.Pressure.Pascals, cloudShare);
    }

    private static void RequireWithinLimits(Situation situation)
    {
        SituationLimits.Outdoor.Check(situation.Outdoor.DegreesCelsius, nameof(situation));
        SituationLimits.Humidity.Check(situation.OutdoorHumidity.Percent, nameof(situation));
        SituationLimits.Wind.Check(situation.StationWind.MetersPerSecond, nameof(situation));
        SituationLimits.Sun.Check(situation.Sun.WattsPerSquareMeter, nameof(situation));
        SituationLimits.People.Check(situation.People, nameof(situation));
        SituationLimits.Lasts.Check(situation.Lasts.Hours, nameof(situation));
    }

    /// <summary>The situation of every cell of the running card, row by row; none where that weather never occurs.</summary>
    /// <param name="design">The design whose people these are.</param>
    /// <param name="weather">Its year.</param>
    /// <param name="assumptions">How long cooking takes; the likely value when left out.</param>
    public static ImmutableArray<CardSituation> ForCard(Design design, YearWeather weather, Assumptions? assumptions = null) =>
    [
        .. from row in Table
           from cell in row.Cell
           select new CardSituation(
               cell.Moment, cell.Weather, row.OccursWhen, Fill(row, design, weather, assumptions ?? Assumptions.Likely)),
    ];

    /// <summary>
    /// Hours of the year that belong to one cell of a card's row and to none of the weathers named before its own.
    /// </summary>
    /// <param name="weather">The year.</param>
    /// <param name="moment">Row of the card.</param>
    /// <param name="column">Column of the card.</param>
    /// <param name="inOrder">Columns in the order in which they take an hour.</param>
    internal static int HoursOfItsOwn(YearWeather weather, Moment moment, CardWeather column, ImmutableArray<CardWeather> inOrder)
    {
        Row Cell(CardWeather at) => Table.Single(row => row.Cell.Contains((moment, at)));
        Row own = Cell(column);
        Row[] before = [.. inOrder.TakeWhile(other => other != column).Select(Cell)];
        return Enumerable.Range(0, YearWeather.Hours).Count(hour => own.Holds(weather, hour) && !before.Any(row => row.Holds(weather, hour)));
    }

    private static Situation? Fill(Row row, Design design, YearWeather weather, Assumptions assumptions)
    {
        List<int> hours = [];
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            if (row.Holds(weather, hour))
            {
                hours.Add(hour);
            }
        }

        if (hours.Count < FewestHours)
        {
            return null;
        }

        Func<int, double> order = row.Order switch
        {
            "temperature" => hour => weather.TemperatureC[hour],
            "humidity" => hour => weather.HumidityShare[hour],
            _ => throw new InvalidOperationException($"The situation {row.Key} is ordered by '{row.Order}'; expected temperature or humidity."),
        };
        double[] winds = [.. hours.Select(hour => weather.StationWindMPerS[hour]).Order()];
        int[] ranked = [.. hours.OrderBy(order)];
        int first = Rank(row.Quantile - HalfBand, ranked.Length);
        int last = Rank(row.Quantile + HalfBand, ranked.Length);
        int[] band = ranked[first..(last + 1)];

        double temperatureC = band.Average(hour => weather.TemperatureC[hour]);
        double vapourPa = Math.Min(
            band.Average(hour => weather.VapourPressurePa[hour]),
            Nights.HighestSaturation * MoistAir.SaturationPressurePa(temperatureC));
        double windMPerS = row.WindQuantile is double quantile
            ? winds[Rank(quantile, winds.Length)]
            : band.Average(hour => weather.StationWindMPerS[hour]);
        return new Situation
        {
            Key = row.Key,
            Name = row.Name,
            Outdoor = Temperature.FromDegreesCelsius(temperatureC),
            OutdoorHumidity = RelativeHumidity.FromPercent(100 * vapourPa / MoistAir.SaturationPressurePa(temperatureC)),
            StationWind = Speed.FromMetersPerSecond(windMPerS),
            Falling = MostOf(band, hour => weather.Falling[hour]),
            Sun = Irradiance.FromWattsPerSquareMeter(band.Average(hour => weather.SunWPerM2[hour])),
            SkyLoss = Irradiance.FromWattsPerSquareMeter(band.Average(hour => weather.SkyLossWPerM2[hour])),
            Pressure = Pressure.FromPascals(band.Average(hour => weather.PressurePa[hour])),
            Lasts = row.Lasts(assumptions),
            Activity = row.Activity,
            SnowOnRoof = row.SnowOnRoof,
            People = row.Household ? design.Household.Sleepers : 0,
            Shelter = MostOf(band, hour => weather.Shelter[hour]),
            HoursAYear = hours.Count,
        };
    }

    private static int Rank(double quantile, int count) => (int)Math.Round(Math.Clamp(quantile, 0, 1) * (count - 1));

    /// <summary>The value most of these hours have; of several the first in the order of their kind.</summary>
    internal static T MostOf<T>(IEnumerable<int> band, Func<int, T> value)
        where T : struct, Enum =>
        band.GroupBy(value).OrderByDescending(group => group.Count()).ThenBy(group => group.Key).First().Key;

    private static ImmutableArray<Row> Read() => [.. EmbeddedTable.Rows("Simulation.situations.csv", columns: 18).Select(cells => new Row(cells))];

    private sealed class Row
    {
        private readonly int _fromHour;
        private readonly int _toHour;
        private readonly string _falls;
        private readonly double _highestC;
        private readonly double _lowestHumidity;
        private readonly string _duration;

        public Row(string[] cells)
        {
            Key = cells[0];
            Name = cells[1];
            Cell = cells[2].Length == 0 ? [] : [(Enum.Parse<Moment>(cells[2]), Enum.Parse<CardWeather>(cells[3]))];
            _fromHour = int.Parse(cells[4], CultureInfo.InvariantCulture);
            _toHour = int.Parse(cells[5], CultureInfo.InvariantCulture);
            _falls = OneOf(cells[6], "dry", "rain", "any");
            SnowOnRoof = OneOf(cells[7], "yes", "no") == "yes";
            LowestC = Number(cells[8]);
            _highestC = Number(cells[9]);
            _lowestHumidity = Number(cells[10]) / 100;
            Order = cells[11];
            Quantile = Number(cells[12]);
            WindQuantile = cells[13] == "mean" ? null : Number(cells[13]);
            Activity = Enum.Parse<Activity>(cells[14]);
            _duration = cells[15];
            Household = OneOf(cells[16], "household", "nobody") == "household";
            OccursWhen = cells[17];
        }

        public string Key { get; }

        public string Name { get; }

        /// <summary>Cell of the running card; empty for a headline situation.</summary>
        public ImmutableArray<(Moment Moment, CardWeather Weather)> Cell { get; }

        /// <summary>Outdoor temperature from which it counts as occurring.</summary>
        public double LowestC { get; }

        public bool SnowOnRoof { get; }

        public string Order { get; }

        public double Quantile { get; }

        /// <summary>Quantile of the wind among the hours that qualify; null for the mean of the hours chosen.</summary>
        public double? WindQuantile { get; }

        public Activity Activity { get; }

        public bool Household { get; }

        public string OccursWhen { get; }

        /// <summary>Hours as a number, or the key of an assumed value in minutes.</summary>
        public Duration Lasts(Assumptions assumptions) => double.TryParse(_duration, NumberStyles.Float, CultureInfo.InvariantCulture, out double hours)
            ? Duration.FromHours(hours)
            : Duration.FromMinutes(assumptions[_duration]);

        public bool Holds(YearWeather weather, int hour)
        {
            int ofDay = hour % 24;
            bool inWindow = _fromHour < _toHour ? ofDay >= _fromHour && ofDay < _toHour : ofDay >= _fromHour || ofDay < _toHour;
            double temperatureC = weather.TemperatureC[hour];
            return inWindow
                && temperatureC >= LowestC && temperatureC < _highestC
                && FallsAsAsked(weather.Falling[hour])
                && (!SnowOnRoof || weather.SnowOnRoof[hour])
                && (_lowestHumidity == 0 || weather.HumidityShare[hour] >= _lowestHumidity);
        }

        private bool FallsAsAsked(Precipitation falling) => _falls switch
        {
            "dry" => falling is Precipitation.None,
            "rain" => falling is Precipitation.Rain or Precipitation.DrivingRain,
            _ => true,
        };

        private string OneOf(string text, params string[] expected) => expected.Contains(text)
            ? text
            : throw new InvalidOperationException($"The situation {Key} has '{text}'; expected one of {string.Join(", ", expected)}.");

        private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
    }
}
