using System.Globalization;
using ConsultDesk.Records;

namespace ConsultDesk.Web.AfterBuild;

/// <summary>The form about a first winter: its fields, what was typed, and what is wrong with it.</summary>
public sealed class WinterReport
{
    /// <summary>Names of its fields.</summary>
    public static IReadOnlyList<string> Fields { get; } = ["WetMornings", "Fuel", "FuelUnit", "FuelPer", "Warmth", "Mould", "Rust", "Where", "Fog", "Words", "Name"];

    private readonly Dictionary<string, string> _typed = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);

    /// <summary>True when something is wrong with it.</summary>
    public bool IsRefused => _errors.Count > 0;

    /// <summary>Who reports.</summary>
    public string? Name => Typed("Name");

    /// <summary>What was typed or chosen in a field.</summary>
    public string? Typed(string field) => _typed.GetValueOrDefault(field);

    /// <summary>What is wrong with a field.</summary>
    public string? Error(string field) => _errors.GetValueOrDefault(field);

    /// <summary>Units of fuel in words.</summary>
    public static string Of(ReportedFuelUnit unit) => unit switch
    {
        ReportedFuelUnit.Litres => "L",
        ReportedFuelUnit.Kilograms => "kg",
        ReportedFuelUnit.Gallons => "gal",
        ReportedFuelUnit.Pounds => "lb",
        ReportedFuelUnit.KilowattHours => "kWh",
        _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, "Expected a unit of fuel."),
    };

    /// <summary>Warmth in words.</summary>
    public static string Of(ReportedWarmth warmth) => warmth switch
    {
        ReportedWarmth.Always => "Always",
        ReportedWarmth.Mostly => "Mostly",
        ReportedWarmth.OftenNot => "Often not",
        _ => throw new ArgumentOutOfRangeException(nameof(warmth), warmth, "Expected a warmth."),
    };

    /// <summary>Fog in words.</summary>
    public static string Of(ReportedFog fog) => fog switch
    {
        ReportedFog.Never => "Never",
        ReportedFog.Sometimes => "Sometimes",
        ReportedFog.EveryTime => "Every time",
        _ => throw new ArgumentOutOfRangeException(nameof(fog), fog, "Expected how often it fogs up."),
    };

    /// <summary>Takes what a browser sent.</summary>
    public void Take(IFormCollection form)
    {
        _errors.Clear();
        foreach (var field in Fields)
        {
            _typed[field] = form[field].ToString().ReplaceLineEndings("\n");
        }
    }

    /// <summary>Takes what the records refused.</summary>
    public void Refuse(InvalidInputException refused)
    {
        foreach (var error in refused.Errors)
        {
            _errors.TryAdd(error.Field, error.Message);
        }
    }

    /// <summary>The answers; null when a number cannot be read, which is then said at its field.</summary>
    public CheckBackAnswers? Read()
    {
        var answers = new CheckBackAnswers
        {
            WetMornings = Whole("WetMornings"),
            Fuel = Number("Fuel"),
            FuelUnit = Choice<ReportedFuelUnit>("FuelUnit") ?? default,
            FuelAWeek = Typed("FuelPer") == "week",
            Warmth = Choice<ReportedWarmth>("Warmth"),
            Mould = YesNo("Mould"),
            Rust = YesNo("Rust"),
            Where = Typed("Where") ?? "",
            Fog = Choice<ReportedFog>("Fog"),
            Words = Typed("Words") ?? "",
        };
        return IsRefused ? null : answers;
    }

    private bool? YesNo(string field) => Typed(field) switch { "yes" => true, "no" => false, _ => null };

    private T? Choice<T>(string field)
        where T : struct, Enum => Enum.TryParse<T>(Typed(field), out var value) && Enum.IsDefined(value) ? value : null;

    private int? Whole(string field)
    {
        if (string.IsNullOrWhiteSpace(Typed(field)))
        {
            return null;
        }

        if (int.TryParse(Typed(field), NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var value))
        {
            return value;
        }

        _errors[field] = "Expected a whole number, 0 to 10.";
        return null;
    }

    private double? Number(string field)
    {
        if (string.IsNullOrWhiteSpace(Typed(field)))
        {
            return null;
        }

        // A comma is the decimal mark of many; both marks at once could mean anything.
        var text = Typed(field)!.Trim();
        if (text.Count(c => c is '.' or ',') <= 1
            && double.TryParse(text.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value))
        {
            return value;
        }

        _errors[field] = FormattableString.Invariant($"Expected a number above 0, up to {CheckBackAnswers.MostFuel}.");
        return null;
    }
}
