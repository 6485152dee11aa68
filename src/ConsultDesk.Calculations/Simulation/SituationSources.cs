using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What people, animals, cooking, habits, dryers and sun give off in each zone in a situation; the heater apart.</summary>
internal sealed class SituationSources
{
    private SituationSources(int zones)
    {
        SensibleW = new double[zones];
        WaterKgPerS = new double[zones];
        SteamKgPerS = new double[zones];
        CarbonDioxideMolPerS = new double[zones];
    }

    /// <summary>Sensible heat.</summary>
    public double[] SensibleW { get; }

    /// <summary>Water, steam of the pans apart.</summary>
    public double[] WaterKgPerS { get; }

    /// <summary>Steam of the pans, part of which an opening above the cooker may take out at once.</summary>
    public double[] SteamKgPerS { get; }

    /// <summary>Carbon dioxide of breath and of the cooker's flame.</summary>
    public double[] CarbonDioxideMolPerS { get; }

    public static SituationSources Of(SituationModel model, Situation situation)
    {
        Design design = model.Design;
        NightModel night = model.Night;
        SituationSources sources = new(night.ZoneCount);
        for (int zone = 0; zone < night.ZoneCount; zone++)
        {
            sources.SensibleW[zone] = model.SunApertureM2[zone] * situation.Sun.WattsPerSquareMeter;
        }

        bool away = situation.Activity == Activity.LockedAndLeft;
        sources.AddBreathing(night, HouseholdDay.AnimalsIn(design, peopleIn: !away && situation.People > 0), night.LivingShares, "animal");
        foreach (RunningDryer dryer in night.Dryers)
        {
            sources.SensibleW[dryer.Zone] += away ? 0 : dryer.DrawW;
        }

        (double habitsW, double habitsKgPerS) = HabitWater.Of(design, night.Assumed)
            .During(situation.Activity, situation.Lasts.Seconds, design.Household, situation.Next);
        for (int zone = 0; zone < night.ZoneCount; zone++)
        {
            sources.SensibleW[zone] += night.LivingShares[zone] * habitsW;
            sources.WaterKgPerS[zone] += night.LivingShares[zone] * habitsKgPerS;
        }

        switch (situation.Activity)
        {
            case Activity.Asleep:
                sources.AddBreathing(night, situation.People, night.SleepingShares, "sleeper");
                break;
            case Activity.Awake or Activity.Driving:
                sources.AddBreathing(night, situation.People, night.LivingShares, "awake");
                break;
            case Activity.Cooking:
                sources.AddBreathing(night, situation.People, night.LivingShares, "awake");
                sources.AddCooking(night, situation);
                break;
            case Activity.LockedAndLeft:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(situation), situation.Activity, "Expected a known activity.");
        }

        return sources;
    }

    private void AddBreathing(NightModel night, int count, double[] shares, string who)
    {
        (double sensibleW, double waterKgPerS, double molPerS) = HouseholdDay.Breathing(night.Assumed, who, count);
        for (int zone = 0; zone < shares.Length; zone++)
        {
            SensibleW[zone] += shares[zone] * sensibleW;
            WaterKgPerS[zone] += shares[zone] * waterKgPerS;
            CarbonDioxideMolPerS[zone] += shares[zone] * molPerS;
        }
    }

    // The day's meal within the situation.
    private void AddCooking(NightModel night, Situation situation)
    {
        double mostW = 1000 * night.Assumed["hob-input"] * night.Assumed["hob-burners"];
        MealRates meal = MealRates.Of(night.Design, night.Assumed, 1 / situation.Lasts.Seconds, mostW);
        for (int zone = 0; zone < SensibleW.Length; zone++)
        {
            double part = night.LivingShares[zone];
            SensibleW[zone] += part * meal.SensibleW;
            SteamKgPerS[zone] += part * meal.SteamKgPerS;
            WaterKgPerS[zone] += part * meal.FlameWaterKgPerS;
            CarbonDioxideMolPerS[zone] += part * meal.CarbonDioxideMolPerS;
        }
    }
}
