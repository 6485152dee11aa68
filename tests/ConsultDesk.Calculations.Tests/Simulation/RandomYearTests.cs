using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// What must hold for any van through some days of any month, on the fixed row of <see cref="RandomVan"/>. RANDOM_VANS in
/// the environment sets how many (60 unless set).
/// </summary>
public sealed class RandomYearTests
{
    private const int DaysRun = 6;

    // No more than rounding and the table of saturation, which lies within 5e-8 of the equations.
    private const double SaturationSlack = 1e-6;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("RANDOM_VANS") ?? "60", CultureInfo.InvariantCulture);

    [Fact]
    public void Random_vans_close_both_balances_and_stay_physical()
    {
        int number = 0;
        foreach (Design design in RandomVan.Row(Count))
        {
            Design van = Lively(design, number);
            string name = $"van {number++}: {RandomVan.Describe(van)}";
            YearWeather weather = YearWeather.Of(van);
            int from = (30 * number) % 350;
            YearVans.Days days = YearVans.Run(van, weather, Assumptions.Likely, from, DaysRun);
            YearSeries series = days.Series;

            Assert.True(Math.Abs(series.WaterUnaccountedKg) <= 1e-9 * series.WaterThroughputKg, $"{name}: {series.WaterUnaccountedKg} kg of {series.WaterThroughputKg}");
            Assert.True(Math.Abs(series.HeatUnaccountedJ) <= 1e-9 * series.HeatThroughputJ, $"{name}: {series.HeatUnaccountedJ} J of {series.HeatThroughputJ}");
            Assert.All(days.Hours, hour => Physical(days, hour, name));
        }
    }

    private static void Physical(YearVans.Days days, int hour, string name)
    {
        YearSeries series = days.Series;
        for (int zone = 0; zone < days.Model.ZoneCount; zone++)
        {
            int at = (zone * YearSeries.Hours) + hour;
            double share = series.ZoneVapourPressurePa[at] / MoistAir.SaturationPressurePa(series.ZoneC[at]);
            Assert.True(share > 0 && share <= 1 + SaturationSlack, $"{name}, hour {hour}, zone {zone}: {100 * share} %");
            Assert.True(series.ZoneCarbonDioxideShare[at] is > 400e-6 and < 0.2, $"{name}: CO2 {series.ZoneCarbonDioxideShare[at]}");
            Assert.InRange(series.ZoneC[at], -75, 75);
        }

        for (int surface = 0; surface < days.Surfaces; surface++)
        {
            int at = (surface * YearSeries.Hours) + hour;
            Assert.True(series.SurfaceFilmKgPerM2[at] >= 0 && double.IsFinite(series.SurfaceFilmKgPerM2[at]), name);
            Assert.True(series.SurfaceCondensedKgPerM2[at] >= 0, name);
            Assert.True(double.IsFinite(series.SurfaceC[at]), name);
        }

        Assert.True(series.HeaterW[hour] >= 0 && series.HeaterW[hour] <= HeaterLimit.OfW(days.Model.Night.Design) * (1 + 1e-6), name);
        // No flame is put out by the model: a flame too big for a sealed cell asks for more oxygen than there is.
        Assert.InRange(series.MostOxygenUsedShare[hour], 0, 1);
    }

    // Habits and linings that the row of random vans does not draw, by the van's number.
    private static Design Lively(Design van, int number) => van with
    {
        Household = van.Household with
        {
            Presence = (Presence)(number % 3),
            Animals = number % 2,
            ShowersPerDay = number % 4 == 0 ? 1 : 0,
            DriesClothes = number % 5 == 0,
        },
        BedBase = (BedBase)(number % 3),
        Walls = van.Walls with { Gaps = (LiningGaps)(number % 3) },
        Heater = van.Heater with { RunsWhenAway = number % 3 == 0 },
    };

    /// <summary>
    /// Not claimed of vans whose rooms are all but sealed off from each other, nor where a lid needs weather it does not
    /// get: here it may stand open in any.
    /// </summary>
    [Fact]
    public void A_lid_opened_further_never_condenses_more_in_winter_in_a_lived_in_heated_van()
    {
        int number = 0;
        int tried = 0;
        foreach (Design any in RandomVan.Row(Count))
        {
            number++;
            bool sealedOff = any.Passages.All(passage => passage.FreeArea.SquareCentimeters < 30);
            if (Openings.Find(any, Presets.RoofFanId) is null || any.Household.Sleepers == 0 || sealedOff)
            {
                continue;
            }

            Design van = Openings.Change(any, Presets.RoofFanId, lid => lid with
            {
                Fan = null,
                Facts = lid.Facts with { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true },
            });
            van = van with { Heater = van.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel, RatedOutput = UnitsNet.Power.FromKilowatts(8) } };
            tried++;
            YearWeather weather = YearWeather.Of(van);
            double before = double.PositiveInfinity;
            foreach (Position position in new[] { Position.Shut, Position.Ajar, Position.Half, Position.Full })
            {
                double kg = YearVans.Run(van.At(position), weather, Assumptions.Likely, 0, DaysRun).CondensedKg;
                Assert.True(kg <= before + 1e-6, $"van {number - 1}, {position}: {kg} kg after {before}; {RandomVan.Describe(van)}");
                before = kg;
            }
        }

        Assert.True(tried >= Count / 2);
    }
}
