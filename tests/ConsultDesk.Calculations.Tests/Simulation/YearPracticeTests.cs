using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// Rules of the trade that need time: wet mornings through a damp winter, frost in deep cold, unflued heat, a cupboard on
/// the skin. Common practice, no source; the sizes asked for are ours. What does not hold is said in the table's reading
/// and not asserted.
/// </summary>
public sealed class YearPracticeTests
{
    private static readonly ImmutableArray<(string Name, Assumptions Assumed)> Ends =
    [
        ("low", Assumptions.Low),
        ("likely", Assumptions.Likely),
        ("high", Assumptions.High),
    ];

    // Damp mild coasts of the climate table; the first is the pinned one.
    private static readonly ImmutableArray<string> Coasts = ["seattle", "oban", "prince-rupert"];

    private static readonly Lazy<ImmutableArray<WinterRow>> Winter = new(Winters);
    private static readonly Lazy<ImmutableArray<FrostRow>> Frost = new(Frosts);
    private static readonly Lazy<ImmutableArray<FlameRow>> Flame = new(Flames);
    private static readonly Lazy<ImmutableArray<CupboardRow>> Cupboard = new(Cupboards);

    /// <summary>Wet mornings.</summary>
    internal static PracticeTable WetMornings() => new(
        "One vent open, and a damp winter",
        "Two sleepers, heated, single cab glass without covers wiped at 09:00, leakage 100 cm2, ordinary site, the nights of November to "
        + "February. Shut, at least nine mornings in ten are wet (5 g/m2 on the windscreen at 07:00) at likely values and 20 to 150 cm2; a lid "
        + "opened further never condenses more; in the long van the lid alone at least halves what condenses, and with a 100 cm2 low vent at least "
        + "three quarters are gone.",
        "Not met: the lid alone was expected to halve the long van's wet **mornings** and lid with low vent to cut them by nine in ten. The lid "
        + "alone leaves nearly all of them wet, and with the low vent the long van loses a third of them (Seattle) to a half (Prince Rupert), the "
        + "others less; before the cold of the night sky was counted it was a half to all. The grams fall as expected, but a film of 5 g/m2 takes little air. \"Leave one vent open\" is true only with an inlet and enough air. The last columns give "
        + "the first way tried that brings wet mornings to one in ten, and how much more night air that is than the lid alone.",
        nameof(YearPracticeTests),
        ["van", "weather", "assumptions", "shut, % wet", "g/night", "m3/h", "lid, % wet", "g/night", "m3/h", "lid + low vent, % wet", "g/night", "m3/h", "one in ten with", "m3/h missing"],
        [
            .. Winter.Value.Select(row => ImmutableArray.Create<string>(
                [row.Van, row.Weather, row.Assumptions, .. Cells(row.Shut), .. Cells(row.Lid), .. Cells(row.Both), row.Way, row.Missing])),
        ]);

    /// <summary>Frost.</summary>
    internal static PracticeTable DeepFrost() => new(
        "A lid a finger open in deep frost",
        "At -30 °C, wind 3 m/s at 10 m, heated all day and not wiped, frost on the cab glass grows less with the lid one tenth open: always, and to at most "
        + "four fifths of the shut van's growth a day after day 3 at likely values. The extra heat is stated; nothing is dry here.",
        "Not met everywhere: at most two thirds were expected, for 60 to 150 cm2. At likely values the long van comes to it at 150 cm2 and stays "
        + "just above it at 100; the other vans and tighter ones leave more.",
        nameof(YearPracticeTests),
        ["van", "weather", "assumptions", "shut, g/m2 a day", "lid 10 %, g/m2 a day", "share left", "shut, kWh/d", "lid 10 %, kWh/d", "more heat"],
        [
            .. Frost.Value.Select(row => ImmutableArray.Create(
                row.Van, row.Weather, row.Assumptions, F0(row.Shut.FrostGPerM2), F0(row.Ajar.FrostGPerM2), Percent(row.Ajar.FrostGPerM2 / row.Shut.FrostGPerM2),
                F0(row.Shut.KwhPerDay), F0(row.Ajar.KwhPerDay), Percent((row.Ajar.KwhPerDay / row.Shut.KwhPerDay) - 1))),
        ]);

