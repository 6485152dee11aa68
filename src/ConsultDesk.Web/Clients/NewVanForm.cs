using System.Globalization;
using System.Text.Json;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace;

namespace ConsultDesk.Web.Clients;

/// <summary>What is typed to start a van: text as typed, so that nothing is lost while something is wrong.</summary>
public sealed class NewVanForm
{
    /// <summary>Name the option a van starts with is stored under.</summary>
    public const string OptionName = "The client's own idea";

    /// <summary>Name of a new client; not asked when the van is for a known one.</summary>
    public string? ClientName { get; set; }

    /// <summary>The client's e-mail address.</summary>
    public string? Email { get; set; }

    /// <summary>What the client calls the van.</summary>
    public string? VanName { get; set; }

    /// <summary>Key of the body class.</summary>
    public string? BodyClass { get; set; }

    /// <summary>Name of the <see cref="Calculations.Vehicle.Layout"/>.</summary>
    public string? Layout { get; set; }

    /// <summary>Key of the place in the climate table.</summary>
    public string? Place { get; set; }

    /// <summary>Month of the stop.</summary>
    public string? Month { get; set; }

    /// <summary>People who sleep in the van.</summary>
    public string? Sleepers { get; set; } = Presets.DefaultHousehold.Sleepers.ToString(CultureInfo.InvariantCulture);

    /// <summary>Name of the <see cref="Calculations.Vehicle.CookingFuel"/>.</summary>
    public string? CookingFuel { get; set; } = Presets.DefaultHousehold.CookingFuel.ToString();

    /// <summary>Name of the <see cref="Calculations.Vehicle.CookingHabit"/>.</summary>
    public string? CookingHabit { get; set; } = Presets.DefaultHousehold.CookingHabit.ToString();

    /// <summary>Name of the <see cref="Calculations.Vehicle.BuildStage"/>.</summary>
    public string? BuildStage { get; set; } = nameof(Calculations.Vehicle.BuildStage.Unknown);

    /// <summary>Name of the <see cref="SteelCondition"/>.</summary>
    public string? Steel { get; set; } = nameof(SteelCondition.Unknown);

    /// <summary>Code of the country whose codes are cited; empty for the country of the stop.</summary>
    public string? Country { get; set; }

    /// <summary>What is wrong, by field; empty when the van can be made.</summary>
    /// <param name="withClient">True when the client is new too.</param>
    public IReadOnlyDictionary<string, string> Errors(bool withClient)
    {
        var errors = new Dictionary<string, string>(StringComparer.Ordinal);
        void Expect(bool right, string field, string expected)
        {
            if (!right)
            {
                errors[field] = expected;
            }
        }

        if (withClient)
        {
            Expect(IsName(ClientName), nameof(ClientName), $"Expected a name of 1 to {TextLimits.Name} characters.");
            Expect(string.IsNullOrWhiteSpace(Email) || LooksLikeAddress(Email.Trim()), nameof(Email), "Expected an address such as name@example.org, or nothing.");
        }

        Expect(IsName(VanName), nameof(VanName), $"Expected a name of 1 to {TextLimits.Name} characters.");
        Expect(BodyClasses.All.Any(b => b.Key == BodyClass), nameof(BodyClass), "Expected one of the body classes.");
        Expect(Enum.TryParse<Layout>(Layout, out _), nameof(Layout), "Expected one of the layouts.");
        Expect(Place is not null && ClimateTable.Contains(Place), nameof(Place), "Expected one of the places.");
        Expect(TryMonth(out _), nameof(Month), "Expected a month.");
        Expect(TrySleepers(out _), nameof(Sleepers), SleepersExpected);
        Expect(Enum.TryParse<CookingFuel>(CookingFuel, out _), nameof(CookingFuel), "Expected what food is cooked with.");
        Expect(Enum.TryParse<CookingHabit>(CookingHabit, out _), nameof(CookingHabit), "Expected how much is cooked.");
        Expect(Enum.TryParse<BuildStage>(BuildStage, out _), nameof(BuildStage), "Expected how far the conversion has come.");
        Expect(Enum.TryParse<SteelCondition>(Steel, out _), nameof(Steel), "Expected how the steel looks.");
        Expect(string.IsNullOrEmpty(Country) || TradeWords.Countries.Contains(Country), nameof(Country), "Expected one of the countries.");
        return errors;
    }

    /// <summary>The range of <see cref="Sleepers"/> in words.</summary>
    public static string SleepersExpected { get; } =
        string.Create(CultureInfo.InvariantCulture, $"Expected a whole number from {DesignLimits.Sleepers.Minimum:0} to {DesignLimits.Sleepers.Maximum:0}.");

    /// <summary>What the records are told about the client.</summary>
    public ClientInput Client() => new(ClientName!, string.IsNullOrWhiteSpace(Email) ? null : Email);

    /// <summary>What the records are told about the van.</summary>
    public VanInput Van() => new(VanName!, BodyClass!, JsonNamingPolicy.KebabCaseLower.ConvertName(Layout!));

    /// <summary>The design the van starts with. Call only when <see cref="Errors"/> is empty.</summary>
    public Design OptionA()
    {
        TryMonth(out var month);
        TrySleepers(out var sleepers);
        var household = new Household { Sleepers = sleepers, CookingFuel = Enum.Parse<CookingFuel>(CookingFuel!), CookingHabit = Enum.Parse<CookingHabit>(CookingHabit!) };
        var design = Presets.Start(BodyClass!, Enum.Parse<Layout>(Layout!), household, Presets.StopAt(Place!, month), Enum.Parse<BuildStage>(BuildStage!));
        design = design with
        {
            Country = string.IsNullOrEmpty(Country) ? null : Country,
            Equipment = design.Equipment with { Steel = Enum.Parse<SteelCondition>(Steel!) },
        };

        // What was entered is told; what the form had filled in and nobody changed stays assumed, like all the preset adds.
        var usual = Presets.DefaultHousehold;
        (bool Entered, string Path)[] entered =
        [
            (true, "stop.placeKey"),
            (true, "stop.month"),
            (household.Sleepers != usual.Sleepers, "household.sleepers"),
            (household.CookingFuel != usual.CookingFuel, "household.cookingFuel"),
            (household.CookingHabit != usual.CookingHabit, "household.cookingHabit"),
            (design.BuildStage != Calculations.Vehicle.BuildStage.Unknown, "buildStage"),
            (design.Country is not null, "country"),
            (design.Equipment.Steel != SteelCondition.Unknown, "equipment.steel"),
        ];
        return entered.Where(value => value.Entered).Aggregate(design, (told, value) => FactOrigins.With(told, value.Path, Origin.Told));
    }

    /// <summary>The month when one is chosen.</summary>
    public bool TryMonth(out int month) =>
        int.TryParse(Month, NumberStyles.None, CultureInfo.InvariantCulture, out month) && DesignLimits.Month.Contains(month);

    private bool TrySleepers(out int sleepers) =>
        int.TryParse(Sleepers?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out sleepers) && DesignLimits.Sleepers.Contains(sleepers);

    private static bool IsName(string? text) => text?.Trim() is { Length: > 0 and <= TextLimits.Name };

    private static bool LooksLikeAddress(string text) =>
        text.Length <= TextLimits.Email && !text.Any(char.IsWhiteSpace) && text.IndexOf('@') is > 0 and var at && at < text.Length - 1 && text.LastIndexOf('@') == at;
}
