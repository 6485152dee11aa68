using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Costs;

/// <summary>What fuel, gas and electricity cost by a price book. Where a book has several items of a kind the first one counts.</summary>
public static class RunningPrices
{
    /// <summary>The item a heater's fuel is priced by; null without a heater, or where the book has none.</summary>
    public static PriceItem? OfHeater(PriceBook book, HeaterKind heater) => heater switch
    {
        HeaterKind.None => null,
        HeaterKind.RoomSealedLiquidFuel or HeaterKind.Hydronic => Of(book, PriceKind.LiquidFuel),
        HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas => Of(book, PriceKind.BottledGas),
        HeaterKind.WoodStove => Of(book, PriceKind.Firewood),
        HeaterKind.Electric => Of(book, PriceKind.Electricity),
        _ => throw new ArgumentOutOfRangeException(nameof(heater), heater, "Expected a kind of heater."),
    };

    /// <summary>The item of a kind; null where the book has none.</summary>
    public static PriceItem? Of(PriceBook book, PriceKind kind)
    {
        ArgumentNullException.ThrowIfNull(book);
        return book.Items.FirstOrDefault(item => item.Kind == kind);
    }

    /// <summary>What a mass of fuel costs, in the book's currency: liquid fuel by its volume, gas and wood by their mass.</summary>
    /// <exception cref="ArgumentException">The item is not priced by volume or mass.</exception>
    public static decimal Cost(PriceItem item, Mass fuel)
    {
        ArgumentNullException.ThrowIfNull(item);
        return item.Unit switch
        {
            PriceUnit.Litre => item.Price * (decimal)(1000 * fuel.Kilograms / Assumptions.Likely["liquid-fuel-density"]),
            PriceUnit.Kilogram => item.Price * (decimal)fuel.Kilograms,
            _ => throw new ArgumentException($"Expected a price for a litre or a kilogram; {item.Key} is priced for {Choices.Name(item.Unit)}.", nameof(item)),
        };
    }

    /// <summary>What an amount of electricity costs, in the book's currency.</summary>
    /// <exception cref="ArgumentException">The item is not priced by the kilowatt-hour.</exception>
    public static decimal Cost(PriceItem item, Energy electricity)
    {
        ArgumentNullException.ThrowIfNull(item);
        return item.Unit == PriceUnit.KilowattHour
            ? item.Price * (decimal)electricity.KilowattHours
            : throw new ArgumentException($"Expected a price for a kilowatt-hour; {item.Key} is priced for {Choices.Name(item.Unit)}.", nameof(item));
    }
}
