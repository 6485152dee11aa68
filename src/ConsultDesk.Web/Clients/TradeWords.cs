using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Clients;

/// <summary>The words the new-van form uses for choices of the calculation.</summary>
internal static class TradeWords
{
    public static (string Name, string Text) Of(Layout layout) => layout switch
    {
        Layout.RearPlatformBed => ("Platform bed at the rear", "Lengthways, storage under it"),
        Layout.FixedBedAcross => ("Fixed bed across the rear", "High, a garage under it"),
        Layout.FrontLounge => ("Lounge behind the cab", "Becomes the bed, galley at the rear"),
        _ => throw new ArgumentOutOfRangeException(nameof(layout), layout, "Expected one of the three layouts."),
    };

    public static string Of(CookingFuel fuel) => fuel switch
    {
        CookingFuel.None => "Nobody cooks in the van",
        CookingFuel.Electric => "Electric",
        CookingFuel.Gas => "Gas flame",
        _ => throw new ArgumentOutOfRangeException(nameof(fuel), fuel, "Expected none, electric or gas."),
    };

    public static string Of(CookingHabit habit) => habit switch
    {
        CookingHabit.Light => "Lids on, short meals",
        CookingHabit.Everyday => "One cooked meal a day",
        CookingHabit.Heavy => "Pasta, stews, kettle all day",
        _ => throw new ArgumentOutOfRangeException(nameof(habit), habit, "Expected light, everyday or heavy."),
    };

    /// <summary>Codes of the countries with a name here, in the order of the names.</summary>
    public static IReadOnlyList<string> Countries { get; } =
        [.. new[] { "AT", "AU", "BE", "CA", "CH", "CL", "DE", "DK", "ES", "FI", "FR", "GB", "GR", "IE", "IS", "IT", "JP", "MX", "NL", "NO", "NZ", "PL", "PT", "SE", "TR", "US", "ZA" }.OrderBy(Country, StringComparer.Ordinal)];

    /// <summary>Name of a country of the climate table; its code when the table has grown and this list has not.</summary>
    public static string Country(string code) => code switch
    {
        "AT" => "Austria",
        "AU" => "Australia",
        "BE" => "Belgium",
        "CA" => "Canada",
        "CH" => "Switzerland",
        "CL" => "Chile",
        "DE" => "Germany",
        "DK" => "Denmark",
        "ES" => "Spain",
        "FI" => "Finland",
        "FR" => "France",
        "GB" => "United Kingdom",
        "GR" => "Greece",
        "IE" => "Ireland",
        "IS" => "Iceland",
        "IT" => "Italy",
        "JP" => "Japan",
        "MX" => "Mexico",
        "NL" => "Netherlands",
        "NO" => "Norway",
        "NZ" => "New Zealand",
        "PL" => "Poland",
        "PT" => "Portugal",
        "SE" => "Sweden",
        "TR" => "Türkiye",
        "US" => "United States",
        "ZA" => "South Africa",
        _ => code,
    };
}
