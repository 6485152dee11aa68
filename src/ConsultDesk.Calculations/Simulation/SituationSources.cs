using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What people, cooking and sun give off in each zone in a situation; the heater apart.</summary>
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

        switch (situation.Activity)
        {
            case Activity.Asleep:
                sources.AddPeople(night, situation.People, night.SleepingShares, "sleeper");
                break;
            case Activity.Awake or Activity.Driving:
                sources.AddPeople(night, situation.People, night.LivingShares, "awake");
                break;
            case Activity.Cooking:
                sources.AddPeople(night, situation.People, night.LivingShares, "awake");
                sources.AddCooking(night, situation);
                break;
            case Activity.LockedAndLeft:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(situation), situation.Activity, "Expected a known activity.");
        }

        return sources;
    }

    private void AddPeople(NightModel night, int people, double[] shares, string state)
    {
        (double sensibleW, double waterKgPerS, double molPerS) = HouseholdDay.Breathing(night.Assumed, state, people);
        for (int zone = 0; zone < shares.Length; zone++)
        {
            SensibleW[zone] += shares[zone] * sensibleW;
            WaterKgPerS[zone] += shares[zone] * waterKgPerS;
            CarbonDioxideMolPerS[zone] += shares[zone] * molPerS;
        }
    }

    // The day's meal within the situation, as far as the burners go: a big household cooks the rest in another hour.
    private void AddCooking(NightModel night, Situation situation)
    {
        double share = NightSources.CookingShare(night.Design);
        double seconds = situation.Lasts.Seconds;
        string habit = NightSources.Habit(night.Design);
        double wishedW = share * night.Assumed["cooking-energy-" + habit] * 3.6e6 / seconds;
        double energyW = Math.Min(wishedW, 1000 * night.Assumed["hob-input"] * night.Assumed["hob-burners"]);
        double cooked = wishedW > 0 ? energyW / wishedW : 0;
        double steamKgPerS = cooked * share * night.Assumed["cooking-water-" + habit] / 1000 / seconds;
        double flameW = night.Design.Household.CookingFuel == CookingFuel.Gas ? energyW : 0;
        for (int zone = 0; zone < SensibleW.Length; zone++)
        {
            double part = night.LivingShares[zone];
            SensibleW[zone] += part * (energyW - (steamKgPerS * MoistAir.EvaporationHeat));
            SteamKgPerS[zone] += part * steamKgPerS;
            WaterKgPerS[zone] += part * CombustionGases.WaterKg(Fuel.Propane, flameW);
            CarbonDioxideMolPerS[zone] += part * CombustionGases.CarbonDioxideMol(Fuel.Propane, flameW);
        }
    }
}