    /// <summary>Flame.</summary>
    internal static PracticeTable UnfluedHeat() => new(
        "The same heat from a flame without a flue",
        "January to March, kept at the same temperatures: an unflued flame gives at least 1.5 times what condenses on glass and metal with the lid shut "
        + "and at least twice with it open. Besides, its gases stay with the people: never sleep with an unflued flame.",
        "Room-sealed, at a steady -15 °C and heated all day, the mean relative humidity of living and bed zone stays below 30 % in every van. Not met: it was "
        + "expected to stay there every hour; while two people cook on gas in a shut van it does not, least of all in the small one (last column). A room-sealed heater adds no water and lowers relative humidity by "
        + "warming; it removes none.",
        nameof(YearPracticeTests),
        ["van", "weather", "assumptions", "sealed, shut, g/d", "unflued, shut", "sealed, open, g/d", "unflued, open", "sealed at -15 °C, mean % RH", "highest % RH"],
        [
            .. Flame.Value.Select(row => ImmutableArray.Create(
                row.Van, row.Weather, row.Assumptions, F0(row.SealedShutG), Times(row.UnfluedShutG / row.SealedShutG),
                F0(row.SealedOpenG), Times(row.UnfluedOpenG / row.SealedOpenG), F0(row.AtFifteen.MeanHumidityPercent), F0(row.AtFifteen.HighestHumidityPercent))),
        ]);

    /// <summary>Cupboard.</summary>
    internal static PracticeTable ShutCupboard() => new(
        "A shut cupboard on the outside wall",
        "A shut cupboard on the skin has more damp hours (air above 80 % relative humidity, November to February) than the same cupboard open at "
        + "top and bottom; lid ajar.",
        "",
        nameof(YearPracticeTests),
        ["van", "weather", "assumptions", "shut, damp hours", "open top and bottom, damp hours", "shut, mean °C", "open, mean °C"],
        [
            .. Cupboard.Value.Select(row => ImmutableArray.Create(
                row.Van, row.Weather, row.Assumptions, row.ShutHours.ToString(CultureInfo.InvariantCulture), row.OpenHours.ToString(CultureInfo.InvariantCulture),
                F1(row.ShutC), F1(row.OpenC))),
        ]);

    [Theory]
    [InlineData(20)]
    [InlineData(60)]
    [InlineData(100)]
    [InlineData(150)]
    public void Shut_at_likely_values_nine_mornings_in_ten_are_wet(double leakageCm2)
    {
        foreach (string coast in Coasts)
        {
            foreach ((string name, Design van) in YearVans.Three(coast, leakageCm2))
            {
                YearVans.Days winter = InWinter(van.At(Position.Shut), Assumptions.Likely);
                Assert.True(winter.WetMorningsPercent >= 90, $"{name}, {coast}: {winter.WetMorningsPercent} %");
            }
        }
    }

    [Fact]
    public void A_lid_opened_further_never_condenses_more_and_a_low_vent_beside_it_takes_most()
    {
        Print(WetMornings());
        Assert.All(Winter.Value, row =>
        {
            Assert.True(row.Lid.CondensedG <= row.Shut.CondensedG, row.ToString());
            Assert.True(row.Both.CondensedG < row.Lid.CondensedG, row.ToString());
            Assert.True(row.Both.WetPercent <= row.Lid.WetPercent && row.Lid.WetPercent <= row.Shut.WetPercent, row.ToString());
        });
        Assert.All(Winter.Value.Where(row => row.Assumptions == "likely" && row.Van == "long, bed along"), row =>
        {
            Assert.True(row.Lid.CondensedG <= row.Shut.CondensedG / 2, row.ToString());
            Assert.True(row.Both.CondensedG <= row.Shut.CondensedG / 4, row.ToString());
        });
    }

    [Fact]
    public void A_lid_a_finger_open_slows_frost_in_deep_cold_and_costs_heat()
    {
        Print(DeepFrost());
        Assert.All(Frost.Value, row =>
        {
            Assert.True(row.Ajar.FrostGPerM2 < row.Shut.FrostGPerM2, row.ToString());
            Assert.True(row.Ajar.KwhPerDay > row.Shut.KwhPerDay, row.ToString());
        });
        Assert.All(Frost.Value.Where(row => row.Assumptions == "likely"), row =>
            Assert.True(row.Ajar.FrostGPerM2 <= 0.8 * row.Shut.FrostGPerM2, row.ToString()));
    }

