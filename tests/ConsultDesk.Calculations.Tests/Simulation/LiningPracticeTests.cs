using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// Rules of the trade about what lies on and before the steel: a coating, and a lining that breathes or does not. Common practice,
/// no source; the sizes asked for are ours.
/// </summary>
public sealed class LiningPracticeTests
{
    private const double WetAtFirstKgPerM2 = 0.04;
    private const double DryKgPerM2 = 0.001;
    private const int LongestDays = 150;
    private const int DampDays = 30;

    private static readonly ImmutableArray<(string Name, Assumptions Assumed)> Ends =
    [
        ("low", Assumptions.Low),
        ("likely", Assumptions.Likely),
        ("high", Assumptions.High),
    ];

    private static readonly ImmutableArray<(string Name, double C, double Humidity)> Winters =
    [
        ("1 °C, 75 %", 1, 0.75),
        ("4 °C, 80 %", 4, 0.80),
        ("7 °C, 80 %", 7, 0.80),
    ];

    private static readonly ImmutableArray<(string Name, double C, double Humidity)> DampNights =
    [
        ("-5 °C, 80 %", -5, 0.8),
        ("2 °C, 80 %", 2, 0.8),
        ("7 °C, 80 %", 7, 0.8),
    ];

    private static readonly Lazy<ImmutableArray<CoatedRow>> Coated = new(() =>
    [
        .. from night in DampNights
           from van in YearVans.Three("seattle")
           from end in Ends
           select CoatedOf(van.Name, night, end.Name, van.Van, end.Assumed),
    ]);

    private static readonly Lazy<ImmutableArray<DryingRow>> Drying = new(() =>
    [
        .. from winter in Winters
           from van in YearVans.Three("seattle")
           from end in Ends
           select DryingOf(van.Name, winter, end.Name, van.Van, end.Assumed),
    ]);

    /// <summary>A coated skin.</summary>
    internal static PracticeTable CoatedSkin() => new(
        "A coated skin is a drier skin only in dry air",
        "Walls and roof of steel with 2 mm of sprayed coating and nothing else, heated, eight days of steady weather, the last five counted. With one sleeper, no cooking, "
        + "lid and low vent open, next to nothing condenses on the coating (at most 2 g/m2 a day); with four sleepers who cook much on gas and everything shut it "
        + "condenses all the same (at least 50 g/m2 a day), at low, likely and high values.",
        "A coating keeps rust off sound steel and takes the first film; it insulates next to nothing. Over rust it cures nothing: the finding `rust-sealed` says to treat the rust first "
        + "(`Coating_over_rust_is_no_cure`).",
        nameof(LiningPracticeTests),
        ["van", "weather", "assumptions", "dry air, g/m2 a day", "damp air, g/m2 a day"],
        [.. Coated.Value.Select(row => ImmutableArray.Create(row.Van, row.Weather, row.Assumptions, F1(row.DryG), F0(row.DampG)))]);

    /// <summary>A sealed lining and one that breathes.</summary>
    internal static PracticeTable SealedOrBreathing() => new(
        "Sealed or breathable",
        "40 g/m2 of water on the steel behind the walls. The van is empty, heated, lid and low vent open, in steady winter weather: days until the film is gone (below 1 g/m2) behind "
        + "plywood and wool with clips and seams, and behind the same with a membrane of 10 m sealed at its edges. Sealed takes at least five times as long. Two sleepers with everything "
        + "shut: in 30 days a breathing lining collects more water on the steel than a sealed one.",
        "Breathability is never judged without the room's air: what lets a wet skin dry in a ventilated van is what wets it in a damp one. \"Over\" means it was not dry when the "
        + $"calculation ended after {LongestDays} days.",
        nameof(LiningPracticeTests),
        ["van", "weather", "assumptions", "breathing, days to dry", "sealed, days to dry", "times as long", "breathing, damp room, g/m2 with what ran down", "sealed, the same"],
        [
            .. Drying.Value.Select(row => ImmutableArray.Create(
                row.Van, row.Weather, row.Assumptions, Days(row.BreathingDays), Days(row.SealedDays), Times(row), F1(row.BreathingDampG), F1(row.SealedDampG))),
        ]);

