using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Vans, weathers and sums the tests of the year share.</summary>
internal static class YearVans
{
    /// <summary>First day of November and the nights from there to the end of February.</summary>
    public const int WinterFrom = 304;

    public const int WinterDays = 120;

    /// <summary>A van without a fan in its lid, which may stand open in any weather, asleep and locked.</summary>
    public static Design Lid(string bodyClass, Layout layout, string place, double leakageCm2 = 100)
    {
        Design van = Presets.Build(bodyClass, layout, Presets.DefaultHousehold, Presets.StopAt(place, 1));
        van = van with { Leakage = van.Leakage with { EffectiveArea = Area.FromSquareCentimeters(leakageCm2) } };
        return Openings.Change(van, Presets.RoofFanId, opening => opening with
        {
            Fan = null,
            Name = "Lid",
            Facts = opening.Facts with { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true },
        });
    }

    /// <summary>The van with its lid in a position.</summary>
    public static Design At(this Design van, Position position) => Openings.SetPosition(van, Presets.RoofFanId, position);

    /// <summary>The van of people who wipe its glass at 09:00, as wet mornings of the trade's rules are counted.</summary>
    public static Design Wiped(this Design van) => van with { Household = van.Household with { WipesGlass = true } };

    /// <summary>Three vans of three sizes and layouts.</summary>
    public static IEnumerable<(string Name, Design Van)> Three(string place, double leakageCm2 = 100) =>
    [
        ("long, bed along", Lid("long-high", Layout.RearPlatformBed, place, leakageCm2)),
        ("compact, bed across", Lid("compact-low", Layout.FixedBedAcross, place, leakageCm2)),
        ("extra long, front lounge", Lid("extra-long-high", Layout.FrontLounge, place, leakageCm2)),
    ];

    /// <summary>Everything a run of some days writes, summed.</summary>
    public static Days Run(Design van, YearWeather weather, Assumptions assumed, int fromDay, int days, RunOptions? options = null)
    {
        VanModel model = new(van, assumed);
        return new Days(model, YearRun.Of(model, weather, options, fromDay, days), fromDay, days);
    }

    /// <summary>Sums over some days of a year.</summary>
    internal sealed record Days(VanModel Model, YearSeries Series, int FromDay, int Count)
    {
        /// <summary>Hours of these days in the series.</summary>
        public IEnumerable<int> Hours => Enumerable.Range(24 * FromDay, 24 * Count).Select(hour => hour % YearSeries.Hours);

        /// <summary>Glass and metal.</summary>
        public int Surfaces => Model.FirstLining;

        /// <summary>Condensed on glass and metal, kg.</summary>
        public double CondensedKg => Enumerable.Range(0, Surfaces).Sum(k =>
            Model.FaceM2[k] * Hours.Sum(hour => Series.SurfaceCondensedKgPerM2[(k * YearSeries.Hours) + hour]));

        /// <summary>Share of mornings at 07:00 with 5 g/m2 or more on the windscreen, per cent.</summary>
        public double WetMorningsPercent
        {
            get
            {
                int glass = Array.FindIndex([.. Model.Night.Surfaces], surface => surface.Part == SurfacePart.Glazing);
                int wet = Hours.Count(hour => hour % 24 == 6 && Series.SurfaceFilmKgPerM2[(glass * YearSeries.Hours) + hour] >= 0.005);
                return 100.0 * wet / Count;
            }
        }

        /// <summary>Hours with 1 g/m2 or more, of all glass and metal together.</summary>
        public int WetHours => Enumerable.Range(0, Surfaces).Sum(k =>
            Hours.Count(hour => Series.SurfaceFilmKgPerM2[(k * YearSeries.Hours) + hour] >= 0.001));

        /// <summary>Outdoor air while people sleep, mean, m3/h.</summary>
        public double NightAirM3PerH => Hours.Where(hour => Series.Asleep[hour]).Average(hour => 3600 * Series.OutdoorAirM3PerS[hour]);

        /// <summary>Heat of the heater, kWh a day.</summary>
        public double HeatKwhPerDay => Hours.Sum(hour => Series.HeaterW[hour]) / 1000 / Count;
    }
}
