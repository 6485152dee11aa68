using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>Reads the objectives out of a design and its year.</summary>
internal static class YearNumbers
{
    // A room counts as cold when it stays this far below the temperature asked for, as the year's hours in which a heater is short. K.
    private const double ColdByK = 1;

    /// <summary>The numbers of a design.</summary>
    /// <param name="now">The design without what comes later.</param>
    /// <param name="year">Its year.</param>
    /// <param name="book">Prices of fuel and current.</param>
    /// <param name="moneyNow">What is still to be bought now.</param>
    /// <param name="parts">Parts to buy and holes to cut.</param>
    /// <param name="glassAndMetalM2">Glass and bare metal of the van as it stands, so that added glass can only add.</param>
    public static ObjectiveNumbers Of(Design now, YearAssessment year, PriceBook book, double moneyNow, double parts, double glassAndMetalM2) => new(
    [
        moneyNow,
        MoneyAYear(now, year, book),
        glassAndMetalM2 > 0 ? year.Surfaces.Sum(surface => surface.WetHours * surface.Area.SquareMeters) / glassAndMetalM2 : 0,
        year.Mould.Select(surface => surface.ThirdYear).DefaultIfEmpty(0).Max(),
        ColdHours(now, year),
        year.HotNights.Hours,
        Screen.NoiseDba(now),
        year.Heat.ElectricWorstDay.KilowattHours,
        parts,
    ]);

    /// <summary>Fuel of the heater, or the current of an electric one; 0 without a heater or without a price, which the order's notes say.</summary>
    private static double MoneyAYear(Design now, YearAssessment year, PriceBook book)
    {
        if (RunningPrices.OfHeater(book, now.Heater.Kind) is not PriceItem item)
        {
            return 0;
        }

        return (double)(year.Heat.Fuel is UnitsNet.Mass fuel ? RunningPrices.Cost(item, fuel) : RunningPrices.Cost(item, year.Heat.Electric));
    }

    private static int ColdHours(Design now, YearAssessment year)
    {
        HouseholdDay day = HouseholdDay.Of(now, Assumptions.Likely);
        double nightC = now.Heater.NightSetPoint.DegreesCelsius - ColdByK;
        double dayC = now.Heater.DaySetPoint.DegreesCelsius - ColdByK;
        int cold = 0;
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            DaySlot slot = day.Slot[(6 * (hour % 24)) + 5];
            cold += slot.Asleep ? (year.Hours.BedC[hour] < nightC ? 1 : 0)
                : slot.Occupied && year.Hours.LivingC[hour] < dayC ? 1 : 0;
        }

        return cold;
    }
}
