using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// The year's run against conservation of mass and energy, against steps of 30 seconds, against limits that are known
/// without it, and against the steady night.
/// </summary>
public sealed class YearRunTests
{
    private static readonly Design Preset = Presets.Build("long-high", Layout.RearPlatformBed);

    [Fact]
    public void Water_and_heat_of_a_whole_year_close_to_a_billionth()
    {
        foreach (Design van in Varied())
        {
            YearSeries year = YearRun.Of(van, YearWeather.Of(van), Assumptions.Likely, cancellation: TestContext.Current.CancellationToken);

            Assert.True(Math.Abs(year.WaterUnaccountedKg) <= 1e-9 * year.WaterThroughputKg, $"{year.WaterUnaccountedKg} kg of {year.WaterThroughputKg}");
            Assert.True(Math.Abs(year.HeatUnaccountedJ) <= 1e-9 * year.HeatThroughputJ, $"{year.HeatUnaccountedJ} J of {year.HeatThroughputJ}");
            Assert.All(year.ZoneC, value => Assert.True(double.IsFinite(value)));
            Assert.All(year.ZoneVapourPressurePa, value => Assert.True(value > 0));
            Assert.All(year.SurfaceFilmKgPerM2, value => Assert.True(value >= 0));
            Assert.All(year.SurfaceCondensedKgPerM2, value => Assert.True(value >= 0));
            Assert.All(year.SkinFilmKgPerM2, value => Assert.True(value >= 0));
            Assert.All(year.SkinHumidityShare, value => Assert.InRange(value, 0, 1));
        }
    }

    // Nobody in it, in a warm dry desert, shut and open, unflued, covered, drying clothes: what turns the model every way.
    private static IEnumerable<Design> Varied()
    {
        yield return Preset;
        yield return Preset with { Household = Preset.Household with { Sleepers = 0 }, Stop = Presets.StopAt("phoenix", 1) };
        yield return Vans.With(Position.Shut, Position.Shut, HeaterKind.UnfluedGas) with { Stop = Presets.StopAt("fairbanks", 1) };
        yield return Vans.Covered(Preset, Cover.InsideLoose) with
        {
            Household = Preset.Household with { ShowersPerDay = 2, DriesClothes = true, Animals = 1, Presence = Presence.AllDay },
            BedBase = BedBase.Solid,
        };
        yield return Vans.OneRoom();
    }

    [Theory]
    [InlineData("seattle")]
    [InlineData("fairbanks")]
    public void Shipped_steps_stay_near_steps_of_30_seconds(string place)
    {
        foreach ((string name, Design lid) in YearVans.Three(place))
        {
            Design van = lid.At(Position.Ajar);
            YearWeather weather = YearWeather.Of(van);
            YearVans.Days shipped = YearVans.Run(van, weather, Assumptions.Likely, 0, 14);
            YearVans.Days exact = YearVans.Run(van, weather, Assumptions.Likely, 0, 14, new RunOptions { StepSeconds = 30 });

            Assert.True(Math.Abs((shipped.CondensedKg / exact.CondensedKg) - 1) <= 0.01, $"{name}: {shipped.CondensedKg} kg against {exact.CondensedKg}");
            Assert.True(Math.Abs(shipped.WetHours - exact.WetHours) <= 0.02 * exact.WetHours, $"{name}: {shipped.WetHours} h against {exact.WetHours}");
            Assert.True(RootMeanSquareK(shipped, exact) <= 0.1, $"{name}: {RootMeanSquareK(shipped, exact)} K");
        }
    }

    // Backward Euler is of first order: half the step leaves half of the error, against steps of 5 seconds.
    [Fact]
    public void Half_the_step_leaves_half_of_the_error()
    {
        Design van = YearVans.Lid("long-high", Layout.RearPlatformBed, "seattle").At(Position.Ajar);
        YearWeather weather = YearWeather.Of(van);
        YearVans.Days Stepped(int seconds) => YearVans.Run(van, weather, Assumptions.Likely, 0, 5, new RunOptions { StepSeconds = seconds });
        YearVans.Days exact = Stepped(5);
        int[] steps = [600, 300, 150, 75];
        double[] errorsK = [.. steps.Select(seconds => RootMeanSquareK(Stepped(seconds), exact))];

        TestContext.Current.TestOutputHelper!.WriteLine(string.Join(", ", steps.Zip(errorsK, (seconds, errorK) => FormattableString.Invariant($"{seconds} s: {errorK:F4} K rms"))));
        Assert.All(errorsK.Zip(errorsK.Skip(1)), pair => Assert.InRange(pair.First / pair.Second, 1.6, 2.5));
    }

