using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>The facts a plan rests on, told by their origin: never written by hand, so that none can be left out.</summary>
internal sealed class InputWords(Design design, DisplayUnits units)
{
    private static readonly ImmutableArray<string> PlaceWords = ["from the windscreen", "from the left wall", "from the floor"];

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

    /// <summary>
    /// The assumed ones, a group of the form a line; those with one name in one place. What belongs to one part stands
    /// together under its name, which is not said again with each of its facts.
    /// </summary>
    public ImmutableArray<PlanNumber> Assumed()
    {
        var names = PartNames();
        return
        [
            .. _facts.Where(fact => fact.Origin == Origin.Assumed)
                .GroupBy(fact => fact.Group)
                .Select(group => new PlanNumber(group.Key, string.Join(".\n", Lines([.. group], names)))),
        ];
    }

    private IEnumerable<string> Lines(List<InputFact> facts, Dictionary<string, string> names)
    {
        string NameOf(InputFact fact) => names.GetValueOrDefault(PartOf(fact.Path), "");
        foreach (var part in facts.GroupBy(NameOf))
        {
            if (part.Key.Length == 0)
            {
                yield return Listed(part);
            }
            else if (part.Any(fact => fact.Value is not bool))
            {
                yield return $"{part.Key}: {OfPart(part, part.Key)}";
            }
        }

        // What is yes or no of each part is said once for all of them.
        var asked = facts.Where(fact => fact.Value is bool && NameOf(fact).Length > 0)
            .GroupBy(fact => Without(fact.Label, NameOf(fact)))
            .Select(question =>
            {
                string[] yes = [.. question.Where(fact => fact.Value is true).Select(NameOf)];
                string[] no = [.. question.Where(fact => fact.Value is false).Select(NameOf)];
                var answer = yes.Length == 0 ? "none" : no.Length == 0 ? "all" : yes.Length <= no.Length ? "only " + string.Join(", ", yes) : "all but " + string.Join(", ", no);
                return $"{question.Key}: {answer}";
            })
            .ToList();
        if (asked.Count > 0)
        {
            yield return "Which of them " + string.Join("; ", asked);
        }
    }

    private string Listed(IEnumerable<InputFact> facts) =>
        string.Join("; ", facts.GroupBy(fact => fact.Label).Select(same => $"{same.Key}: {string.Join(", ", same.Select(Value).Distinct())}"));

    private string OfPart(IEnumerable<InputFact> facts, string name)
    {
        var all = facts.Where(fact => fact.Value is not bool).ToList();
        var place = all.Where(fact => PlaceWords.Any(words => fact.Label == name + ", centre " + words)).ToList();
        string[] said =
        [
            .. all.Except(place).Select(fact => $"{Without(fact.Label, name)} {Value(fact)}"),
            .. place.Count == 0
                ? Array.Empty<string>()
                : ["centre " + string.Join(", ", place.Select(fact => $"{Value(fact)} {fact.Label[(name.Length + ", centre ".Length)..]}"))],
        ];

        // A list this long may break anywhere.
        return string.Join("; ", said).Replace('\u00A0', ' ');
    }

    /// <summary>A fact's label in a list that stands under the part's name.</summary>
    private static string Without(string label, string name)
    {
        var kind = $"What {name} is";
        var left = label == kind ? "kind"
            : label.StartsWith(name + ", ", StringComparison.Ordinal) ? label[(name.Length + 2)..]
            : label.StartsWith(name + " ", StringComparison.Ordinal) ? label[(name.Length + 1)..]
            : label.EndsWith(" of " + name, StringComparison.Ordinal) ? label[..^(name.Length + 4)]
            : label.Replace(" of " + name, "", StringComparison.Ordinal).Replace(name, "it", StringComparison.Ordinal);
        return ScoreFigure.Lower(left);
    }

    private static string PartOf(string path) => path.IndexOf(']', StringComparison.Ordinal) is > 0 and var end ? path[..(end + 1)] : path;

    private Dictionary<string, string> PartNames() => new(
        design.Openings.Select(opening => ($"openings[{opening.Id}]", opening.Name))
            .Concat(design.Zones.Select(zone => ($"zones[{zone.Id}]", zone.Name)))
            .Concat(design.Passages.Select(passage => ($"passages[{passage.Id}]", passage.Name)))
            .Concat(design.Glazings.Select(glazing => ($"glazings[{glazing.Id}]", glazing.Name)))
            .Concat(design.CirculationFans.Select(fan => ($"circulationFans[{fan.Id}]", fan.Name)))
            .Concat(design.Dryers.Select(dryer => ($"dryers[{dryer.Id}]", dryer.Name)))
            .Select(part => KeyValuePair.Create(part.Item1, part.Item2)),
        StringComparer.Ordinal);

    private string Value(InputFact fact) => FactWords.Of(fact.Value, fact.Path, design, units);
}