    [Fact]
    public void A_coated_skin_stays_dry_in_dry_air_and_condenses_in_damp_air()
    {
        Print(CoatedSkin());
        Assert.All(Coated.Value, row =>
        {
            Assert.True(row.DryG <= 2, row.ToString());
            Assert.True(row.DampG >= 50, row.ToString());
        });
    }

    [Fact]
    public void A_sealed_lining_dries_five_times_as_slowly_in_a_ventilated_van_and_a_breathing_one_collects_more_in_a_damp_one()
    {
        Print(SealedOrBreathing());
        Assert.All(Drying.Value, row =>
        {
            Assert.True(row.BreathingDays < LongestDays, row.ToString());
            Assert.True(row.SealedDays >= 5 * row.BreathingDays || row.SealedDays >= LongestDays, row.ToString());
            Assert.True(row.BreathingDampG > row.SealedDampG, row.ToString());
        });
    }

    [Fact]
    public void Coating_over_rust_is_no_cure()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        ImmutableArray<Finding> Findings(SteelCondition steel) =>
            Assessor.Assess(van with { Equipment = van.Equipment with { Steel = steel } }, cancellation: TestContext.Current.CancellationToken).Findings;
        Finding Rust(SteelCondition steel) => Findings(steel).Single(finding => finding.Code == "rust-sealed");