    // Backward differences over two steps are of second order: half the step leaves a quarter of the error (Hairer, Norsett and Wanner, Solving Ordinary
    // Differential Equations I, III.5; from memory). An empty van in weather that swings as a sine does, with air flows that stay: nothing jumps and no film
    // comes and goes. The mattress takes the air of the step's start, which leaves an error of first order in the humidities, a small one.
    [Fact]
    public void With_steps_of_second_order_half_the_step_leaves_a_quarter_of_the_error()
    {
        VanModel van = new(Preset with { Household = Preset.Household with { Sleepers = 0 } }, Assumptions.Likely);
        (double[] C, double[] W) exact = Swing(van, 15, second: true);
        int[] steps = [1200, 600, 300, 150];
        (double[] C, double[] W)[] second = [.. steps.Select(seconds => Swing(van, seconds, second: true))];
        (double[] C, double[] W)[] first = [.. steps.Select(seconds => Swing(van, seconds, second: false))];
        double[] secondK = [.. second.Select(one => RootMeanSquare(one.C, exact.C))];
        double[] firstK = [.. first.Select(one => RootMeanSquare(one.C, exact.C))];

        TestContext.Current.TestOutputHelper!.WriteLine(string.Join(", ", steps.Select((seconds, at) => FormattableString.Invariant($"{seconds} s: {secondK[at]:E2} K, first order {firstK[at]:E2} K"))));
        Assert.All(secondK.Zip(secondK.Skip(1)), pair => Assert.InRange(pair.First / pair.Second, 3.2, 5));
        Assert.All(firstK.Zip(firstK.Skip(1)), pair => Assert.InRange(pair.First / pair.Second, 1.6, 2.5));
        Assert.All(first.Zip(second), pair => Assert.True(RootMeanSquare(pair.Second.W, exact.W) < RootMeanSquare(pair.First.W, exact.W) / 5));
    }

    // Temperatures and humidities of all zones every twenty minutes of the second and third day.
    private static (double[] C, double[] W) Swing(VanModel van, int stepS, bool second)
    {
        const int Hours = 72;
        VanBatch<ScalarLane> batch = new([van]);
        VanStep<ScalarLane> zones = new(batch);
        zones.Start(new(10), 0.004, 101_325, new(4e-4));
        ScalarLane[] flows = new ScalarLane[van.ZoneCount * (van.ZoneCount + 1)];
        for (int i = 0; i < van.ZoneCount; i++)
        {
            for (int j = 0; j <= van.ZoneCount; j++)
            {
                flows[(i * (van.ZoneCount + 1)) + j] = new(i == j ? 0 : 0.002);
            }
        }

        zones.SetAir(flows);
        StepLanes<ScalarLane> start = new(batch, stepS, covered: false);
        StepLanes<ScalarLane> step = new(batch, stepS, covered: false, beforeS: second ? stepS : 0);
        List<double> temperatures = [];
        List<double> humidities = [];
        for (int n = 1; n <= 3600 * Hours / stepS; n++)
        {
            double hour = (double)n * stepS / 3600;
            double swing = 1 - Math.Cos(Math.PI * hour / 12);
            zones.OutdoorC = 10 + (4 * swing);
            zones.OutdoorHumidityRatio = 0.004 + (0.0005 * swing);
            zones.SunWPerM2 = 100 * swing;
            zones.Step(n == 1 ? start : step);
            if (n * stepS % 1200 == 0 && hour > 24)
            {
                temperatures.AddRange(Enumerable.Range(0, van.ZoneCount).Select(zone => zones.ZoneC(zone).Value));
                humidities.AddRange(Enumerable.Range(0, van.ZoneCount).Select(zone => zones.HumidityRatio(zone).Value));
            }
        }

        return ([.. temperatures], [.. humidities]);
    }

