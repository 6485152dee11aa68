using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Plans;

namespace ConsultDesk.Web.Consultancy;

/// <summary>What is typed and chosen about the firm.</summary>
internal sealed class FirmForm
{
    /// <summary>Name on plans.</summary>
    public string? Name { get; set; }

    /// <summary>Line of contact on plans.</summary>
    public string? ContactLine { get; set; }

    /// <summary>Colour on plans, <c>#rrggbb</c>.</summary>
    public string? BrandColour { get; set; }

    /// <summary>Code of the currency.</summary>
    public string? Currency { get; set; }

    /// <summary>Paper of plans.</summary>
    public PaperSize Paper { get; set; }

    /// <summary>Address clients answer to.</summary>
    public string? AnswerAddress { get; set; }

    /// <summary>Limits of advice and terms.</summary>
    public string? Terms { get; set; }

    /// <summary>What the tax on sales is called.</summary>
    public string? TaxName { get; set; }

    /// <summary>Its rate as it is typed, per cent; blank is none.</summary>
    public string? TaxPercent { get; set; }

    /// <summary>True when the prices of the book have it in them.</summary>
    public bool PricesIncludeTax { get; set; } = true;

    /// <summary>Preset with the single choices.</summary>
    public DisplayUnits Units { get; set; } = DisplayUnits.Metric;

    /// <summary>Preset the units started from.</summary>
    public UnitPreset Preset => Enum.Parse<UnitPreset>(Units.Name);

    /// <summary>The colour, when it can be read.</summary>
    public BrandColour? Colour => BrandColour?.Trim() is ['#', .. var hex] ? Plans.BrandColour.Read(hex) : null;

    /// <summary>As the records take it.</summary>
    public FirmInput Input() => new(Name ?? "", BrandColour?.Trim() ?? "", ContactLine, (Currency ?? "").Trim().ToUpperInvariant(), Preset, Units.Choices)
    {
        Paper = Paper,
        AnswerAddress = AnswerAddress,
        Terms = Terms,
        TaxName = TaxName,
        TaxPercent = Rate,
        PricesIncludeTax = PricesIncludeTax,
    };

    // What is no number is none of the rates the records take, so they refuse it with their own words.
    private double Rate => string.IsNullOrWhiteSpace(TaxPercent)
        ? 0
        : double.TryParse(TaxPercent.Trim().TrimEnd('%').TrimEnd().Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var rate)
            ? rate
            : double.NaN;

    /// <summary>The firm as it is stored.</summary>
    /// <param name="firm">The firm.</param>
    /// <param name="trouble">Why its unit choices cannot be read; null when they can.</param>
    public static FirmForm Of(Firm firm, out string? trouble)
    {
        trouble = null;
        var form = new FirmForm
        {
            Name = firm.Name,
            ContactLine = firm.ContactLine,
            BrandColour = firm.BrandColour,
            Currency = firm.Currency,
            Paper = firm.Paper,
            AnswerAddress = firm.Email,
            Terms = firm.Terms,
            TaxName = firm.TaxName,
            TaxPercent = firm.TaxName.Length == 0 && firm.TaxPercent == 0 ? "" : firm.TaxPercent.ToString(CultureInfo.InvariantCulture),
            PricesIncludeTax = firm.PricesIncludeTax,
            Units = FirmUnits.Preset(firm.Units),
        };
        try
        {
            form.Units = firm.DisplayUnits();
        }
        catch (FormatException e)
        {
            // This page is the way out, so it opens all the same and says what it found.
            trouble = $"The stored choices of units cannot be read, so the preset is shown. {e.Message}";
        }

        return form;
    }
}
