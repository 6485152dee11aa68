using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>The facts a plan rests on, told by their origin: never written by hand, so that none can be left out.</summary>
internal sealed class InputWords(Design design, DisplayUnits units)
{
    private const string NotKnown = "not known";

    private readonly ImmutableArray<InputFact> _facts = InputCatalogue.Of(design);

    /// <summary>How many are measured, told and assumed.</summary>
    public string Counts()
    {
        int Number(Origin origin) => _facts.Count(fact => fact.Origin == origin);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"This plan rests on {_facts.Length} facts about van, people and route: {Number(Origin.Measured)} measured, {Number(Origin.Told)} told by you, {Number(Origin.Assumed)} assumed. ")
            + "What is proposed is a choice and not counted. The assumed ones follow; if one is wrong, tell us: the plan changes with it.";
    }

    /// <summary>The assumed ones, a group of the form a line; those with one name in one place.</summary>
    public ImmutableArray<PlanNumber> Assumed() =>
    [
        .. _facts.Where(fact => fact.Origin == Origin.Assumed)
            .GroupBy(fact => fact.Group)
            .Select(group => new PlanNumber(
                group.Key,
                string.Join("; ", group.GroupBy(fact => fact.Label).Select(same => $"{same.Key}: {string.Join(", ", same.Select(Value).Distinct())}")))),
    ];

    private string Value(InputFact fact) => fact.Value switch
    {
        null => NotKnown,
        IQuantity quantity => MeasureOf(fact.Path) is { } measure ? units.Format(measure, quantity)
            : quantity is Angle angle ? angle.Degrees.ToString("0.0", CultureInfo.InvariantCulture) + "°"
            : units.Format(quantity),
        bool yes => yes ? "yes" : "no",
        int month when fact.Path.EndsWith(".month", StringComparison.Ordinal) => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month),
        string key when fact.Path.EndsWith(".placeKey", StringComparison.Ordinal) => DesignPlaces.Contains(design, key) ? DesignPlaces.Get(design, key).Name : key,
        string { Length: 0 } => NotKnown,
        string text => text,
        Enum choice => Spaced(choice.ToString()),
        IFormattable number => number.ToString("0.###", CultureInfo.InvariantCulture),
        var other => throw new InvalidOperationException($"No words for a {other.GetType().Name} of {fact.Path}."),
    };

    private static Measure? MeasureOf(string path) => path[(path.LastIndexOf('.') + 1)..] switch
    {
        "altitudeM" or "elevationM" or "heaterRatedAltitudeM" => Measure.Altitude,
        "vapourEquivalentThicknessM" => Measure.VapourEquivalentThickness,
        "electricDrawW" => Measure.ElectricPower,
        _ => null,
    };

    /// <summary>The name of a choice as words: <c>RoomSealedGas</c> is room sealed gas.</summary>
    private static string Spaced(string name)
    {
        var words = new StringBuilder();
        foreach (var letter in name)
        {
            words.Append(char.IsUpper(letter) && words.Length > 0 ? " " : "").Append(char.ToLowerInvariant(letter));
        }

        return words.ToString();
    }
}
