using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The air flows, temperatures and humidities of one steady night: network and balance in turn, each with the other's
/// last answer, until the temperatures stand still.
/// </summary>
internal sealed class SteadyNight
{
    // Flows follow the root of temperature differences, so a plain step overshoots by half: this share damps that out.
    private const double Relaxation = 2.0 / 3;

    // Warming that makes air as much lighter as a kg/kg of vapour does: 0.61 T at 280 K.
    private const double LightnessK = 170;

    /// <summary>Largest change of any zone between two rounds at the end, K.</summary>
    public const double ToleranceK = 1e-6;

    private const int MaximumRounds = 1000;

    // Rounds with acceleration before plain ones are tried. Nearly every night settles in 10 to 40.
    private const int AcceleratedRounds = 60;

    // After each so many rounds the plain steps get shorter.
    private const int PlainRounds = 150;

    private readonly AirState _state;

    /// <summary>Solves a night.</summary>
    /// <param name="model">The compiled design.</param>
    /// <param name="weather">The outdoor air.</param>
    /// <param name="heaterLimitW">Most the heater may give.</param>
    /// <param name="cancellation">Stops the work.</param>
    public SteadyNight(NightModel model, NightWeather weather, double heaterLimitW, CancellationToken cancellation)
    {
        Model = model;
        Weather = weather;
        Sources = NightSources.Of(model.Design, model.Assumed);
        _state = model.Network.CreateState();
        model.Drive(_state, weather);
        Air = model.Network.CreateSolution();
        Balance = new NightBalance(model)
        {
            OutdoorC = weather.Temperature.DegreesCelsius,
            OutdoorHumidityRatio = NightModel.OutdoorHumidityRatio(weather),
            SkyLossWPerM2 = weather.SkyLoss.WattsPerSquareMeter * model.SkySeen(model.Design.Stop.Shelter),
            PressurePa = weather.Pressure.Pascals,
            HeaterLimitW = heaterLimitW,
            SetPointC = model.Design.Heater.NightSetPoint.DegreesCelsius,
            HeaterWaterKgPerJ = Sources.HeaterFuel is Fuel fuel ? fuel.WaterPerFuel / fuel.LowerHeatingValueJPerKg : 0,
            DryersRun = model.Design.Household.Sleepers > 0,
        };
        for (int zone = 0; zone < model.ZoneCount; zone++)
        {
            Balance.SensibleW[zone] = (model.SleepingShares[zone] * Sources.PeopleSensibleW)
                + (model.LivingShares[zone] * (Sources.CookingSensibleW + Sources.HabitsSensibleW + Sources.AnimalSensibleW));
            Balance.WaterKgPerS[zone] = (model.SleepingShares[zone] * Sources.PeopleWaterKgPerS)
                + (model.LivingShares[zone] * (Sources.CookingWaterKgPerS + Sources.CookingFlameWaterKgPerS + Sources.HabitsKgPerS + Sources.AnimalWaterKgPerS));
        }

        foreach (RunningDryer dryer in model.Dryers)
        {
            Balance.SensibleW[dryer.Zone] += Balance.DryersRun ? dryer.DrawW : 0;
        }

        Solve(cancellation);
    }

    public NightModel Model { get; }

    public NightWeather Weather { get; }

    public NightSources Sources { get; }

    /// <summary>The air flows.</summary>
    public AirFlowSolution Air { get; }

    /// <summary>Temperatures, humidities, condensation and heat.</summary>
    public NightBalance Balance { get; }

    /// <summary>Rounds it took.</summary>
    public int Rounds { get; private set; }

    // Temperatures and humidities of all zones in one list, humidity as the warmth that makes air as light.
    private void Solve(CancellationToken cancellation)
    {
        int zones = Model.ZoneCount;
        double outdoorC = Balance.OutdoorC;
        double coldestC = Balance.ColdestBehindC;
        Balance.Start(Balance.HeaterLimitW > 0 ? Math.Max(Balance.SetPointC, outdoorC) : outdoorC + 2);
        Span<double> guess = stackalloc double[2 * zones];
        Span<double> answer = stackalloc double[2 * zones];
        Read(guess);
        FixedPoint iteration = new(2 * zones);
        for (Rounds = 1; Rounds <= MaximumRounds; Rounds++)
        {
            cancellation.ThrowIfCancellationRequested();
            for (int zone = 0; zone < zones; zone++)
            {
                // Nothing cools a zone below outdoors and sky, and the accelerated guess must not try.
                guess[zone] = Math.Max(guess[zone], coldestC);
                _state.ZoneTemperatureC[zone] = guess[zone];
                _state.ZoneHumidityRatioKgPerKg[zone] = Math.Max(0, guess[zones + zone] / LightnessK);
            }

            Model.Network.Solve(_state, Air);
            Balance.Solve(Air.TransportKgPerS);
            Read(answer);
            if (LargestDifference(guess, answer) < ToleranceK)
            {
                return;
            }

            iteration.Advance(guess, answer, Relaxation / (1 + (Rounds / PlainRounds)), accelerate: Rounds <= AcceleratedRounds);
        }

        throw new NightNotConvergedException($"Air flows and temperatures of the night did not settle in {MaximumRounds} rounds.");
    }

