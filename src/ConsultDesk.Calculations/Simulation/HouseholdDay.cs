using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// What people, animals and the cooker give off in ten minutes of the day. The cooker's water is that of pans and flame;
/// the pans' part stands apart as steam.
/// </summary>
internal readonly record struct DaySlot(
    Activity Activity,
    double BedSensibleW,
    double BedWaterKgPerS,
    double BedCarbonDioxideMolPerS,
    double RoomSensibleW,
    double RoomWaterKgPerS,
    double RoomCarbonDioxideMolPerS,
    double CookerSensibleW,
    double CookerWaterKgPerS,
    double CookerSteamKgPerS,
    double CookerCarbonDioxideMolPerS,
    double CookerOxygenMolPerS)
{
    /// <summary>People are in the van.</summary>
    public bool Occupied => Activity is not Activity.LockedAndLeft;

    /// <summary>People sleep in the van.</summary>
    public bool Asleep => Activity is Activity.Asleep;
}

/// <summary>
/// A household's day in slots of ten minutes. Clock times are our judgement: asleep 22:30 to 06:30, the cooked meal from
/// 18:00, showers from 20:00, wet clothes hung up on coming home. Sources are those of the defaults table, each slot
/// with its exact share of an event.
/// </summary>
internal sealed class HouseholdDay
{
    /// <summary>Slots of a day.</summary>
    public const int Slots = 144;

    /// <summary>Length of a slot, s.</summary>
    public const int SlotSeconds = 600;

    /// <summary>When the cooked meal starts, hours.</summary>
    public const double SupperTime = 18;

    /// <summary>When showers start, hours; those who come to sleep only take them on coming.</summary>
    public const double ShowerTime = 20;

    // The last shower ends before people sleep.
    private const double ShowerHours = 2;
    private const double DishesHours = 0.5;

    // Volume of a mole at 20 degrees Celsius and 101,325 Pa, the state breath is measured at, L/mol.
    private const double LitresPerMol = 24.055;

    private HouseholdDay(DaySlot[] slots)
    {
        Slot = slots;
        Steps = new int[Slots];
        Array.Fill(Steps, 1);
        LikeBefore = [.. slots.Select((slot, index) => slot == slots[(index + Slots - 1) % Slots])];
        for (int slot = 0; slot < Slots; slot++)
        {
            int before = (slot + Slots - 1) % Slots;
            bool cookerTurned = slots[slot].CookerWaterKgPerS != slots[before].CookerWaterKgPerS;
            if (slots[slot].Activity != slots[before].Activity || cookerTurned)
            {
                Steps[slot] = StepsAfterChange;
            }
        }
    }

    /// <summary>Steps of the ten minutes that begin with a change; measured against 30 s in docs/method/year.md.</summary>
    public const int StepsAfterChange = 3;

    /// <summary>The slots from midnight.</summary>
    public DaySlot[] Slot { get; }

    /// <summary>True for slots in which everything is as in the slot before.</summary>
    public bool[] LikeBefore { get; }

    /// <summary>Steps of each slot: more where activity or cooker change.</summary>
    public int[] Steps { get; }

    /// <summary>The day of a household.</summary>
    public static HouseholdDay Of(Design design, Assumptions assumed)
    {
        DaySlot[] slots = new DaySlot[Slots];
        HabitWater habits = HabitWater.Of(design, assumed);
        double wakingHours = WakingHours(design.Household);
        for (int slot = 0; slot < Slots; slot++)
        {
            double from = slot / 6.0;
            slots[slot] = WithHabits(SlotOf(design, assumed, ActivityAt(design.Household, from), from), design.Household, assumed, habits, wakingHours, from);
        }

        return new HouseholdDay(slots);
    }

    /// <summary>A day in which people do one thing all the time; cooking then never stops.</summary>
    public static HouseholdDay Of(Design design, Assumptions assumed, Activity activity)
    {
        DaySlot slot = WithPeople(design, assumed, activity);
        if (activity == Activity.Cooking)
        {
            slot = WithCooking(slot, design, assumed, 1 / (60 * assumed["cooking-duration"]));
        }

        (double sensibleW, double waterKgPerS) = HabitWater.Of(design, assumed)
            .During(activity, 60 * assumed["cooking-duration"], design.Household);
        slot = slot with { RoomSensibleW = slot.RoomSensibleW + sensibleW, RoomWaterKgPerS = slot.RoomWaterKgPerS + waterKgPerS };
        DaySlot[] slots = new DaySlot[Slots];
        Array.Fill(slots, slot);
        return new HouseholdDay(slots);
    }

    /// <summary>True when meals are cooked in the van: not by those who come to sleep only.</summary>
    public static bool Cooks(Household household) =>
        household.Presence != Presence.Nights && household.CookingFuel != CookingFuel.None && household.Sleepers > 0;

    /// <summary>Hours a day a household is awake in the van.</summary>
    public static double WakingHours(Household household) =>
        Enumerable.Range(0, Slots).Count(slot => ActivityAt(household, slot / 6.0) == Activity.Awake) / 6.0;

    /// <summary>
    /// Hours over which a situation spreads a day's showers: the evening from coming home to bed, and never less than they take. The year has
    /// them within two hours; what they leave in the air at bedtime lies between.
    /// </summary>
    public static double HoursOfShowers(Household household) => Math.Max(ShowerHours, Nights.BedTime - Home(household));

    private static double Home(Household household) => household.Presence == Presence.Nights ? 22 : 17;

