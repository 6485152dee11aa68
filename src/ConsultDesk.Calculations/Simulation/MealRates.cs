using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What the cooker and its pans give off while a meal is cooked.</summary>
/// <param name="SensibleW">Heat, less what evaporates water.</param>
/// <param name="SteamKgPerS">Steam of the pans.</param>
/// <param name="FlameWaterKgPerS">Water of a gas flame.</param>
/// <param name="CarbonDioxideMolPerS">Carbon dioxide of a gas flame.</param>
/// <param name="OxygenMolPerS">Oxygen a gas flame uses.</param>
internal readonly record struct MealRates(
    double SensibleW, double SteamKgPerS, double FlameWaterKgPerS, double CarbonDioxideMolPerS, double OxygenMolPerS)
{
    /// <summary>The day's cooking of a household at a pace.</summary>
    /// <param name="design">The design.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="daysPerS">Share of the day's cooking done in a second.</param>
    /// <param name="mostW">Most the burners give: a big household cooks the rest in another hour.</param>
    public static MealRates Of(Design design, Assumptions assumed, double daysPerS, double mostW = double.PositiveInfinity)
    {
        double rate = daysPerS * Share(design);
        string habit = Habit(design);
        double wishedW = rate * assumed["cooking-energy-" + habit] * 3.6e6;
        double watts = Math.Min(wishedW, mostW);
        double steamKgPerS = wishedW > 0 ? watts / wishedW * rate * assumed["cooking-water-" + habit] / 1000 : 0;
        double gasKgPerS = design.Household.CookingFuel == CookingFuel.Gas ? watts / Fuel.Propane.LowerHeatingValueJPerKg : 0;
        return new MealRates(
            watts - (steamKgPerS * MoistAir.EvaporationHeat),
            steamKgPerS,
            gasKgPerS * Fuel.Propane.WaterPerFuel,
            1000 * gasKgPerS * Fuel.Propane.CarbonKmolPerKg,
            1000 * gasKgPerS * Fuel.Propane.OxygenKmolUsedPerKg);
    }

    /// <summary>Heat of the cooker's flame in a day with cooking; 0 when it has none.</summary>
    public static double FlameJPerDay(Design design, Assumptions assumed) => design.Household.CookingFuel == CookingFuel.Gas
        ? Share(design) * assumed["cooking-energy-" + Habit(design)] * 3.6e6
        : 0;

    // Of the table's cooking, which is a day's for two; none by those who come to sleep only.
    private static double Share(Design design) =>
        HouseholdDay.Cooks(design.Household) ? design.Household.Sleepers / 2.0 : 0;

    private static string Habit(Design design) => design.Household.CookingHabit switch
    {
        CookingHabit.Light => "light",
        CookingHabit.Everyday => "everyday",
        CookingHabit.Heavy => "heavy",
        _ => throw new ArgumentOutOfRangeException(nameof(design), design.Household.CookingHabit, "Expected light, everyday or heavy."),
    };
}
