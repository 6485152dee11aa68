using System.Collections.Immutable;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>What the van takes to run: in the stop that asks most and in the mean. Quantities only: the price book has no fuel.</summary>
internal sealed class RunningCosts(Design design, YearAssessment year, DisplayUnits units)
{
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
            "Quantities, not money: fuel and gas cost what they cost where you stand. Electricity is what heater, fans and dryers draw; lights, fridge, pump and chargers come on top."
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
        }

        if (design.Household.CookingFuel == CookingFuel.Gas)
        {
            var (likely, high) = CookingGas();
            yield return ("Gas for cooking, two people", units.Format(Measure.Fuel, likely), units.Format(Measure.Fuel, high), DataTable.Nothing);
        }

        var perDay = year.HeaterFit?.ElectricPerDay;
        var worst = year.HeaterFit?.ElectricWorstDay ?? year.Heat.ElectricWorstDay;
        yield return ("Electricity", perDay is { } day ? units.FormatAtTwelveVolts(day) : DataTable.Nothing, units.FormatAtTwelveVolts(worst), units.Format(year.Heat.Electric));
        if (design.Equipment is { Battery: not BatteryKind.None, BatteryUsable: { KilowattHours: > 0 } battery })
        {
            yield return ("Days without sun", Days(battery, perDay), Days(battery, worst), DataTable.Nothing);
        }
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
