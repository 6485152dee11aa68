using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// Rules of the trade about places: where the one vent goes, and what comes next for hot nights. Common practice, no
/// source; what does not hold is said in the table's reading and not asserted.
/// </summary>
public sealed class PlacePracticeTests
{
    private const string WindowId = "bed-window";

    // June to August of the northern places.
    private const int SummerFrom = 151;
    private const int SummerDays = 92;

    private static readonly ImmutableArray<(string Name, Assumptions Assumed)> Ends =
        [("low", Assumptions.Low), ("likely", Assumptions.Likely), ("high", Assumptions.High)];

    private static readonly ImmutableArray<string> Coasts = ["seattle", "oban", "prince-rupert"];
    private static readonly ImmutableArray<string> HotPlaces = ["houston", "phoenix", "madrid"];

    private static readonly Lazy<ImmutableArray<VentRow>> Vents = new(() =>
    [
        .. from place in Coasts
           from van in YearVans.Three(place)
           from end in Ends
           select new VentRow(
               van.Name, ClimateTable.Get(place).Name, end.Name,
               Everywhere(van.Van, fan: false, end.Assumed),
               Everywhere(van.Van, fan: true, end.Assumed)),
    ]);

    private static readonly Lazy<ImmutableArray<HotRow>> Hot = new(() =>
    [
        .. from place in HotPlaces
           from van in YearVans.Three(place)
           from end in Ends
           let vent = VentAt(van.Van, AboveCooker(van.Van), fan: true)
           select new HotRow(
               van.Name, ClimateTable.Get(place).Name, end.Name,
               Summer(vent, end.Assumed),
               Summer(Window(vent, ZoneKind.Sleeping), end.Assumed),
               Summer(Window(vent, ZoneKind.Living), end.Assumed),
               Summer(MoreAir.AddBedLid(vent), end.Assumed),
               Summer(MoreAir.AddLowVent(vent), end.Assumed)),
    ]);

    /// <summary>Where the one vent goes.</summary>
    internal static PracticeTable OneVent()
    {
        string missed = Misses(Vents.Value.Where(row => row.Assumptions != "low" && !(row.Lid.CookerIsBest && row.Fan.CookerIsBest)), row => row.Head);
        string held = Misses(Vents.Value.Where(row => row.Assumptions == "low" && row.Lid.CookerIsBest && row.Fan.CookerIsBest), row => row.Head);
        return new PracticeTable(
            "Where the one vent goes",
            "Over a year two people cook and sleep, with one roof vent always open and nothing else: a plain lid, or a lid whose fan blows out at one tenth. The best single place is above the "
            + "cooker: least condensed on glass and metal, against the far end of the same room (-: all of it is within reach of the cooker) and over the bed. Expected at likely and high steam capture; at the low end no "
            + "steam is captured, and there it must not hold.",
            $"Expected and not met: {missed} Held without capture, where it must not: {held} Without capture any place in the room of the cooker does the same, and still better than over the bed, as the water is set free there.",
            nameof(PlacePracticeTests),
            ["van", "weather", "assumptions", "lid above the cooker, g a day", "far end of the room", "over the bed", "fan above the cooker, g a day", "far end of the room", "over the bed"],
            [.. Vents.Value.Select(row => ImmutableArray.Create<string>([row.Van, row.Weather, row.Assumptions, .. row.Lid.Cells, .. row.Fan.Cells]))]);
    }

