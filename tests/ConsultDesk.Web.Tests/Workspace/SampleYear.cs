using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>An invented year of the invented van.</summary>
internal static partial class Samples
{
    private static readonly Lazy<Assessment> Night = new(() => Assessor.Assess(Design()));

    /// <summary>The calculated night of the invented van with invented findings and, deeper, an invented year.</summary>
    public static Assessment Assessed(AssessmentDepth depth, params Finding[] findings)
    {
        var night = Night.Value with { Findings = [.. findings] };
        return depth == AssessmentDepth.Night ? night : night with
        {
            Year = Year(),
            Situations = [CookingInRain()],
            Scores = new Scores(
                Score("Ventilation", 62, "Outdoor air asleep", VolumeFlow.FromCubicMetersPerHour(31)),
                Score("Heating", 88, "Hours short of heat", Scalar.FromAmount(14)),
                Score("Breathability", 40, "Days to dry", Duration.FromDays(23)),
                Score("Hot nights", 71, "Hot hours asleep", Scalar.FromAmount(52))),
            Card = new RunningCard([CookingCell()]),
            Bands = depth == AssessmentDepth.Bands
                ? [new HeadlineBand("wet-mornings", "Wet mornings", Scalar.FromAmount(41), Scalar.FromAmount(96), Scalar.FromAmount(140), "leakage of the body")]
                : [],
            Sure = depth == AssessmentDepth.Bands ? Sure(findings) : null,
        };
    }

    /// <summary>Invented samples: every finding holds in 52 of 64, and one the likely values do not show in 9.</summary>
    public static Sureness Sure(params Finding[] findings) => new()
    {
        Samples = 66,
        NotCalculated = ["The night did not settle.", "The night did not settle."],
        Numbers =
        [
            new SureNumber("wet-mornings", "Wet mornings in a year", Scalar.FromAmount(96), Scalar.FromAmount(41.4), Scalar.FromAmount(90), Scalar.FromAmount(139.6), 64, "leakage of the body"),
            new SureNumber("hot-nights", "Hot nights in a year", Scalar.FromAmount(11), Scalar.FromAmount(11), Scalar.FromAmount(11), Scalar.FromAmount(11), 64, ""),
            new SureNumber("humidity", "RH at the bed", RelativeHumidity.FromPercent(70), RelativeHumidity.FromPercent(61.2), RelativeHumidity.FromPercent(71), RelativeHumidity.FromPercent(79.7), 64, ""),
        ],
        Findings = [.. findings.Select(finding => new SureFinding(finding.Code, finding.Title, finding.Severity, 52, 64, 0.70, 0.89, "sleepers"))],
        Hidden = [new SureFinding("hidden", "Title of hidden", Severity.Warning, 19, 64, 0.2, 0.42, "")],
        Varied = ["leakage of the body", "sleepers"],
        MadeYear = true,
    };

    private static Score Score(string name, double points, string label, IQuantity value) =>
        new(name, points, [new ScorePart(new Evidence(label, value), points, "our judgement")]);