    private static double RootMeanSquare(double[] a, double[] b) => Math.Sqrt(a.Zip(b).Average(pair => Math.Pow(pair.First - pair.Second, 2)));

    // What fabrics take up in the damp hours they give back in the dry ones: the swing is less, and what comes in still leaves.
    [Fact]
    public void Fabrics_that_take_up_more_water_level_the_humidity_of_the_day()
    {
        Design van = YearVans.Lid("long-high", Layout.RearPlatformBed, "seattle").At(Position.Half);
        YearWeather weather = YearWeather.Of(van);
        double last = double.PositiveInfinity;
        foreach (double capacity in new[] { 0.1, 0.8, 3.0 })
        {
            YearVans.Days days = YearVans.Run(van, weather, Assumptions.Likely.With("buffer-capacity", capacity), 100, 10);
            double swingPa = days.Hours.Chunk(24).Average(day => day.Max(hour => days.Series.ZoneVapourPressurePa[hour]) - day.Min(hour => days.Series.ZoneVapourPressurePa[hour]));
            Assert.True(swingPa < 0.99 * last, $"{capacity} g: {swingPa} Pa after {last}");
            Assert.True(Math.Abs(days.Series.WaterUnaccountedKg) <= 1e-9 * days.Series.WaterThroughputKg);
            last = swingPa;
        }
    }

    // People open up and close again through these days: 19 June to 17 August.
    [Theory]
    [InlineData("seattle")]
    [InlineData("fairbanks")]
    public void In_summer_shipped_steps_stay_near_steps_of_30_seconds_in_temperature(string place)
    {
        foreach ((string name, Design lid) in YearVans.Three(place))
        {
            Design van = lid.At(Position.Shut);
            YearWeather weather = YearWeather.Of(van);
            YearVans.Days shipped = YearVans.Run(van, weather, Assumptions.Likely, 169, 60);
            YearVans.Days exact = YearVans.Run(van, weather, Assumptions.Likely, 169, 60, new RunOptions { StepSeconds = 30 });

            Assert.True(RootMeanSquareK(shipped, exact) <= 0.1, $"{name}: {RootMeanSquareK(shipped, exact)} K");
        }
    }

    [Fact]
    public void People_air_in_proportion_to_warmth_and_never_to_let_warmer_air_in()
    {
        Gen.Double.Unit.Array[4].Sample(u =>
        {
            double fromC = 20 + (8 * u[0]);
            double bandK = 1 + (3 * u[1]);
            double livingC = fromC - 3 + (10 * u[2]);
            double outdoorC = livingC - 8 + (10 * u[3]);
            double airing = OpeningRule.Airing(livingC, outdoorC, fromC, bandK);

            Assert.InRange(airing, 0, 1);
            Assert.True(OpeningRule.Airing(livingC + 0.1, outdoorC, fromC, bandK) >= airing);
            // No jump anywhere: a hundredth of a kelvin moves it by no more than its share of the band.
            Assert.InRange(Math.Abs(OpeningRule.Airing(livingC + 0.01, outdoorC, fromC, bandK) - airing), 0, (0.01 / bandK) + 1e-9);
            Assert.True((livingC >= fromC && livingC >= outdoorC) || airing == 0);
            Assert.True(livingC < fromC + bandK || livingC < outdoorC + bandK || airing > 1 - 1e-9);
        });
    }

    private static double RootMeanSquareK(YearVans.Days a, YearVans.Days b) => Math.Sqrt(
        Enumerable.Range(0, a.Model.ZoneCount).SelectMany(zone => a.Hours.Select(hour => (zone * YearSeries.Hours) + hour))
            .Average(at => Math.Pow(a.Series.ZoneC[at] - b.Series.ZoneC[at], 2)));

    // CDC, MMWR 28 October 1994, table S3-1: 138 and 69 minutes for 90 % at one and two air changes an hour; an implicit step of ten minutes lags by a
    // twelfth and a sixth of the decay's rate.
    [Theory]
    [InlineData(1, 138, 1.09)]
    [InlineData(2, 69, 1.17)]
    public void In_the_years_ten_minutes_a_gas_lingers_no_longer_than_the_method_says(double changesPerHour, double minutes, double most) =>
        Assert.InRange(ZoneAirChecks.FlushMinutes(changesPerHour, 90, HouseholdDay.SlotSeconds), minutes, most * minutes);