    /// <summary>What comes next on hot nights.</summary>
    internal static PracticeTable NextForHotNights() => new(
        "What comes next on hot nights",
        "With a fan in the vent above the cooker, June to August: a window by the bed leaves the fewest hot hours asleep (warmer to a sleeper than still air of 26 °C), fewer than the same window in the living room, a lid over "
        + "the bed or a low vent. By free-jet decay the air over the bed stays below 0.05 m/s with the exhausting fan alone; the breeze is at the open window. Expected at likely values.",
        $"Expected and not met: {Misses(Hot.Value.Where(row => row.Assumptions == "likely" && !row.WindowIsBest), row => row.Head)} At the ends, where it is not expected, a lid over the bed does as well or better: "
        + Misses(Hot.Value.Where(row => row.Assumptions != "likely" && !row.WindowIsBest), row => row.Head),
        nameof(PlacePracticeTests),
        ["van", "weather", "assumptions", "vent alone, hot hours", "m/s at the bed", "window by the bed", "m/s at the bed", "window in the living room", "lid over the bed", "m/s at the bed", "low vent"],
        [
            .. Hot.Value.Select(row => ImmutableArray.Create(
                row.Van, row.Weather, row.Assumptions, F0(row.Vent.Hours), F2(row.Vent.MPerS), F0(row.BedWindow.Hours), F2(row.BedWindow.MPerS),
                F0(row.LivingWindow.Hours), F0(row.BedLid.Hours), F2(row.BedLid.MPerS), F0(row.LowVent.Hours))),
        ]);

    [Fact]
    public void The_vent_above_the_cooker_is_best_where_it_captures_steam()
    {
        Print(OneVent());
        Assert.All(Vents.Value.Where(row => row.Assumptions != "low"), row => Assert.True(row.Lid.CookerIsBest && row.Fan.CookerIsBest, row.ToString()));
    }

    [Fact]
    public void Without_capture_any_other_place_in_the_same_room_does_as_well_as_above_the_cooker()
    {
        VentRow[] rows = [.. Vents.Value.Where(row => row.Assumptions == "low" && row.Lid.FarG is not null)];
        Assert.NotEmpty(rows);
        Assert.All(rows, row =>
        {
            Assert.False(row.Lid.CookerIsBest, row.ToString());
            Assert.False(row.Fan.CookerIsBest, row.ToString());
        });
    }

    [Fact]
    public void An_exhausting_fan_stirs_nothing_at_the_bed_and_a_window_there_does()
    {
        Print(NextForHotNights());
        Assert.All(Hot.Value, row =>
        {
            Assert.True(row.Vent.MPerS < 0.05, row.Head);
            Assert.True(row.BedWindow.MPerS > 2 * row.Vent.MPerS, row.Head);
            Assert.True(row.BedWindow.Hours <= row.Vent.Hours, row.Head);
        });
        Assert.All(Hot.Value.Where(row => row.Assumptions == "likely"), row => Assert.True(row.WindowIsBest, row.ToString()));
    }

    private static Length AboveCooker(Design van)
    {
        Furniture cooker = van.Body.Furniture.Single(piece => piece.Kind == FurnitureKind.Cooker);
        return cooker.X + (cooker.Length / 2);
    }

    // The end of the living room farthest from the cooker; null where that is still above it.
    private static Length? AcrossTheRoom(Design van)
    {
        Zone living = van.Zones.Single(zone => zone.Kind == ZoneKind.Living);
        Length half = Length.FromMillimeters(180);
        Length x = AboveCooker(van) - living.From > living.To - AboveCooker(van) ? living.From + half : living.To - half;
        return Math.Abs((x - AboveCooker(van)).Meters) > Defaults.Get("steam-capture-reach").High ? x : null;
    }

    private static Kept Everywhere(Design van, bool fan, Assumptions assumed) => new(
        YearG(VentAt(van, AboveCooker(van), fan), assumed),
        AcrossTheRoom(van) is Length x ? YearG(VentAt(van, x, fan), assumed) : null,
        YearG(VentAt(van, MoreAir.BedCentre(van), fan), assumed));

