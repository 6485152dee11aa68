using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>Reads the objectives out of a design and its year.</summary>
internal static class YearNumbers
{
    /// <summary>The numbers of a design.</summary>
    /// <param name="now">The design without what comes later.</param>
    /// <param name="year">Its year.</param>
    /// <param name="book">Prices of fuel and current.</param>
    /// <param name="moneyNow">What is still to be bought now.</param>
    /// <param name="parts">Parts to buy and holes to cut.</param>
    /// <param name="glassAndMetalM2">Glass and bare metal of the van as it stands, so that added glass can only add.</param>
    public static ObjectiveNumbers Of(Design now, ComparedYear year, PriceBook book, double moneyNow, double parts, double glassAndMetalM2) => new(
    [
        moneyNow,
        MoneyAYear(now, year, book),
        glassAndMetalM2 > 0 ? year.WetHoursM2 / glassAndMetalM2 : 0,
        year.MouldThirdYear,
        year.ColdHours,
        year.HotHours,
        Screen.NoiseDba(now),
        year.ElectricWorstDay.KilowattHours,
        parts,
    ]);

    /// <summary>The same of a year that was assessed.</summary>
    public static ObjectiveNumbers Of(Design now, YearAssessment year, PriceBook book, double moneyNow, double parts, double glassAndMetalM2) =>
        Of(now, ComparedYear.Of(now, year), book, moneyNow, parts, glassAndMetalM2);

    /// <summary>Fuel of the heater, or the current of an electric one; 0 without a heater or without a price, which the order's notes say.</summary>
    private static double MoneyAYear(Design now, ComparedYear year, PriceBook book)
    {
        if (RunningPrices.OfHeater(book, now.Heater.Kind) is not PriceItem item)
        {
            return 0;
        }

        return (double)(year.Fuel is UnitsNet.Mass fuel ? RunningPrices.Cost(item, fuel) : RunningPrices.Cost(item, year.Electric));
    }
}