    private void Read(Span<double> state)
    {
        int zones = Model.ZoneCount;
        for (int zone = 0; zone < zones; zone++)
        {
            state[zone] = Balance.TemperatureC[zone];
            state[zones + zone] = LightnessK * Balance.HumidityRatio[zone];
        }
    }

    private static double LargestDifference(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double largest = 0;
        for (int i = 0; i < a.Length; i++)
        {
            largest = Math.Max(largest, Math.Abs(a[i] - b[i]));
        }

        return largest;
    }
}

/// <summary>What people, animals, cooking and habits give off; cooking, dishes, drinks and showers spread over the night.</summary>
internal sealed record NightSources(
    double PeopleSensibleW,
    double PeopleWaterKgPerS,
    double PeopleCarbonDioxideMolPerS,
    double CookingSensibleW,
    double CookingWaterKgPerS,
    double CookingFlameWaterKgPerS,
    double DrinksAndDishesKgPerS,
    double ShowersKgPerS,
    double ClothesKgPerS,
    double PlantsKgPerS,
    double FirewoodKgPerS,
    double AnimalSensibleW,
    double AnimalWaterKgPerS,
    double AnimalCarbonDioxideMolPerS,
    Fuel? HeaterFuel)
{
    /// <summary>Oxygen breathed in per carbon dioxide breathed out, 1/0.83 (ASTM D6245, recalled).</summary>
    public const double OxygenPerCarbonDioxideBreathed = 1 / 0.83;

    public static NightSources Of(Design design, Assumptions assumed)
    {
        (double sensibleW, double waterKgPerS, double molPerS) = HouseholdDay.Breathing(assumed, "sleeper", design.Household.Sleepers);
        (double animalW, double animalKgPerS, double animalMolPerS) =
            HouseholdDay.Breathing(assumed, "animal", HouseholdDay.AnimalsIn(design, peopleIn: design.Household.Sleepers > 0));

        double spreadS = 3600 * assumed["cooking-spread"];
        MealRates meal = MealRates.Of(design, assumed, 1 / spreadS);
        HabitWater habits = HabitWater.Of(design, assumed);
        return new NightSources(
            PeopleSensibleW: sensibleW,
            PeopleWaterKgPerS: waterKgPerS,
            PeopleCarbonDioxideMolPerS: molPerS,
            CookingSensibleW: meal.SensibleW,
            CookingWaterKgPerS: meal.SteamKgPerS,
            CookingFlameWaterKgPerS: meal.FlameWaterKgPerS,
            DrinksAndDishesKgPerS: (habits.DrinksKgPerDay + habits.DishesKgPerDay) / spreadS,
            ShowersKgPerS: habits.ShowersKgPerDay / spreadS,
            ClothesKgPerS: habits.ClothesKgPerS,
            PlantsKgPerS: habits.PlantsKgPerS,
            FirewoodKgPerS: habits.FirewoodKgPerS,
            AnimalSensibleW: animalW,
            AnimalWaterKgPerS: animalKgPerS,
            AnimalCarbonDioxideMolPerS: animalMolPerS,
            HeaterFuel: design.Heater.Kind == HeaterKind.UnfluedGas ? Fuel.Propane : null);
    }

    /// <summary>Water of the habits besides cooking.</summary>
    public double HabitsKgPerS => DrinksAndDishesKgPerS + ShowersKgPerS + ClothesKgPerS + PlantsKgPerS + FirewoodKgPerS;

    /// <summary>Heat that wet clothes, plants and firewood take from the room, W; negative.</summary>
    public double HabitsSensibleW => -(ClothesKgPerS + PlantsKgPerS + FirewoodKgPerS) * MoistAir.EvaporationHeat;
}