    [Fact]
    public void A_year_takes_the_steps_and_solves_it_is_meant_to()
    {
        YearSeries year = YearRun.Of(Preset, YearWeather.Of(Preset), Assumptions.Likely, cancellation: TestContext.Current.CancellationToken);

        // Twenty minutes all year, and four steps instead of one after at most a sixth of them.
        Assert.InRange(year.Steps, 365 * 72, 365 * (72 + (12 * 3)));
        // Each hour, and when people come, go, lie down and get up within one.
        Assert.InRange(year.NetworkSolves, 365 * 24, 365 * (24 + 4));
        Assert.True(year.NewtonSteps <= 6L * year.NetworkSolves, $"{year.NewtonSteps} Newton steps");
        Assert.InRange(year.MostFilmRounds, 1, 8);
    }

    [Fact]
    public void A_step_and_an_hour_allocate_nothing()
    {
        VanModel van = new(Vans.Covered(Preset, Cover.InsideLoose), Assumptions.Likely);
        YearWeather weather = YearWeather.Of(Preset);
        HouseholdDay day = HouseholdDay.Of(Preset, Assumptions.Likely);
        VanRun run = new(van);
        run.Start(Outdoor.Of(weather, 0), 16);
        Day(0);
        Day(1);

        long before = GC.GetAllocatedBytesForCurrentThread();
        Day(2);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());