    // The one opening of the van, always open.
    private static Design VentAt(Design van, Length x, bool fan)
    {
        Design one = van with { Openings = [.. van.Openings.Where(opening => opening.Id == Presets.RoofFanId)] };
        one = Openings.Change(one.At(Position.Full), Presets.RoofFanId, opening => opening with
        {
            Fan = !fan ? null : new Fan
            {
                FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.42),
                ShutOffPressure = Pressure.FromPascals(40),
                Speed = 0.1,
                Direction = FanDirection.Exhaust,
            },
        });
        Opening vent = one.Openings.Single();
        return Openings.Move(one, vent.Id, x, vent.Y, vent.Z);
    }

    private static Design Window(Design van, ZoneKind kind)
    {
        Zone zone = van.Zones.Single(z => z.Kind == kind);
        Body body = van.Body;
        double heightM = 0.3;
        double zM = kind == ZoneKind.Sleeping ? Math.Min(zone.Bottom.Meters + 0.5, body.InteriorHeight.Meters - heightM) : 0.65 * body.InteriorHeight.Meters;
        return Openings.Add(van, new Opening
        {
            Id = WindowId,
            Name = "Half-slider window",
            Kind = OpeningKind.SlidingWindow,
            Face = Face.Right,
            ZoneId = zone.Id,
            X = (zone.From + zone.To) / 2,
            Y = body.InteriorWidth,
            Z = Length.FromMeters(zM),
            Length = Length.FromMeters(0.5),
            Width = Length.FromMeters(heightM),
            FreeShare = 0.45,
            Position = Position.Full,
            Facts = new OpeningFacts { OpenAsleep = true, Screened = true, UsableInRain = true },
            Pane = new Pane(GlassKind.AcrylicDouble, Cover.None),
        });
    }

    private static double YearG(Design van, Assumptions assumed) => 1000 * YearVans.Run(van, YearWeather.Of(van), assumed, 0, 365).CondensedKg / 365;

    private static Nights Summer(Design van, Assumptions assumed)
    {
        YearVans.Days summer = YearVans.Run(van, YearWeather.Of(van), assumed, SummerFrom, SummerDays);
        NightModel model = new(van, assumed);
        HotNights nights = NightHeat.Of(
            summer.Series, model, new InnerFaces(summer.Series, model), model.FirstOf(ZoneKind.Sleeping), new byte[365], hour => (hour + 12) % YearSeries.Hours / 24);
        return new Nights(nights.Hours, nights.AirSpeed.MetersPerSecond);
    }

    private static string Misses<T>(IEnumerable<T> rows, Func<T, string> head)
    {
        string[] heads = [.. rows.Select(head)];
        return heads.Length == 0 ? "nothing." : string.Create(CultureInfo.InvariantCulture, $"{heads.Length} rows: {string.Join("; ", heads)}.");
    }

    private static void Print(PracticeTable table)
    {
        TestContext.Current.TestOutputHelper?.WriteLine(table.Reading);
        TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", table.Columns));
        foreach (ImmutableArray<string> row in table.Rows)
        {
            TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", row));
        }
    }

    private static string F0(double value) => value.ToString("F0", CultureInfo.InvariantCulture);

    private static string F2(double value) => value.ToString("F2", CultureInfo.InvariantCulture);

    private sealed record VentRow(string Van, string Weather, string Assumptions, Kept Lid, Kept Fan)
    {
        public string Head => $"{Van}, {Weather}, {Assumptions}";
    }

    /// <summary>Condensed with the vent above the cooker, at the far end of its room, over the bed.</summary>
    private sealed record Kept(double CookerG, double? FarG, double BedG)
    {
        // Places that do the same to a thousandth are one place.
        public bool CookerIsBest => CookerG < 0.999 * Math.Min(FarG ?? double.PositiveInfinity, BedG);

        public string[] Cells => [F0(CookerG), FarG is double far ? F0(far) : "-", F0(BedG)];
    }

    private sealed record Nights(int Hours, double MPerS);

    private sealed record HotRow(
        string Van, string Weather, string Assumptions, Nights Vent, Nights BedWindow, Nights LivingWindow, Nights BedLid, Nights LowVent)
    {
        public string Head => $"{Van}, {Weather}, {Assumptions}";

        public bool WindowIsBest => BedWindow.Hours <= new[] { LivingWindow.Hours, BedLid.Hours, LowVent.Hours }.Min();
    }
}