    [Fact]
    public void The_same_heat_unflued_condenses_half_as_much_again_shut_and_twice_as_much_open()
    {
        Print(UnfluedHeat());
        Assert.All(Flame.Value, row =>
        {
            Assert.True(row.UnfluedShutG >= 1.5 * row.SealedShutG, row.ToString());
            Assert.True(row.UnfluedOpenG >= 2 * row.SealedOpenG, row.ToString());
        });
        Assert.All(Flame.Value, row => Assert.True(row.AtFifteen.MeanHumidityPercent < 30, row.ToString()));
    }

    [Fact]
    public void A_shut_cupboard_on_the_skin_has_more_damp_hours_than_one_open_top_and_bottom()
    {
        Print(ShutCupboard());
        Assert.All(Cupboard.Value, row => Assert.True(row.ShutHours > row.OpenHours, row.ToString()));
    }

    private static ImmutableArray<WinterRow> Winters() =>
    [
        .. from coast in Coasts
           from van in YearVans.Three(coast)
           from end in Ends
           select WinterOf(van.Name, coast, end.Name, van.Van, end.Assumed),
    ];

    private static WinterRow WinterOf(string name, string coast, string end, Design van, Assumptions assumed)
    {
        Outcome lid = Outcome.Of(InWinter(van.At(Position.Full), assumed));
        (string way, double airM3PerH) = WayToOneInTen(van.At(Position.Full), assumed);
        return new WinterRow(
            name,
            ClimateTable.Get(coast).Name,
            end,
            Outcome.Of(InWinter(van.At(Position.Shut), assumed)),
            lid,
            Outcome.Of(InWinter(MoreAir.AddLowVent(van.At(Position.Full)), assumed)),
            way,
            double.IsNaN(airM3PerH) ? "-" : F0(Math.Max(0, airM3PerH - lid.AirM3PerH)));
    }

    // The first that brings wet mornings to one in ten: the lid, low vents beside it, or a fan in the lid with a low vent.
    private static (string Way, double AirM3PerH) WayToOneInTen(Design lid, Assumptions assumed)
    {
        Design one = MoreAir.AddLowVent(lid);
        List<(string Name, Design Design)> ways = [("the lid", lid), ("a low vent", one), ("two low vents", MoreAir.AddLowVent(one))];
        foreach (int step in new[] { 1, 2, 3, 4 })
        {
            ways.Add(($"fan at {10 * step} % and a low vent", Openings.Change(one, Presets.RoofFanId, opening => opening with
            {
                Fan = new Fan
                {
                    FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.42),
                    ShutOffPressure = Pressure.FromPascals(40),
                    Speed = step / 10.0,
                    Direction = FanDirection.Exhaust,
                },
            })));
        }

        foreach ((string name, Design design) in ways)
        {
            YearVans.Days winter = InWinter(design, assumed);
            if (winter.WetMorningsPercent <= 10)
            {
                return (name, winter.NightAirM3PerH);
            }
        }

