using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Plans;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

/// <summary>What a plan says the van takes to run, in quantities and in money.</summary>
public sealed class RunningCostTests
{
    [Fact]
    public void Fuel_and_gas_are_told_in_money_where_the_book_has_a_price_and_that_it_has_none_where_not()
    {
        var rows = Rows(SamplePlan.CostOf(SampleDesign.Design), out var words);
        Assert.Equal(["Fuel of the heater", "In money", "Gas for cooking, two people", "Cooking in money", "Electricity"], rows.Keys);

        // EN 590: diesel weighs 820 to 845 kg/m³ at 15 °C (recalled). What is bought lies between the two.
        var fit = SampleYear.Assessment.Year!.HeaterFit!;
        var price = PriceBooks.Default.Items.Single(item => item.Key == "fuel-diesel").Price;
        foreach (var (column, mass) in new[] { (1, fit.FuelPerHeatingDay!.Value), (2, fit.FuelColdestDay!.Value), (3, SampleYear.Assessment.Year!.Heat.Fuel!.Value) })
        {
            var money = AmountIn(rows["In money"][column]);
            Assert.InRange(money, (decimal)(mass.Kilograms / 0.845) * price - 0.5m, (decimal)(mass.Kilograms / 0.820) * price + 0.5m);
        }

        Assert.Contains("Diesel at a pump, 1.70\u00A0EUR a litre", words, StringComparison.Ordinal);
        Assert.Contains("Propane in bottles", words, StringComparison.Ordinal);

        var bare = new PriceBook([.. PriceBooks.Default.Items.Where(item => item.Kind is not (PriceKind.LiquidFuel or PriceKind.BottledGas))]);
        rows = Rows(SamplePlan.CostOf(SampleDesign.Design) with { Book = bare }, out words);
        Assert.Equal(["In money", "no price in the book", "no price in the book", "no price in the book"], rows["In money"]);
        Assert.Equal("no price in the book", rows["Cooking in money"][1]);
        Assert.StartsWith("Quantities, not money", words, StringComparison.Ordinal);

        // Without a book nothing is said of money.
        rows = Rows(null, out _);
        Assert.DoesNotContain(rows.Keys, key => key.Contains("money", StringComparison.Ordinal));
    }

    [Fact]
    public void The_clients_own_idea_is_set_against_ours_in_money_for_fuel_too()
    {
        var table = PlanComposer.Compose(SamplePlan.Whole).Sections.Single(section => section.Id == PlanComposer.Own).Blocks.OfType<TableBlock>().Single().Table;
        var labels = table.Rows.Select(row => row[0]).ToList();
        Assert.Equal(labels.IndexOf("Fuel on a day with heating") + 1, labels.IndexOf("The same in money"));
        var running = Rows(SamplePlan.Whole.Cost, out _);
        Assert.Equal(running["In money"][1], table.Rows.Single(row => row[0] == "The same in money")[2]);
    }

    [Fact]
    public void An_electric_heater_is_priced_by_the_kilowatt_hour_and_a_battery_is_not()
    {
        var electric = SampleDesign.Design with { Heater = SampleDesign.Design.Heater with { Kind = HeaterKind.Electric } };
        var rows = Rows(SamplePlan.CostOf(electric), out _, electric);
        var year = SampleYear.Assessment.Year!.Heat.Electric.KilowattHours;
        Assert.Equal(Math.Round((decimal)year * 0.5m, 2), AmountIn(rows["Electricity in money"][3]));
        Assert.DoesNotContain("Electricity in money", Rows(SamplePlan.CostOf(SampleDesign.Design), out _).Keys);
    }

    private static Dictionary<string, string[]> Rows(PlanCost? cost, out string words, Design? design = null)
    {
        var plan = PlanComposer.Compose(SamplePlan.Whole with { Cost = cost, Design = design ?? SampleDesign.Design, Own = null });
        var blocks = plan.Sections.Single(section => section.Id == PlanComposer.Costs).Blocks;
        words = blocks.OfType<ParagraphBlock>().Single().Text;
        return blocks.OfType<TableBlock>().Single().Table.Rows.ToDictionary(row => row[0], row => row.ToArray());
    }

    private static decimal AmountIn(string cell) => decimal.Parse(string.Concat(cell.Where(letter => char.IsAsciiDigit(letter) || letter == '.')), CultureInfo.InvariantCulture);
}