    private static SituationResult CookingInRain() => new()
    {
        Situation = new Situation
        {
            Key = "cooking-in-rain",
            Name = "Cooking in rain",
            Outdoor = Temperature.FromDegreesCelsius(7),
            OutdoorHumidity = RelativeHumidity.FromPercent(94),
            StationWind = Speed.FromMetersPerSecond(4),
            Falling = Precipitation.Rain,
            Sun = Irradiance.Zero,
            Pressure = Pressure.FromPascals(101325),
            Lasts = Duration.FromHours(1),
            Activity = Activity.Cooking,
        },
        OutdoorAir = VolumeFlow.FromCubicMetersPerHour(44),
        Room = Temperature.FromDegreesCelsius(20),
        Humidity = RelativeHumidity.FromPercent(71),
        CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1500),
        Condensed = Mass.FromGrams(60),
        Heater = Power.FromWatts(800),
        BedAge = Duration.FromMinutes(21),
        ShutHere = ["side-window"],
    };

    private static CardCell CookingCell() => new()
    {
        Moment = Moment.Cooking,
        Weather = CardWeather.Rain,
        Aim = "carry the steam out",
        Measure = "condensed in the hour",
        Instructions = [new CardInstruction("roof-fan", "Roof fan, 350 mm", Position.Full, 0.6)],
        WithCard = Mass.FromGrams(30),
        AllShut = Mass.FromGrams(240),
        AllOpen = Mass.FromGrams(90),
    };

    private static YearAssessment Year() => new()
    {
        Surfaces =
        [
            new SurfaceYear
            {
                Id = "windscreen", Name = "Windscreen", Kind = SurfaceKind.Glass, Area = Area.FromSquareMeters(1.2), WetMornings = 96, WetHours = 1900,
                FrostHours = 60, PeakPerSquareMetre = Mass.FromGrams(220), Condensed = Mass.FromKilograms(31), RanOff = Mass.FromKilograms(4),
            },
        ],
        Skins =
        [
            new SkinYear
            {
                Part = "Walls", ZoneId = "sleeping", Area = Area.FromSquareMeters(18), PeakPerSquareMetre = Mass.FromGrams(140),
                HoursAbove80 = 2100, WetHours = 800, DaysToDry = Duration.FromDays(23), Accumulates = false,
            },
        ],
        Zones =
        [
            new ZoneYear
            {
                ZoneId = "sleeping", HoursAbove80 = 900, HoursBelow30 = 40, NightAge = Duration.FromMinutes(12), Coldest = Temperature.FromDegreesCelsius(-3),
                Warmest = Temperature.FromDegreesCelsius(34), NightCarbonDioxide = VolumeConcentration.FromPartsPerMillion(1100),
            },
        ],
        WetMornings = new WetMornings(96, 365, "windscreen", "Windscreen", Mass.FromGrams(180)),
        Condensed = Mass.FromKilograms(31),
        NightAir = VolumeFlow.FromCubicMetersPerHour(31),
        Heat = new HeatYear
        {
            Heat = Energy.FromKilowattHours(1900),
            Fuel = Mass.FromKilograms(210),
            FuelColdestDay = Mass.FromKilograms(2.1),
            Electric = Energy.FromKilowattHours(160),
            ElectricWorstDay = Energy.FromKilowattHours(0.7),
            HoursShort = 14,
            ColdestBed = Temperature.FromDegreesCelsius(11),
            CyclingShare = Ratio.FromPercent(34),
            ByMonth = [.. Enumerable.Repeat(Energy.FromKilowattHours(160), 12)],
        },
        HeaterFit = new HeaterFit
        {
            DesignOutdoor = Temperature.FromDegreesCelsius(-8),
            Air = VolumeFlow.FromCubicMetersPerHour(60),
            AirAsItStands = VolumeFlow.FromCubicMetersPerHour(31),
            LoadAsleep = Power.FromWatts(1300),
            LoadAwake = Power.FromWatts(1500),
            Gives = Power.FromWatts(2000),
            LowestOutput = Power.FromWatts(850),
            HighestStay = Length.FromMeters(91),
            RatedAltitude = Length.FromMeters(1500),
            HeatingDays = 211,
            FuelPerHeatingDay = Mass.FromKilograms(1),
            FuelColdestDay = Mass.FromKilograms(2.1),
            CyclingShare = Ratio.FromPercent(34),
            ElectricPerDay = Energy.FromKilowattHours(0.4),
            ElectricWorstDay = Energy.FromKilowattHours(0.7),
        },
        Walls =
        [
            new WallCheck
            {
                Part = "Walls", Name = "Plywood, wool, steel skin", Flow = HeatFlow.Horizontal, Months = Months, ByMonth = [.. Enumerable.Repeat(Mass.FromGrams(12), 12)], PeakPerSquareMetre = Mass.FromGrams(88),
                PeakMonth = 2, DriesWithinYear = true, WorstPlane = "between wool and steel", RoomHumidity = [.. Enumerable.Repeat(RelativeHumidity.FromPercent(60), 12)],
                MouldMonths = 3, SurfaceTemperatureFactor = 0.8,
            },
        ],
        Mould = [new MouldSurface(MouldPlace.Mattress, "Mattress underside", 1.4, 2.6), new MouldSurface(MouldPlace.BehindLining, "Walls, Bed", 0.6, 0.9)],
        HotNights = new HotNights(Temperature.FromDegreesCelsius(26), 52, 11, Temperature.FromDegreesCelsius(30))
        {
            Felt = Temperature.FromDegreesCelsius(30 - 0.8),
            AirSpeed = Speed.FromMetersPerSecond(0.25),
        },
        Extremes = new Extremes { HottestLocked = Temperature.FromDegreesCelsius(43), HottestLockedFanFailed = Temperature.FromDegreesCelsius(51) },
        Days = [.. Enumerable.Repeat(new DayState(true, true, 85, 5.2f, 9, 0), YearWeather.Days)],
        Hours = new YearHours
        {
            OutdoorC = Hours(9),
            LivingC = Hours(19),
            BedC = Hours(17),
            LivingHumidityPercent = Hours(60),
            LivingDewPointC = Hours(11),
            WettestSurfaceC = Hours(8),
            FilmGPerM2 = Hours(20),
            HeaterW = Hours(300),
            OutdoorAirM3PerH = Hours(40),
        },
        Closure = new YearClosure(1e-12, 1e-12, 60_000, 9_000, 30_000),
    };

    private static ImmutableArray<float> Hours(float value) => [.. Enumerable.Repeat(value, YearWeather.Hours)];

    /// <summary>Made up: a room of 12 to 20 °C at 60 % in a year from 0 to 18 °C outdoors.</summary>
    private static ImmutableArray<MonthClimate> Months =>
    [
        .. Enumerable.Range(0, 12).Select(month => (Outdoor: 9 - (9 * Math.Cos(2 * Math.PI * month / 12)), Room: 16 - (4 * Math.Cos(2 * Math.PI * month / 12)))).Select(at => new MonthClimate(
            Temperature.FromDegreesCelsius(at.Room),
            0.6 * MonthlyDewPoint.Saturation(Temperature.FromDegreesCelsius(at.Room)),
            Temperature.FromDegreesCelsius(at.Outdoor),
            0.8 * MonthlyDewPoint.Saturation(Temperature.FromDegreesCelsius(at.Outdoor)),
            Duration.FromDays(30))),
    ];
}
