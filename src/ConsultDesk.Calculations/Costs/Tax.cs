namespace ConsultDesk.Calculations.Costs;

/// <summary>The tax on sales a firm reckons with.</summary>
/// <param name="Name">What it is called, for example VAT; empty for none.</param>
/// <param name="Percent">Its rate, per cent of the price before tax, 0 or more.</param>
/// <param name="Included">True when prices have it in them.</param>
public sealed record Tax(string Name, double Percent, bool Included)
{
    /// <summary>No tax is spoken of.</summary>
    public static Tax None { get; } = new("", 0, Included: true);

    /// <summary>True when there is nothing to say.</summary>
    public bool IsNone => Name.Length == 0;

    /// <summary>A total by its parts: gross = net + tax, with tax = net × rate.</summary>
    /// <param name="total">The sum of prices, with or without tax as <see cref="Included"/> says; 0 or more.</param>
    /// <returns>Amounts rounded to hundredths, half away from zero; net and tax always add up to gross.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The total is below zero, or the rate is no finite number of 0 or more.</exception>
    public TaxedTotal Of(decimal total)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(total);
        if (!double.IsFinite(Percent) || Percent < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(total), Percent, "Expected a rate of 0 per cent or more.");
        }

        decimal rate = (decimal)Percent / 100m;
        decimal whole = decimal.Round(total, 2, MidpointRounding.AwayFromZero);
        if (Included)
        {
            decimal net = decimal.Round(whole / (1 + rate), 2, MidpointRounding.AwayFromZero);
            return new(net, whole - net, whole);
        }

        decimal added = decimal.Round(whole * rate, 2, MidpointRounding.AwayFromZero);
        return new(whole, added, whole + added);
    }
}

/// <summary>A total without tax, its tax, and both together, in the firm's currency.</summary>
/// <param name="Net">Without tax.</param>
/// <param name="Tax">The tax.</param>
/// <param name="Gross">With tax.</param>
public sealed record TaxedTotal(decimal Net, decimal Tax, decimal Gross);