        void Day(int number)
        {
            for (int hour = 24 * number; hour < 24 * (number + 1); hour++)
            {
                run.Hour(Outdoor.Of(weather, hour - 1), Outdoor.Of(weather, hour), Outdoor.Of(weather, hour + 1), day, hour % 24);
            }
        }
    }

    [Fact]
    public void The_same_input_gives_the_same_bits()
    {
        YearWeather weather = YearWeather.Of(Preset);
        YearSeries one = YearRun.Of(Preset, weather, Assumptions.Likely, cancellation: TestContext.Current.CancellationToken);
        YearSeries two = YearRun.Of(Preset, weather, Assumptions.Likely, cancellation: TestContext.Current.CancellationToken);

        Assert.Equal(one.ZoneC, two.ZoneC);
        Assert.Equal(one.SurfaceFilmKgPerM2, two.SurfaceFilmKgPerM2);
        Assert.Equal(one.SkinFilmKgPerM2, two.SkinFilmKgPerM2);
        Assert.Equal(one.HeaterW, two.HeaterW);
    }

    [Fact]
    public void Without_sources_in_dry_air_nothing_condenses()
    {
        Design empty = Preset with { Household = Preset.Household with { Sleepers = 0 }, Stop = Presets.StopAt("phoenix", 6) };
        YearWeather weather = YearWeather.Of(empty);
        Array.Fill(weather.VapourPressurePa, 100);
        YearVans.Days days = YearVans.Run(empty, weather, Assumptions.Likely, 150, 10);

        Assert.Equal(0, days.CondensedKg);
    }

    [Fact]
    public void A_year_cancelled_stops()
    {
        using CancellationTokenSource source = new();
        source.Cancel();
        Assert.Throws<OperationCanceledException>(() => YearRun.Of(Preset, YearWeather.Of(Preset), Assumptions.Likely, cancellation: source.Token));
    }

    [Fact]
    public void A_step_that_does_not_divide_ten_minutes_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new VanRun(new VanModel(Preset, Assumptions.Likely), new RunOptions { StepSeconds = 7 }));

    // Same weather, same sleepers, for ever: the year must end where the steady night is, which is solved another way.
    // Vapour is kept out of linings and mattress, which the steady night does not know.
    [Theory]
    [InlineData(Position.Shut, HeaterKind.RoomSealedLiquidFuel)]
    [InlineData(Position.Full, HeaterKind.RoomSealedLiquidFuel)]
    [InlineData(Position.Ajar, HeaterKind.UnfluedGas)]
    [InlineData(Position.Ajar, HeaterKind.None)]
    public void Weather_that_stays_ends_in_the_steady_night(Position lid, HeaterKind heater)
    {
        Design van = Tight(Vans.With(lid, Position.Shut, heater));
        Assumptions assumed = Assumptions.Likely.With("cavity-air-sealed", 0).With("mattress-vapour", 1e6);
        NightWeather weather = Nights.At(van);
        SteadyNight night = new(new NightModel(van, assumed), weather, HeaterLimit.OfW(van), TestContext.Current.CancellationToken);

        VanRun run = new(new VanModel(van, assumed));
        Outdoor outdoor = Outdoor.Of(weather, van.Stop.Shelter);
        HouseholdDay asleep = HouseholdDay.Of(van, assumed, Activity.Asleep);
        run.Start(outdoor, 12);
        for (int hour = 0; hour < 24 * 60; hour++)
        {
            run.Hour(outdoor, outdoor, outdoor, asleep, hour % 24);
        }

        for (int zone = 0; zone < night.Model.ZoneCount; zone++)
        {
            Assert.Equal(night.Balance.TemperatureC[zone], run.Zones.ZoneC[zone], 0.02);
            Assert.InRange(run.Zones.HumidityRatio[zone] / night.Balance.HumidityRatio[zone], 0.995, 1.005);
        }

        Assert.InRange(run.Zones.HeaterW, night.Balance.HeaterW - 1, night.Balance.HeaterW + 1);
    }

    private static Design Tight(Design van)
    {
        return van with
        {
            Household = van.Household with { CookingFuel = CookingFuel.None },
            Walls = With(van.Walls),
            Roof = With(van.Roof),
            Floor = With(van.Floor),
        };

        static LayeredAssembly With(LayeredAssembly assembly) => assembly with
        {
            Gaps = LiningGaps.Sealed,
            Layers = assembly.Layers.Insert(0, new MembraneLayer { Id = "foil", Name = "Foil", VapourEquivalentThickness = Length.FromMeters(10_000) }),
        };
    }

    [Fact]
    public void Saturation_from_the_table_is_that_of_the_equations()
    {
        for (double temperatureC = -59.9; temperatureC < 89; temperatureC += 0.037)
        {
            double pa = SaturationTable.Pa(temperatureC, out double slope);
            Assert.InRange(pa / MoistAir.SaturationPressurePa(temperatureC), 1 - 5e-8, 1 + 5e-8);
            Assert.InRange(slope / MoistAir.SaturationPressureSlopePaPerK(temperatureC), 1 - 3e-6, 1 + 3e-6);
        }
    }

    [Theory]
    [InlineData(Presence.Nights)]
    [InlineData(Presence.EveningsAndNights)]
    [InlineData(Presence.AllDay)]
    public void A_day_gives_off_what_the_table_says(Presence presence)
    {
        Design van = Preset with
        {
            Household = Preset.Household with { Presence = presence, ShowersPerDay = 2, DriesClothes = true, CookingFuel = CookingFuel.Electric },
        };
        HouseholdDay day = HouseholdDay.Of(van, Assumptions.Likely);
        double waterKg = HouseholdDay.SlotSeconds * day.Slot.Sum(slot => slot.BedWaterKgPerS + slot.RoomWaterKgPerS + slot.CookerWaterKgPerS);

        (double awakeHours, double meals) = presence switch
        {
            Presence.Nights => (1, 0),
            Presence.EveningsAndNights => (7.5, 1),
            _ => (15, 1),
        };
        double people = 2 * ((8 * Defaults.Likely("sleeper-water")) + (awakeHours * Defaults.Likely("awake-water")));
        double wet = (2 * Defaults.Likely("shower-water")) + (2 * Defaults.Likely("drying-water"));
        Assert.Equal(people + wet + (meals * Defaults.Likely("cooking-water-everyday")), 1000 * waterKg, 1e-9 * waterKg * 1e3);
    }

    [Fact]
    public void Frost_on_a_deep_cold_pane_does_not_run_off()
    {
        Design van = YearVans.Lid("long-high", Layout.RearPlatformBed, "fairbanks").At(Position.Shut);
        YearVans.Days days = YearVans.Run(van, YearWeather.Of(van), Assumptions.High, 0, 20);
        foreach (int hour in days.Hours.Where(hour => hour % 24 != YearRun.WipingHour))
        {
            int at = hour;
            if (days.Series.SurfaceC[at] < -1)
            {
                Assert.Equal(0, days.Series.SurfaceRanOffKgPerM2[at]);
            }
        }
    }
}
