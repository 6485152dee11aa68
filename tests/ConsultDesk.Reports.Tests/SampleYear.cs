using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Reports.Tests;

/// <summary>
/// An invented year for the invented van: made up to be easily told apart and to show every part of the figures, not
/// results of the calculation. Two people sleep in the van from October to April and on every third night of summer.
/// </summary>
internal static class SampleYear
{
    private const int Hours = 8760;

    public static Assessment Assessment { get; } = SampleDesign.Assessment with
    {
        Year = Year,
        Situations = [.. Situations],
        Scores = Scores,
        Card = Card,
        Bands = Bands,
    };

    private static double OutdoorC(int hour) =>
        9 - (8 * Math.Cos(2 * Math.PI * ((hour / 24.0) - 15) / 365))
        - (3 * Math.Cos(2 * Math.PI * ((hour % 24) - 2) / 24))
        + (3 * Math.Sin(2 * Math.PI * hour / (24 * 9.7)));

    private static bool Slept(int day) => day is < 120 or >= 273 || day % 3 == 0;

    private static float Film(int hour)
    {
        var clock = hour % 24;
        var night = Slept((hour + 12) / 24 % 365) && clock is >= 22 or < 9;
        var cold = 7.5 - OutdoorC(hour);
        return night && cold > 0 ? (float)(cold * 2.2 * (clock >= 22 ? clock - 21 : clock + 3) / 8) : 0;
    }

    private static float HeaterW(int hour)
    {
        var home = Slept((hour + 12) / 24 % 365) && hour % 24 is >= 17 or < 9;
        return home ? (float)Math.Clamp((16 - OutdoorC(hour)) * 130, 0, 2000) : 0;
    }

    private static YearAssessment Year
    {
        get
        {
            var heater = Enumerable.Range(0, Hours).Select(HeaterW).ToImmutableArray();
            var film = Enumerable.Range(0, Hours).Select(Film).ToImmutableArray();
            var outdoor = Enumerable.Range(0, Hours).Select(hour => (float)OutdoorC(hour)).ToImmutableArray();
            var days = Enumerable.Range(0, 365).Select(day => new DayState(
                Slept(day),
                Slept(day) && film[(day * 24) + 7] >= 5,
                Slept(day) ? film[(day * 24) + 7] * 1.7f : 0,
                heater.AsSpan().Slice(day * 24, 24).ToArray().Sum() / 1000,
                outdoor.AsSpan().Slice(day * 24, 24).ToArray().Average(),
                (byte)(day is 198 or 201 ? 3 : 0))).ToImmutableArray();
            var wet = days.Count(day => day.WetMorning);
            return new YearAssessment
            {
                Surfaces =
                [
                    Surface("windscreen", "Windscreen", SurfaceKind.Glass, 1.3, wet, 1420, 210, 31, 4120, 830),
                    Surface("metal-doors", "Bare metal of the rear door frames", SurfaceKind.Metal, 0.4, 12, 233, 40, 9, 310, 0),
                ],
                Skins = [.. Skins],
                Mattress = new MattressYear(1890, 312, Mass.FromGrams(74)),
                Zones =
                [
                    Zone("cab", 2110, 14, 11, -3.1, 41, 870),
                    Zone("living", 640, 380, 6.2, 4.4, 38, 960),
                    Zone("sleeping", 910, 210, 9.4, 3.8, 39, 1210),
                    Zone("under-bed", 3320, 0, 31, 2.1, 33, 1040),
                ],
                WetMornings = new WetMornings(wet, days.Count(day => day.Slept), "windscreen", "Windscreen", Mass.FromGrams(87)),
                Condensed = Mass.FromKilograms(4.43),
                NightAir = VolumeFlow.FromCubicMetersPerHour(71),
                Heat = new HeatYear
                {
                    Heat = Energy.FromKilowattHours(heater.Sum(watts => (double)watts) / 1000),
                    Fuel = Mass.FromKilograms(313),
                    FuelColdestDay = Mass.FromKilograms(3.1),
                    Electric = Energy.FromKilowattHours(97),
                    ElectricWorstDay = Energy.FromKilowattHours(0.61),
                    HoursShort = 17,
                    ColdestBed = Temperature.FromDegreesCelsius(11.2),
                    CyclingShare = Ratio.FromPercent(34),
                    ByMonth = [.. Enumerable.Range(1, 12).Select(month => Energy.FromKilowattHours(days
                        .Where((_, day) => new DateTime(2001, 1, 1).AddDays(day).Month == month).Sum(day => (double)day.HeatKwh)))],
                },
                HeaterFit = Fit,
                Walls =
                [
                    Check("Walls", "Insulated wall", 0, [9, 14, 11, 0, 0, 0, 0, 0, 0, 0, 2, 6], 2, true, "between the wool and the outer skin", 0),
                    Check("Roof", "Insulated roof", 1, [22, 31, 38, 36, 30, 21, 12, 5, 6, 9, 13, 17], 3, false, "between the wool and the outer skin", 2),
                    Check("Floor", "Insulated floor", 2, [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0], null, true, "", 0),
                ],
                Mould = [new MouldSurface(MouldPlace.Mattress, "Mattress underside", 1.4, 2.6), new MouldSurface(MouldPlace.BehindLining, "Walls, Bed", 0.6, 0.9)],
                HotNights = new HotNights(Temperature.FromDegreesCelsius(26), 6, 2, Temperature.FromDegreesCelsius(28.3))
                {
                    Felt = Temperature.FromDegreesCelsius(28.3 - 0.8),
                    AirSpeed = Speed.FromMetersPerSecond(0.25),
                },
                Extremes = new Extremes
                {
                    HottestLocked = Temperature.FromDegreesCelsius(36),
                    HottestLockedFanFailed = Temperature.FromDegreesCelsius(47),
                    BatteryFrostHours = 12,
                    WaterFrostHours = 3,
                },
                Combustion = null,
                Days = days,
                Hours = new YearHours
                {
                    OutdoorC = outdoor,
                    LivingC = [.. outdoor.Select(c => Math.Max(c, 12))],
                    BedC = [.. outdoor.Select(c => Math.Max(c, 11))],
                    LivingHumidityPercent = [.. outdoor.Select(c => 60f)],
                    LivingDewPointC = [.. outdoor.Select(c => Math.Max(c, 12) - 7)],
                    WettestSurfaceC = [.. outdoor.Select(c => c + 2)],
                    FilmGPerM2 = film,
                    HeaterW = heater,
                    OutdoorAirM3PerH = [.. outdoor.Select(_ => 71f)],
                },
                Closure = new YearClosure(1e-12, 1e-12, 52560, 9000, 21000),
            };
        }
    }