        Assert.Contains("rust", Rust(SteelCondition.CoatedOverRust).Remedy, StringComparison.OrdinalIgnoreCase);
        Assert.True(Rust(SteelCondition.CoatedOverRust).Severity <= Rust(SteelCondition.LightRust).Severity);
        Assert.DoesNotContain(Findings(SteelCondition.RustTreated), finding => finding.Code == "rust-sealed");
    }

    private static CoatedRow CoatedOf(string name, (string Name, double C, double Humidity) night, string end, Design van, Assumptions assumed)
    {
        LayeredAssembly coated = new()
        {
            Name = "Coated steel",
            Layers = [Solid("coating", "bed-coating", 2), Solid("skin", "mild-steel", 1)],
        };
        Design bare = van with
        {
            Walls = coated,
            Roof = coated,
            Heater = van.Heater with { RatedOutput = Power.FromKilowatts(10), RunsWhenAway = true },
        };
        Design dry = MoreAir.AddLowVent(bare.At(Position.Full)) with
        {
            Household = bare.Household with { Sleepers = 1, CookingFuel = CookingFuel.None },
        };
        Design damp = bare.At(Position.Shut) with
        {
            Household = bare.Household with { Sleepers = 4, CookingFuel = CookingFuel.Gas, CookingHabit = CookingHabit.Heavy, Presence = Presence.AllDay },
        };
        return new CoatedRow(name, night.Name, end, OnLiningsG(dry, assumed, night.C, night.Humidity), OnLiningsG(damp, assumed, night.C, night.Humidity));
    }

    // Condensed on the room side of walls and roof, g/m2 a day.
    private static double OnLiningsG(Design van, Assumptions assumed, double outdoorC, double humidity)
    {
        VanModel model = new(van, assumed);
        VanRun run = Started(model, outdoorC, humidity, out Outdoor outdoor);
        HouseholdDay day = HouseholdDay.Of(van, assumed);
        Run(run, day, outdoor, 24 * 3, _ => true);
        int[] faces = [.. Linings(model).Where(k => model.Night.Surfaces[k].Part is SurfacePart.Walls or SurfacePart.Roof)];
        foreach (int k in faces)
        {
            run.Zones.CondensedKgPerM2[k] = 0;
        }

        Run(run, day, outdoor, 24 * 5, _ => true);
        return 1000 * faces.Sum(k => model.FaceM2[k] * run.Zones.CondensedKgPerM2[k]) / faces.Sum(k => model.FaceM2[k]) / 5;
    }

    private static DryingRow DryingOf(string name, (string Name, double C, double Humidity) winter, string end, Design van, Assumptions assumed)
    {
        Design breathing = van with { Heater = van.Heater with { RatedOutput = Power.FromKilowatts(10), RunsWhenAway = true } };
        Design closed = breathing with { Walls = Sealed(van.Walls) };
        Design Empty(Design design) => MoreAir.AddLowVent(design.At(Position.Full)) with { Household = design.Household with { Sleepers = 0 } };
        return new DryingRow(
            name,
            winter.Name,
            end,
            DaysToDry(Empty(breathing), assumed, winter.C, winter.Humidity),
            DaysToDry(Empty(closed), assumed, winter.C, winter.Humidity),
            AfterDampMonthG(breathing.At(Position.Shut), assumed, winter.C, winter.Humidity),
            AfterDampMonthG(closed.At(Position.Shut), assumed, winter.C, winter.Humidity));
    }

    private static LayeredAssembly Sealed(LayeredAssembly walls) => walls with
    {
        Gaps = LiningGaps.Sealed,
        Layers =
        [
            walls.Layers[0],
            new MembraneLayer { Id = "membrane", Name = "Membrane", VapourEquivalentThickness = Length.FromMeters(10) },
            .. walls.Layers.Skip(1),
        ],
    };

    private static double DaysToDry(Design van, Assumptions assumed, double outdoorC, double humidity)
    {
        VanModel model = new(van, assumed);
        VanRun run = Started(model, outdoorC, humidity, out Outdoor outdoor);
        int[] skins = WallSkins(model);
        foreach (int j in skins)
        {
            run.Zones.SkinKgPerM2[j] = model.SkinStorageKgPerM2 + WetAtFirstKgPerM2;
        }

        int hours = Run(run, HouseholdDay.Of(van, assumed), outdoor, 24 * LongestDays, now => skins.Any(j => now.Zones.SkinFilmKgPerM2(j) >= DryKgPerM2));
        return hours / 24.0;
    }

    private static double AfterDampMonthG(Design van, Assumptions assumed, double outdoorC, double humidity)
    {
        VanModel model = new(van, assumed);
        VanRun run = Started(model, outdoorC, humidity, out Outdoor outdoor);
        Run(run, HouseholdDay.Of(van, assumed), outdoor, 24 * DampDays, _ => true);
        return 1000 * WallSkins(model).Max(j => run.Zones.SkinFilmKgPerM2(j) + run.Zones.SkinRanOffKgPerM2[j]);
    }

    private static VanRun Started(VanModel model, double outdoorC, double humidity, out Outdoor outdoor)
    {
        outdoor = new Outdoor(
            outdoorC, humidity * MoistAir.SaturationPressurePa(outdoorC), 3, 0, Precipitation.None,
            StandardAtmosphere.SeaLevelPressurePa, model.Night.Design.Stop.Shelter);
        VanRun run = new(model);
        run.Start(outdoor, 16);
        return run;
    }

    /// <summary>Hours until it goes on no longer, at most those given.</summary>
    private static int Run(VanRun run, HouseholdDay day, Outdoor outdoor, int hours, Func<VanRun, bool> goesOn)
    {
        for (int hour = 0; hour < hours; hour++)
        {
            if (!goesOn(run))
            {
                return hour;
            }

            run.Hour(outdoor, outdoor, outdoor, day, hour % 24);
        }

        return hours;
    }

    private static IEnumerable<int> Linings(VanModel model) => Enumerable.Range(model.FirstLining, model.Night.Surfaces.Length - model.FirstLining);

    private static int[] WallSkins(VanModel model) =>
        [.. Enumerable.Range(0, model.SkinCount).Where(j => model.Night.Surfaces[model.FirstLining + j].Part == SurfacePart.Walls)];

    private static SolidLayer Solid(string id, string material, double thicknessMm) =>
        new() { Id = id, Material = material, Thickness = Length.FromMillimeters(thicknessMm) };

    private static string Times(DryingRow row) => row.BreathingDays >= LongestDays
        ? "-"
        : (row.SealedDays >= LongestDays ? "over " : "") + F1(row.SealedDays / Math.Max(1 / 24.0, row.BreathingDays));

    private static string Days(double days) => days >= LongestDays ? $"over {LongestDays}" : F1(days);

    private static string F0(double value) => value.ToString("F0", CultureInfo.InvariantCulture);

    private static string F1(double value) => value.ToString("F1", CultureInfo.InvariantCulture);

    private static void Print(PracticeTable table)
    {
        TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", table.Columns));
        foreach (ImmutableArray<string> row in table.Rows)
        {
            TestContext.Current.TestOutputHelper?.WriteLine(string.Join(" | ", row));
        }
    }

    private sealed record CoatedRow(string Van, string Weather, string Assumptions, double DryG, double DampG);

    private sealed record DryingRow(
        string Van, string Weather, string Assumptions, double BreathingDays, double SealedDays, double BreathingDampG, double SealedDampG);
}
