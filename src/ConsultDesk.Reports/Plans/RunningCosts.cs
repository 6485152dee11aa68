using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>What the van takes to run: in the stop that asks most and in the mean, in quantities and, where the price book has a price, in money.</summary>
internal sealed class RunningCosts(Design design, YearAssessment year, DisplayUnits units, PlanCost? cost = null)
{
    /// <summary>What stands where the book has no price.</summary>
    public const string NoPrice = "no price in the book";

    /// <summary>The blocks of the section; none without a year.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        var rows = Rows().Select(row => ImmutableArray.Create(row.What, row.Mean, row.Worst, row.Year)).ToList();
        yield return new TableBlock(new DataTable
        {
            Caption = "What it takes to run",
            Heads = ["What", "A mean day with heating", "The day that asks most", "The whole year"],
            NumberColumns = [1, 2, 3],
            Rows = [.. rows],
        });
        yield return new ParagraphBlock(
            Priced() + "Electricity is what heater, fans and dryers draw; lights, fridge, pump and chargers come on top."
            + (design.Heater.Kind is HeaterKind.None or HeaterKind.Electric ? "" : " The most is that of the coldest day of the route; carry half as much again."));
    }

    private IEnumerable<(string What, string Mean, string Worst, string Year)> Rows()
    {
        var kind = design.Heater.Kind;
        if (year.HeaterFit is { FuelPerHeatingDay: { } mean } fit && kind is not (HeaterKind.None or HeaterKind.Electric))
        {
            yield return (
                kind.BurnsLiquidFuel() ? "Fuel of the heater" : kind == HeaterKind.WoodStove ? "Firewood" : "Gas of the heater",
                FuelWords.Of(mean, kind, units),
                fit.FuelColdestDay is { } most ? FuelWords.Of(most, kind, units) : DataTable.Nothing,
                year.Heat.Fuel is { } all ? FuelWords.Of(all, kind, units) : DataTable.Nothing);
            if (cost is not null)
            {
                yield return ("In money", Money(mean), Money(fit.FuelColdestDay), Money(year.Heat.Fuel));
            }
        }

        if (design.Household.CookingFuel == CookingFuel.Gas)
        {
            var (likely, high) = CookingGas();
            yield return ("Gas for cooking, two people", units.Format(Measure.Fuel, likely), units.Format(Measure.Fuel, high), DataTable.Nothing);
            if (cost is not null)
            {
                var gas = Gas;
                string Of(Mass mass) => gas is null ? NoPrice : Amount(RunningPrices.Cost(gas, mass));
                yield return ("Cooking in money", Of(likely), Of(high), DataTable.Nothing);
            }
        }

        var perDay = year.HeaterFit?.ElectricPerDay;
        var worst = year.HeaterFit?.ElectricWorstDay ?? year.Heat.ElectricWorstDay;
        yield return ("Electricity", perDay is { } day ? units.FormatAtTwelveVolts(day) : DataTable.Nothing, units.FormatAtTwelveVolts(worst), units.Format(year.Heat.Electric));
        if (kind == HeaterKind.Electric && cost is not null)
        {
            // From the battery it costs what charging costs, which nobody here knows.
            string Of(Energy? energy) => energy is not { } used ? DataTable.Nothing : Item is { } item ? Amount(RunningPrices.Cost(item, used)) : NoPrice;
            yield return ("Electricity in money", Of(perDay), Of(worst), Of(year.Heat.Electric));
        }

        if (design.Equipment is { Battery: not BatteryKind.None, BatteryUsable: { KilowattHours: > 0 } battery })
        {
            yield return ("Days without sun", Days(battery, perDay), Days(battery, worst), DataTable.Nothing);
        }
    }

    /// <summary>Money for the heater's fuel on a mean day with heating; null where it burns none, or nothing is known of prices.</summary>
    public string? FuelMoneyADay() =>
        cost is not null && design.Heater.Kind is not (HeaterKind.None or HeaterKind.Electric) && year.HeaterFit?.FuelPerHeatingDay is { } mean ? Money(mean) : null;

    private PriceItem? Item => cost?.Book is { } book ? RunningPrices.OfHeater(book, design.Heater.Kind) : null;

    private PriceItem? Gas => cost?.Book is { } book ? RunningPrices.Of(book, PriceKind.BottledGas) : null;

    private string Money(Mass? fuel) => fuel is not { } burnt ? DataTable.Nothing : Item is { } item ? Amount(RunningPrices.Cost(item, burnt)) : NoPrice;

    // A day's fuel is a few coins: rounded to whole amounts it would say nothing.
    private string Amount(decimal amount) => amount < 100 ? Units.Money.Of(decimal.Round(amount, 2), cost!.Currency) : Units.Money.Rounded(amount, cost!.Currency);

    private string Priced()
    {
        PriceItem[] items = [.. new[] { Item, design.Household.CookingFuel == CookingFuel.Gas ? Gas : null }.OfType<PriceItem>().DistinctBy(item => item.Key)];
        return items.Length == 0
            ? "Quantities, not money: fuel and gas cost what they cost where you stand. "
            : $"Money by our price book on the day of this plan: {string.Join("; ", items.Select(item => $"{item.Name}, {Units.Money.Of(item.Price, cost!.Currency)} {PerUnit(item.Unit)}"))}. It costs what it costs where you stand. ";

        static string PerUnit(PriceUnit unit) => unit switch
        {
            PriceUnit.Litre => "a litre",
            PriceUnit.Kilogram => "a kilogram",
            PriceUnit.KilowattHour => "a kilowatt-hour",
            _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, "Expected what fuel is sold by."),
        };
    }

    /// <summary>Gas that cooking burns on a day, likely and at most, from the assumed energy and the heating value of propane.</summary>
    internal (Mass Likely, Mass High) CookingGas()
    {
        var key = design.Household.CookingHabit switch
        {
            CookingHabit.Light => "cooking-energy-light",
            CookingHabit.Everyday => "cooking-energy-everyday",
            CookingHabit.Heavy => "cooking-energy-heavy",
            _ => throw new InvalidOperationException($"No energy for {design.Household.CookingHabit} cooking."),
        };
        var assumed = Defaults.All.Single(value => value.Key == key);
        return (Of(assumed.Likely), Of(assumed.High));

        static Mass Of(double kilowattHours) =>
            Mass.FromKilograms(Energy.FromKilowattHours(kilowattHours).Joules / Fuel.Propane.LowerHeatingValue.JoulesPerKilogram);
    }

    private string Days(Energy battery, Energy? perDay) => perDay is { Joules: > 0 } draw ? units.Format(Duration.FromDays(battery / draw)) : DataTable.Nothing;
}