    private static HeaterFit Fit => new()
    {
        DesignOutdoor = Temperature.FromDegreesCelsius(-6.4),
        Air = VolumeFlow.FromCubicMetersPerHour(71),
        AirAsItStands = VolumeFlow.FromCubicMetersPerHour(71),
        LoadAsleep = Power.FromWatts(2480),
        LoadAwake = Power.FromWatts(2790),
        Gives = Power.FromWatts(1940),
        LowestOutput = Power.FromWatts(800),
        HighestStay = Length.FromMeters(1130),
        RatedAltitude = Length.FromMeters(1500),
        HeatingDays = 231,
        FuelPerHeatingDay = Mass.FromKilograms(1.36),
        FuelColdestDay = Mass.FromKilograms(3.1),
        CyclingShare = Ratio.FromPercent(34),
        ElectricPerDay = Energy.FromKilowattHours(0.42),
        ElectricWorstDay = Energy.FromKilowattHours(0.61),
        WithoutSun = Duration.FromHours(69),
    };

    private static SkinYear[] Skins =>
    [
        Skin("Walls", "living", 16.4, 61, 2310, 940, 23, false, [48, 61, 44, 12, 0, 0, 0, 0, 0, 3, 18, 37]),
        Skin("Roof", "living", 7.9, 118, 4120, 2050, 365, true, [96, 118, 107, 71, 40, 22, 14, 12, 19, 41, 66, 88]),
        Skin("Floor", "living", 8.6, 0, 90, 0, 0, false, [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    ];

    private static WallCheck Check(string part, string name, int skin, double[] months, int? peak, bool dries, string plane, int mould) => new()
    {
        Part = part,
        Name = name,
        Flow = part switch { "Roof" => HeatFlow.Upwards, "Floor" => HeatFlow.Downwards, _ => HeatFlow.Horizontal },
        Months = Months,
        ByMonth = [.. months.Select(grams => Mass.FromGrams(grams))],
        PeakPerSquareMetre = Mass.FromGrams(months.Max()),
        PeakMonth = peak,
        DriesWithinYear = dries,
        WorstPlane = plane,
        RoomHumidity = [.. months.Select((_, month) => RelativeHumidity.FromPercent(58 + month))],
        MouldMonths = mould,
        SurfaceTemperatureFactor = 0.81,
        Skin = Skins[skin],
    };

    private static Scores Scores => new(
        Score("Ventilation", 43, Part("Outdoor air for each sleeper", VolumeFlow.FromCubicMetersPerHour(35.5), 43), Part("Carbon dioxide by night at the bed", VolumeConcentration.FromPartsPerMillion(1210), 61)),
        Score("Heating", 78, Part("Hours in a year the heater cannot hold the temperature", Scalar.FromAmount(17), 78)),
        Score("Breathability", 6, Part("Longest time for the roof’s skin to dry", Duration.FromDays(365), 6), Part("Largest water on the skin", AreaDensity.FromGramsPerSquareMeter(118), 20)),
        Score("Hot nights", 100, Part("Nights a year with two hot hours or more", Scalar.FromAmount(2), 100)));

    private static RunningCard Card => new(
    [
        Cell(Moment.Cooking, CardWeather.Rain, "", Set("roof-fan", Position.Full, 0.4), Set("side-window", Position.Shut), Set("floor-vent", Position.Full)),
        Cell(Moment.Cooking, CardWeather.Damp, "", Set("roof-fan", Position.Full, 0.5), Set("side-window", Position.Half)),
        Cell(Moment.Cooking, CardWeather.Frost, "", Set("roof-fan", Position.Half, 0.3), Set("side-window", Position.Ajar)),
        Cell(Moment.Cooking, CardWeather.Heat, "", Set("roof-fan", Position.Full, 1), Set("side-window", Position.Full), Set("bed-window", Position.Full)),
        Cell(Moment.GoingToBed, CardWeather.Rain, "", Set("roof-fan", Position.Half, 0.1), Set("front-lid", Position.Ajar)),
        Cell(Moment.GoingToBed, CardWeather.Damp, "", Set("roof-fan", Position.Half, 0.1), Set("front-lid", Position.Half)),
        Cell(Moment.GoingToBed, CardWeather.Frost, "Never sleep with an unflued flame burning.", Set("roof-fan", Position.Ajar), Set("front-lid", Position.Ajar)),
        Cell(Moment.GoingToBed, CardWeather.Snow, "Clear the roof before you sleep.", Set("side-window", Position.Ajar)),
        Cell(Moment.Morning, CardWeather.Damp, "", Set("roof-fan", Position.Full, 0.5), Set("side-window", Position.Full)),
        Cell(Moment.DrivingOff, CardWeather.Rain, "", Set("roof-fan", Position.Shut), Set("front-lid", Position.Shut), Set("side-window", Position.Shut)),
        Cell(Moment.LeavingItLocked, CardWeather.Damp, ""),
    ]);

    private static ImmutableArray<HeadlineBand> Bands =>
    [
        new("wet-mornings", "Wet mornings in a year", Scalar.FromAmount(61), Scalar.FromAmount(118), Scalar.FromAmount(176), "leakage of the body"),
        new("night-air", "Outdoor air by night", VolumeFlow.FromCubicMetersPerHour(52), VolumeFlow.FromCubicMetersPerHour(71), VolumeFlow.FromCubicMetersPerHour(104), "wind at the van"),
        new("fuel-year", "Fuel in a year", Mass.FromKilograms(248), Mass.FromKilograms(313), Mass.FromKilograms(402), "outdoor air by night"),
        new("heat-load", "Heat needed on the coldest night", Power.FromWatts(2410), Power.FromWatts(3370), Power.FromWatts(3960), "air exchange"),
        new("coldest-bed", "Coldest hour at the bed", Temperature.FromDegreesCelsius(8.4), Temperature.FromDegreesCelsius(11.2), Temperature.FromDegreesCelsius(12.6), "air exchange"),
    ];

    private static IEnumerable<SituationResult> Situations =>
    [
        Result("cooking-in-rain", "Cooking in rain", 8, 93, Precipitation.Rain, 0.75, Activity.Cooking, 88, 18.4, 81, 1480, 41, 310, ["bed-window"]),
        Result("damp-mild-night", "Damp mild night", 9.4, 96, Precipitation.None, 8, Activity.Asleep, 64, 15.8, 71, 1260, 118, 720, []),
        Result("deep-frost-night", "Deep-frost night", -11.3, 82, Precipitation.None, 8, Activity.Asleep, 96, 13.2, 34, 1010, 163, 2000, []),
        Result("snow-night", "Night with snow on the roof", -3, 88, Precipitation.Snow, 9, Activity.Asleep, 22, 15.1, 68, 2630, 301, 1310, ["roof-fan", "front-lid"], snow: true),
        Result("hot-still-night", "Hot still night", 24.6, 58, Precipitation.None, 8, Activity.Asleep, 143, 28.1, 55, 720, 0, 0, []),
        Result("locked", "Locked and left in the sun", 31, 40, Precipitation.None, 6, Activity.LockedAndLeft, 12, 46.2, 22, 430, 0, 0, ["side-window"]),
    ];

    private static SituationResult Result(
        string key, string name, double outdoor, double humidity, Precipitation falling, double hours, Activity activity, double air, double room, double inside, double ppm, double grams, int watts, ImmutableArray<string> shut, bool snow = false) => new()
        {
            Situation = new Situation
            {
                Key = key,
                Name = name,
                Outdoor = Temperature.FromDegreesCelsius(outdoor),
                OutdoorHumidity = RelativeHumidity.FromPercent(humidity),
                StationWind = Speed.FromMetersPerSecond(2.4),
                Falling = falling,
                Sun = Irradiance.FromWattsPerSquareMeter(0),
                Pressure = Pressure.FromPascals(100000),
                Lasts = Duration.FromHours(hours),
                Activity = activity,
                SnowOnRoof = snow,
            },
            OutdoorAir = VolumeFlow.FromCubicMetersPerHour(air),
            Room = Temperature.FromDegreesCelsius(room),
            Humidity = RelativeHumidity.FromPercent(inside),
            CarbonDioxide = VolumeConcentration.FromPartsPerMillion(ppm),
            Condensed = Mass.FromGrams(grams),
            Heater = Power.FromWatts(watts),
            BedAge = Duration.FromMinutes(9),
            ShutHere = shut,
        };

    private static Score Score(string name, double points, params ImmutableArray<ScorePart> parts) => new(name, points, parts);

    private static ScorePart Part(string label, IQuantity value, double points) => new(new Evidence(label, value), points, "our judgement");

    private static CardCell Cell(Moment moment, CardWeather weather, string caution, params ImmutableArray<CardInstruction> instructions) => new()
    {
        Moment = moment,
        Weather = weather,
        Aim = moment == Moment.Cooking ? "carry the steam out" : "keep glass dry and people warm",
        Measure = "water condensed",
        Instructions = instructions,
        WithCard = Mass.FromGrams(18),
        AllShut = Mass.FromGrams(164),
        AllOpen = Mass.FromGrams(52),
        Caution = caution,
    };

    private static CardInstruction Set(string id, Position position, double? fan = null) =>
        new(id, SampleDesign.Design.Openings.First(opening => opening.Id == id).Name, position, fan);

    private static SurfaceYear Surface(string id, string name, SurfaceKind kind, double area, int mornings, int wetHours, int frost, double peak, double condensed, double ranOff) => new()
    {
        Id = id,
        Name = name,
        Kind = kind,
        Area = Area.FromSquareMeters(area),
        WetMornings = mornings,
        WetHours = wetHours,
        FrostHours = frost,
        PeakPerSquareMetre = Mass.FromGrams(peak),
        Condensed = Mass.FromGrams(condensed),
        RanOff = Mass.FromGrams(ranOff),
    };

    private static SkinYear Skin(string part, string zone, double area, double peak, int above80, int wetHours, double days, bool accumulates, double[] months) => new()
    {
        Part = part,
        ZoneId = zone,
        Area = Area.FromSquareMeters(area),
        PeakPerSquareMetre = Mass.FromGrams(peak),
        HoursAbove80 = above80,
        WetHours = wetHours,
        DaysToDry = Duration.FromDays(days),
        Accumulates = accumulates,
        PeakByMonth = [.. months.Select(grams => Mass.FromGrams(grams))],
    };

    private static ZoneYear Zone(string id, int above80, int below30, double minutes, double coldest, double warmest, double ppm) => new()
    {
        ZoneId = id,
        HoursAbove80 = above80,
        HoursBelow30 = below30,
        NightAge = Duration.FromMinutes(minutes),
        Coldest = Temperature.FromDegreesCelsius(coldest),
        Warmest = Temperature.FromDegreesCelsius(warmest),
        NightCarbonDioxide = VolumeConcentration.FromPartsPerMillion(ppm),
    };

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
