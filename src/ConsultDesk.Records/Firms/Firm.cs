namespace ConsultDesk.Records;

/// <summary>Units a firm's screens start with; stored values are SI whatever is chosen.</summary>
public enum UnitPreset
{
    /// <summary>Metres, degrees Celsius, litres per second.</summary>
    Metric,

    /// <summary>Feet, degrees Fahrenheit, cubic feet per minute.</summary>
    Imperial,
}

/// <summary>The consultancy.</summary>
public sealed class Firm : IVersioned
{
    /// <summary>Highest rate of tax that is taken, per cent. No country's tax on sales comes near it: our judgement.</summary>
    public const double HighestTaxPercent = 50;

    /// <summary>Key; the FirmId of all its rows.</summary>
    public Guid Id { get; set; }

    /// <summary>Name on plans.</summary>
    public required string Name { get; set; }

    /// <summary>Colour on plans, <c>#rrggbb</c> in lower case.</summary>
    public required string BrandColour { get; set; }

    /// <summary>One line of contact on plans; may be empty.</summary>
    public required string ContactLine { get; set; }

    /// <summary>Currency code of ISO 4217, three capital letters.</summary>
    public required string Currency { get; set; }

    /// <summary>Units screens start with.</summary>
    public required UnitPreset Units { get; set; }

    /// <summary>
    /// Units that differ from the preset, <c>measure=symbol</c> with semicolons between; empty for none.
    /// </summary>
    public string UnitChoices { get; set; } = "";

    /// <summary>Paper of its plans.</summary>
    public PaperSize Paper { get; set; }

    /// <summary>Address clients answer to; empty for none.</summary>
    public string Email { get; set; } = "";

    /// <summary>Limits of advice and terms, printed in each plan; may be empty.</summary>
    public string Terms { get; set; } = "";

    /// <summary>What the tax on sales is called, for example VAT; empty for none.</summary>
    public string TaxName { get; set; } = "";

    /// <summary>Rate of that tax, per cent, 0 to <see cref="HighestTaxPercent"/>.</summary>
    public double TaxPercent { get; set; }

    /// <summary>True when the prices of the book have the tax in them.</summary>
    public bool PricesIncludeTax { get; set; } = true;

    /// <inheritdoc/>
    public Guid Version { get; set; }
}
