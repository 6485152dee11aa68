using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Water that habits besides breathing and cooking put into the living zone: the one place night, situations and year take it
/// from. Nothing in a van nobody sleeps in.
/// </summary>
/// <remarks>
/// What was hot brings the heat that evaporates it; wet clothes, plants and firewood take it from the room. Heating the water of
/// drinks, dishes and showers is left out.
/// </remarks>
/// <param name="ShowersKgPerDay">Showers.</param>
/// <param name="DrinksKgPerDay">Hot drinks, with the water of the flame that boils them.</param>
/// <param name="DishesKgPerDay">Washing up.</param>
/// <param name="ClothesKgPerDay">Wet clothes and gear, over <see cref="DryingHours"/> from coming home.</param>
/// <param name="PlantsKgPerS">Potted plants, day and night.</param>
/// <param name="FirewoodKgPerS">Wet firewood, day and night.</param>
internal sealed record HabitWater(
    double ShowersKgPerDay, double DrinksKgPerDay, double DishesKgPerDay, double ClothesKgPerDay, double PlantsKgPerS, double FirewoodKgPerS)
{
    /// <summary>Hours in which wet clothes dry.</summary>
    public const double DryingHours = 12;

    private const double DayS = 86_400;

    /// <summary>The habits of a household.</summary>
    public static HabitWater Of(Design design, Assumptions assumed)
    {
        Household household = design.Household;
        if (household.Sleepers == 0)
        {
            return new HabitWater(0, 0, 0, 0, 0, 0);
        }

        double Kg(bool does, double count, string key) => does ? count * assumed[key] / 1000 : 0;
        return new HabitWater(
            Kg(true, household.ShowersPerDay, "shower-water"),
            Kg(true, household.HotDrinksPerDay, "hot-drink-water"),
            Kg(household.WashesUpInside, household.Sleepers, "dishes-water"),
            Kg(household.DriesClothes, household.Sleepers, "drying-water"),
            Kg(true, household.Plants, "plant-water") / 3600,
            Kg(household.WetFirewoodInside, 1, "firewood-water") / DayS);
    }

    /// <summary>Water of wet clothes while they dry, kg/s.</summary>
    public double ClothesKgPerS => ClothesKgPerDay / (3600 * DryingHours);

    /// <summary>Water that takes its heat from the room day and night, kg/s.</summary>
    public double AlwaysKgPerS => PlantsKgPerS + FirewoodKgPerS;

    /// <summary>
    /// Sensible heat in W and water in kg/s while people do one thing: a day's dishes while they cook, hot drinks while they are
    /// awake, wet clothes in the evening and while they sleep, showers while they are awake before they go to bed.
    /// </summary>
    /// <param name="activity">What they do.</param>
    /// <param name="lastsS">How long.</param>
    /// <param name="household">Who they are.</param>
    /// <param name="next">What they do after it, where that tells the time of day; null otherwise.</param>
    public (double SensibleW, double WaterKgPerS) During(Activity activity, double lastsS, Household household, Activity? next = null)
    {
        // Where nobody sleeps nobody is awake either, and a situation may ask all the same.
        double wakingHours = HouseholdDay.WakingHours(household);
        double drinksKgPerS = wakingHours > 0 ? DrinksKgPerDay / (3600 * wakingHours) : 0;
        double hotKgPerS = activity switch
        {
            Activity.Cooking => (DishesKgPerDay / lastsS) + drinksKgPerS,
            Activity.Awake => drinksKgPerS + (next == Activity.Asleep ? ShowersKgPerDay / (3600 * HouseholdDay.HoursOfShowers(household)) : 0),
            _ => 0,
        };
        bool clothesHang = activity switch
        {
            Activity.Asleep or Activity.Cooking => true,
            // Those who come home at ten at night have them hanging in the morning, too; the others' are dry by then.
            Activity.Awake => next is Activity.Asleep or Activity.Cooking || household.Presence == Presence.Nights,
            _ => false,
        };
        double coldKgPerS = AlwaysKgPerS + (clothesHang ? ClothesKgPerS : 0);
        return (-coldKgPerS * MoistAir.EvaporationHeat, hotKgPerS + coldKgPerS);
    }
}