    private static Activity ActivityAt(Household household, double hour)
    {
        if (household.Sleepers == 0)
        {
            return Activity.LockedAndLeft;
        }

        bool present = household.Presence switch
        {
            Presence.Nights => hour is >= 22 or < 7,
            Presence.EveningsAndNights => hour is >= 17 or < 8.5,
            Presence.AllDay => hour is < 12 or >= 13,
            _ => throw new ArgumentOutOfRangeException(nameof(household), household.Presence, "Expected nights, evenings and nights, or all day."),
        };
        return !present ? Activity.LockedAndLeft : hour is >= Nights.BedTime or < Nights.RisingTime ? Activity.Asleep : Activity.Awake;
    }

    private static DaySlot SlotOf(Design design, Assumptions assumed, Activity activity, double from)
    {
        DaySlot slot = WithPeople(design, assumed, activity);
        double cooking = Cooks(design.Household) ? Overlap(from, SupperTime, assumed["cooking-duration"] / 60) : 0;
        return WithCooking(slot, design, assumed, cooking / SlotSeconds);
    }

    // Those who come to sleep only wash themselves and their dishes on coming; the others wash up after supper.
    private static DaySlot WithHabits(
        DaySlot slot, Household household, Assumptions assumed, HabitWater habits, double wakingHours, double from)
    {
        double home = Home(household);
        double showerFrom = household.Presence == Presence.Nights ? home : ShowerTime;
        double showerHours = household.Presence == Presence.Nights ? Nights.BedTime - home : ShowerHours;
        double dishesFrom = household.Presence == Presence.Nights ? home : SupperTime + (assumed["cooking-duration"] / 60);
        double coldKgPerS = habits.AlwaysKgPerS + (habits.ClothesKgPerDay * Overlap(from, home, HabitWater.DryingHours) / SlotSeconds);
        double hotKgPerS = ((habits.ShowersKgPerDay * Overlap(from, showerFrom, showerHours))
                + (habits.DishesKgPerDay * Overlap(from, dishesFrom, DishesHours))) / SlotSeconds
            + (slot.Activity == Activity.Awake ? habits.DrinksKgPerDay / (3600 * wakingHours) : 0);
        return slot with
        {
            RoomWaterKgPerS = slot.RoomWaterKgPerS + hotKgPerS + coldKgPerS,
            RoomSensibleW = slot.RoomSensibleW - (coldKgPerS * MoistAir.EvaporationHeat),
        };
    }

    /// <summary>Share of an event that falls into the slot; events may run past midnight.</summary>
    private static double Overlap(double slotFrom, double from, double hours)
    {
        double share = 0;
        for (int day = -1; day <= 0; day++)
        {
            double start = Math.Max(slotFrom, from + (24 * day));
            double end = Math.Min(slotFrom + (1.0 / 6), from + (24 * day) + hours);
            share += Math.Max(0, end - start) / hours;
        }

        return share;
    }

    private static DaySlot WithPeople(Design design, Assumptions assumed, Activity activity)
    {
        bool asleep = activity == Activity.Asleep;
        bool here = activity != Activity.LockedAndLeft;
        int people = here ? design.Household.Sleepers : 0;
        int animals = AnimalsIn(design, here);
        string state = asleep ? "sleeper" : "awake";
        (double sensibleW, double waterKgPerS, double molPerS) = Breathing(assumed, state, people);
        (double animalW, double animalKgPerS, double animalMolPerS) = Breathing(assumed, "animal", animals);
        return new DaySlot(
            activity,
            asleep ? sensibleW : 0,
            asleep ? waterKgPerS : 0,
            asleep ? molPerS : 0,
            animalW + (asleep ? 0 : sensibleW),
            animalKgPerS + (asleep ? 0 : waterKgPerS),
            animalMolPerS + (asleep ? 0 : molPerS),
            0,
            0,
            0,
            0,
            0);
    }

    /// <summary>Animals in the van: with their people, and alone when they are left in it.</summary>
    internal static int AnimalsIn(Design design, bool peopleIn) => peopleIn || design.Equipment.LeftInLockedVan ? design.Household.Animals : 0;

    /// <summary>Sensible heat, water and carbon dioxide of some people or animals.</summary>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="who">Beginning of their rows in the table: sleeper, awake or animal.</param>
    /// <param name="count">How many.</param>
    internal static (double SensibleW, double WaterKgPerS, double MolPerS) Breathing(Assumptions assumed, string who, int count)
    {
        double waterKgPerS = count * assumed[who + "-water"] / 3.6e6;
        return (
            (count * assumed[who + "-heat"]) - (waterKgPerS * MoistAir.EvaporationHeat),
            waterKgPerS,
            count * assumed[who + "-carbon-dioxide"] / LitresPerMol / 3600);
    }

    private static DaySlot WithCooking(DaySlot slot, Design design, Assumptions assumed, double daysPerS)
    {
        if (daysPerS == 0)
        {
            return slot;
        }

        MealRates meal = MealRates.Of(design, assumed, daysPerS);
        return slot with
        {
            CookerSensibleW = meal.SensibleW,
            CookerWaterKgPerS = meal.SteamKgPerS + meal.FlameWaterKgPerS,
            CookerSteamKgPerS = meal.SteamKgPerS,
            CookerCarbonDioxideMolPerS = meal.CarbonDioxideMolPerS,
            CookerOxygenMolPerS = meal.OxygenMolPerS,
        };
    }
}
