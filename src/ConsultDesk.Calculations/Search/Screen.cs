using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>What a design comes to in the screening situations: cheap numbers from which its year is estimated.</summary>
/// <param name="MoneyNow">What is still to be bought now.</param>
/// <param name="Parts">Parts to buy and holes to cut.</param>
/// <param name="NoiseDba">Fans that run by night together, dB(A) at 1 m.</param>
/// <param name="Features">The situations' numbers, in the order of <see cref="Screen.FeatureNames"/>.</param>
internal sealed record ScreenNumbers(double MoneyNow, double Parts, double NoiseDba, ImmutableArray<double> Features);

/// <summary>The quick look at a design: the weighed wet situations of "what helps most now", a frost night and a hot night. Safe to use from several threads.</summary>
internal sealed class Screen
{
    private readonly PriceBook _book;
    private readonly ImmutableArray<WeighedSituation> _wet;
    private readonly ImmutableArray<Situation> _situations;
    private readonly int _hot;
    private readonly double _glassAndMetalM2;

    /// <summary>Prepares the situations of a design's year.</summary>
    public Screen(Design now, YearWeather weather, PriceBook book)
    {
        _book = book;
        _wet = HelpSearch.Weighed(now, weather);
        ImmutableArray<Situation> headline = Situations.Of(now, weather);
        List<Situation> situations = [.. _wet.Select(weighed => weighed.Situation)];
        Also("deep-frost-night");
        _hot = Also("hot-still-night");
        _situations = [.. situations];
        _glassAndMetalM2 = GlassAndMetalM2(now);

        int Also(string key)
        {
            if (headline.FirstOrDefault(situation => situation.Key == key) is not Situation found)
            {
                return -1;
            }

            situations.Add(found);
            return situations.Count - 1;
        }
    }

    /// <summary>What the features are, with the width in which two choices count as alike. Our judgement.</summary>
    public static ImmutableArray<(string Name, double Box)> FeatureNames { get; } =
    [
        ("wet hours in the situations, h", 25),
        ("shortfall of the coldest night, K", 0.5),
        ("heat in the situations, kWh", 50),
        ("room over outdoors in a hot still night, K", 0.25),
        ("dampest night, %", 2),
        ("condensed, kg", 2),
        ("outdoor air at night, least, m3/h", 10),
        ("draw of fans, W", 2),
        ("fuel or current for that heat, money", 10),
    ];

    /// <summary>Glass and bare metal of a design, m2.</summary>
    public static double GlassAndMetalM2(Design design) =>
        design.Glazings.Sum(glazing => glazing.Area.SquareMeters)
        + design.Openings.Where(opening => opening.Pane is not null).Sum(opening => opening.Length.Meters * opening.Width.Meters)
        + design.BareMetal.Sum(patch => patch.Area.SquareMeters);

    /// <summary>The numbers of a design; null when a situation does not balance.</summary>
    public ScreenNumbers? Of(Design design, CancellationToken cancellation)
    {
        Design now = LaterParts.Without(design);
        ImmutableArray<SituationResult> results;
        try
        {
            results = SituationRun.Of(now, _situations, Assumptions.Likely, cancellation);
        }
        catch (CalculationFailedException)
        {
            return null;
        }

        double wet = 0;
        double heatKwh = 0;
        double condensedKg = 0;
        double leastAirM3PerH = double.PositiveInfinity;
        double dampest = 0;
        double shortK = 0;
        double nightC = now.Heater.NightSetPoint.DegreesCelsius;
        for (int index = 0; index < results.Length; index++)
        {
            SituationResult result = results[index];
            if (result.Situation.Activity == Activity.Asleep)
            {
                shortK = Math.Max(shortK, nightC - result.Room.DegreesCelsius);
                leastAirM3PerH = Math.Min(leastAirM3PerH, result.OutdoorAir.CubicMetersPerHour);
                dampest = Math.Max(dampest, result.Humidity.Percent);
            }

            if (index < _wet.Length)
            {
                int hours = _wet[index].Hours;
                wet += hours * result.WetGlassAndMetal.SquareMeters;
                heatKwh += hours * (double)result.Heater.Watts / 1000;
                condensedKg += hours * result.Condensed.Kilograms / result.Situation.Lasts.Hours;
            }
        }

        double hotK = _hot < 0 ? 0 : Math.Max(0, results[_hot].Room.DegreesCelsius - results[_hot].Situation.Outdoor.DegreesCelsius);
        return new ScreenNumbers(
            (double)Costing.Of(design, _book).Now,
            Parts(design),
            NoiseDba(now),
            [
                _glassAndMetalM2 > 0 ? wet / _glassAndMetalM2 : 0, shortK, heatKwh, hotK, dampest, condensedKg,
                double.IsInfinity(leastAirM3PerH) ? 0 : leastAirM3PerH, FanW(now), FuelMoney(now, heatKwh),
            ]);
    }

    /// <summary>Parts still to be bought now and holes still to be cut for them.</summary>
    public double Parts(Design design) => Parts(design, _book);

    /// <summary>The same by the prices of a book.</summary>
    public static double Parts(Design design, PriceBook book) => Costing.Of(design, book).Lines.Count(line => line.State == PartState.Proposed)
        + design.Openings.Count(opening => opening.State == PartState.Proposed
            && opening.Kind is OpeningKind.RoofVent or OpeningKind.SlidingWindow or OpeningKind.HingedWindow or OpeningKind.FloorVent);

    /// <summary>
    /// Fans of openings that run by night together: levels add by their power, L = 10 lg sum 10^(L/10) (ISO 80000-8, ISO 9613; recalled). 0 when none runs
    /// or nobody knows its sound. The price book's fans within the van are not in it: a design does not carry their sound.
    /// </summary>
    public static double NoiseDba(Design design)
    {
        double[] levels = [.. design.Openings.Select(opening => WishCheck.NightSoundDba(design, opening)).OfType<double>()];
        return levels.Length == 0 ? 0 : Math.Max(0, 10 * Math.Log10(levels.Sum(level => Math.Pow(10, level / 10))));
    }

    private double FuelMoney(Design design, double heatKwh)
    {
        if (RunningPrices.OfHeater(_book, design.Heater.Kind) is not PriceItem item || Heaters.Nearest(design.Heater.Kind, design.Heater.RatedOutput) is not HeaterClass heater)
        {
            return 0;
        }

        return (double)(heater.Fuel is Moisture.Fuel fuel
            ? RunningPrices.Cost(item, UnitsNet.Mass.FromKilograms(FuelUse.FuelKg(fuel, 3.6e6 * heatKwh, heater.Efficiency)))
            : RunningPrices.Cost(item, UnitsNet.Energy.FromKilowattHours(heatKwh / heater.Efficiency)));
    }

    private static double FanW(Design design) =>
        design.CirculationFans.Where(fan => fan.Running).Sum(fan => (double)fan.ElectricDraw.Watts)
        + design.Openings.Where(opening => opening.Position != Position.Shut).Sum(opening => opening.Fan is Fan fan
            ? FanPower.DrawW(FanPower.FullSpeedW(fan, Assumptions.Likely), Assumptions.Likely["fan-electronics"], fan.Speed)
            : 0);
}