        return ("none of these", double.NaN);
    }

    private static YearVans.Days InWinter(Design van, Assumptions assumed) =>
        YearVans.Run(van.Wiped(), YearWeather.Of(van), assumed, YearVans.WinterFrom, YearVans.WinterDays);

    private static ImmutableArray<FrostRow> Frosts() =>
    [
        .. from leakage in new[] { 60.0, 100, 150 }
           from van in YearVans.Three("fairbanks", leakage)
           from end in Ends
           let heated = van.Van with { Heater = van.Van.Heater with { RatedOutput = Power.FromKilowatts(10), RunsWhenAway = true } }
           select new FrostRow(
               van.Name,
               string.Create(CultureInfo.InvariantCulture, $"-30 °C, {leakage:F0} cm2"),
               end.Name,
               Cold.Of(heated.At(Position.Shut), end.Assumed, -30),
               Cold.Of(heated.At(Position.Ajar), end.Assumed, -30)),
    ];

    private static ImmutableArray<FlameRow> Flames() =>
    [
        .. from place in new[] { "seattle", "oban", "fairbanks" }
           from van in YearVans.Three(place)
           from end in Ends
           let strong = van.Van with { Heater = van.Van.Heater with { RatedOutput = Power.FromKilowatts(6) } }
           let unflued = strong with { Heater = strong.Heater with { Kind = HeaterKind.UnfluedGas } }
           select new FlameRow(
               van.Name,
               ClimateTable.Get(place).Name,
               end.Name,
               JanuaryToMarchG(strong.At(Position.Shut), end.Assumed),
               JanuaryToMarchG(unflued.At(Position.Shut), end.Assumed),
               JanuaryToMarchG(strong.At(Position.Full), end.Assumed),
               JanuaryToMarchG(unflued.At(Position.Full), end.Assumed),
               Cold.Of((strong with { Heater = strong.Heater with { RunsWhenAway = true } }).At(Position.Shut), end.Assumed, -15)),
    ];

    private static double JanuaryToMarchG(Design van, Assumptions assumed) =>
        1000 * YearVans.Run(van, YearWeather.Of(van), assumed, 0, 90).CondensedKg / 90;

    private static ImmutableArray<CupboardRow> Cupboards() =>
    [
        .. from coast in Coasts
           from van in YearVans.Three(coast)
           from end in Ends
           select CupboardOf(van.Name, coast, end.Name, van.Van.At(Position.Ajar), end.Assumed),
    ];

    private static CupboardRow CupboardOf(string name, string coast, string end, Design van, Assumptions assumed)
    {
        (int shutHours, double shutC) = Damp(CupboardVan.With(van, open: false), assumed);
        (int openHours, double openC) = Damp(CupboardVan.With(van, open: true), assumed);
        return new CupboardRow(name, ClimateTable.Get(coast).Name, end, shutHours, openHours, shutC, openC);
    }

    private static (int Hours, double MeanC) Damp(Design van, Assumptions assumed)
    {
        YearVans.Days winter = InWinter(van, assumed);
        int zone = winter.Model.Night.IndexOf(CupboardVan.Id);
        double[] c = winter.Series.ZoneC;
        int damp = winter.Hours.Count(hour => MoistAir.RelativeHumidityShare(
            c[(zone * YearSeries.Hours) + hour], winter.Series.ZoneVapourPressurePa[(zone * YearSeries.Hours) + hour]) > 0.8);
        return (damp, winter.Hours.Average(hour => c[(zone * YearSeries.Hours) + hour]));
    }

    private static void Print(PracticeTable table)
    {
        TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", table.Columns));
        foreach (ImmutableArray<string> row in table.Rows)
        {
            TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", row));
        }
    }

    private static string[] Cells(Outcome outcome) => [F0(outcome.WetPercent), F0(outcome.CondensedG), F0(outcome.AirM3PerH)];

    private static string F0(double value) => value.ToString("F0", CultureInfo.InvariantCulture);

    private static string F1(double value) => value.ToString("F1", CultureInfo.InvariantCulture);

    private static string Percent(double share) => (100 * share).ToString("F0", CultureInfo.InvariantCulture) + " %";

    private static string Times(double ratio) => "x " + ratio.ToString("F1", CultureInfo.InvariantCulture);

    private sealed record Outcome(double WetPercent, double CondensedG, double AirM3PerH)
    {
        public static Outcome Of(YearVans.Days days) => new(days.WetMorningsPercent, 1000 * days.CondensedKg / days.Count, days.NightAirM3PerH);
    }

    private sealed record WinterRow(string Van, string Weather, string Assumptions, Outcome Shut, Outcome Lid, Outcome Both, string Way, string Missing);

    private sealed record FrostRow(string Van, string Weather, string Assumptions, Cold Shut, Cold Ajar);

    private sealed record FlameRow(
        string Van, string Weather, string Assumptions, double SealedShutG, double UnfluedShutG, double SealedOpenG, double UnfluedOpenG, Cold AtFifteen);

    private sealed record CupboardRow(string Van, string Weather, string Assumptions, int ShutHours, int OpenHours, double ShutC, double OpenC);

    /// <summary>Eight days of steady cold, the last five counted; nobody wipes.</summary>
    private sealed record Cold(double FrostGPerM2, double KwhPerDay, double MeanHumidityPercent, double HighestHumidityPercent)
    {
        private const int SettlingDays = 3;
        private const int CountedDays = 5;

        public static Cold Of(Design van, Assumptions assumed, double outdoorC)
        {
            VanModel model = new(van, assumed);
            VanRun run = new(model);
            HouseholdDay day = HouseholdDay.Of(van, assumed);
            Outdoor outdoor = new(
                outdoorC, 0.8 * MoistAir.SaturationPressurePa(outdoorC), 3, 0, Precipitation.None, StandardAtmosphere.SeaLevelPressurePa, van.Stop.Shelter);
            run.Start(outdoor, 16);
            Days(run, day, outdoor, SettlingDays, _ => { });
            double before = FrostKg(model, run);
            double joules = 0;
            double highest = 0;
            double sum = 0;
            int[] livedIn = [model.Night.FirstOf(ZoneKind.Living), model.Night.FirstOf(ZoneKind.Sleeping)];
            Days(run, day, outdoor, CountedDays, hour =>
            {
                joules += hour.HourHeaterJ;
                double[] shares = [.. livedIn.Select(zone =>
                    MoistAir.RelativeHumidityShare(hour.Zones.ZoneC[zone], hour.Zones.VapourPressurePa(zone)))];
                highest = Math.Max(highest, shares.Max());
                sum += shares.Average();
            });
            double glassM2 = Glass(model).Sum(k => model.FaceM2[k]);
            return new Cold(1000 * (FrostKg(model, run) - before) / glassM2 / CountedDays, joules / 3.6e6 / CountedDays, 100 * sum / (24 * CountedDays), 100 * highest);
        }

        private static void Days(VanRun run, HouseholdDay day, Outdoor outdoor, int days, Action<VanRun> each)
        {
            for (int hour = 0; hour < 24 * days; hour++)
            {
                run.Hour(outdoor, outdoor, outdoor, day, hour % 24);
                each(run);
            }
        }

        // On the cab glass, and what ran off it.
        private static double FrostKg(VanModel model, VanRun run) =>
            Glass(model).Sum(k => model.FaceM2[k] * (run.Zones.FilmKgPerM2[k] + run.Zones.RanOffKgPerM2[k]));

        private static IEnumerable<int> Glass(VanModel model) =>
            Enumerable.Range(0, model.FirstLining).Where(k => model.Night.Surfaces[k].Part == SurfacePart.Glazing);
    }
}

/// <summary>A cupboard at the end of the living zone, over its whole width.</summary>
internal static class CupboardVan
{
    public const string Id = "cupboard";

    /// <summary>The van with the cupboard: its doors' cracks alone, or gaps of 300 cm2 at top and bottom.</summary>
    public static Design With(Design van, bool open)
    {
        const double DepthM = 0.4;
        Zone living = van.Zones.Single(zone => zone.Kind == ZoneKind.Living);
        Zone cupboard = living with
        {
            Id = Id,
            Kind = ZoneKind.Cupboard,
            Name = "Cupboard",
            To = living.From + Length.FromMeters(DepthM),
            Top = living.Top / 2,
            AirVolume = van.Body.InteriorWidth * Length.FromMeters(DepthM) * (living.Top / 2) * 0.6,
        };
        Zone rest = living with { From = living.From + Length.FromMeters(DepthM), AirVolume = living.AirVolume - cupboard.AirVolume };
        return van with
        {
            Zones = [.. van.Zones.Select(zone => zone.Id == living.Id ? rest : zone), cupboard],
            Passages =
            [
                .. van.Passages,
                .. open
                    ? new[] { Gap("cupboard-low", rest.Id, 300, 0.05), Gap("cupboard-high", rest.Id, 300, cupboard.Top.Meters - 0.05) }
                    : [Gap("cupboard-door", rest.Id, 10, cupboard.Top.Meters / 2)],
            ],
        };
    }

    private static Passage Gap(string id, string zoneId, double cm2, double heightM) => new()
    {
        Id = id,
        Name = id,
        ZoneA = zoneId,
        ZoneB = Id,
        FreeArea = Area.FromSquareCentimeters(cm2),
        Bottom = Length.FromMeters(heightM),
        Top = Length.FromMeters(heightM),
        Mixing = VolumeFlow.Zero,
    };
}
