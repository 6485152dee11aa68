using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Reports.Figures;

namespace ConsultDesk.Reports.Plans;

/// <summary>What differs from the revision before: inputs, parts, numbers, things to do.</summary>
internal sealed class ChangesSince(PlanRequest request, PlanBefore before, ImmutableArray<PlanNumber> headline, ImmutableArray<PlanThing> things)
{
    /// <summary>Most lines of the short list; the whole list has a section of its own.</summary>
    public const int MostShort = 4;

    // A list nobody reads to its end.
    private const int MostInputs = 40;

    /// <summary>Numbers that changed.</summary>
    public ImmutableArray<(string Label, string Was, string Now)> Numbers { get; } = Changed(before.Headline, headline);

    /// <summary>Heading of the section.</summary>
    public string Heading => string.Create(CultureInfo.InvariantCulture, $"What changed since revision {before.Revision}");

    /// <summary>The short list for the first page.</summary>
    public IEnumerable<string> Short()
    {
        if (before.OptionName != request.OptionName)
        {
            yield return $"The option: {request.OptionName} instead of {before.OptionName}";
        }

        foreach (var change in before.Changes.Take(MostShort))
        {
            yield return change;
        }

        if (before.Changes.Length > MostShort)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{before.Changes.Length - MostShort} more inputs; all of them stand under “{Heading}”");
        }
        else if (before.Changes.IsEmpty)
        {
            yield return "Nothing in the van";
        }

        if (Numbers.Length > 0)
        {
            yield return "The numbers: " + string.Join("; ", Numbers.Take(MostShort).Select(number => $"{ScoreFigure.Lower(number.Label)} {number.Now}, was {number.Was}"));
        }
    }

    /// <summary>The blocks of the section.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        yield return new ParagraphBlock(string.Create(CultureInfo.InvariantCulture, $"Against revision {before.Revision} of {before.PublishedAt:d MMMM yyyy}, option {before.OptionName}."));
        yield return new PairsBlock(
        [
            .. before.OptionName == request.OptionName ? [] : new[] { new PlanNumber("Option", $"{request.OptionName} instead of {before.OptionName}") },
            new("Inputs", Listed([.. before.Changes.Take(MostInputs)], before.Changes.Length - MostInputs)),
            .. before.Parts is { } parts && request.Cost is { } cost ? PartsChanged(parts, cost) : [],
            .. before.Things is { } was ? ThingsChanged(was) : [],
        ]);
        if (Numbers.Length > 0)
        {
            yield return new TableBlock(new DataTable
            {
                Caption = "Numbers that changed",
                Heads = ["What", "Was", "Now"],
                NumberColumns = [1, 2],
                Rows = [.. Numbers.Select(number => ImmutableArray.Create(number.Label, number.Was, number.Now))],
            });
        }
        else if (!before.Headline.IsEmpty)
        {
            yield return new ParagraphBlock("None of the main numbers changed.");
        }
    }

    private static ImmutableArray<(string Label, string Was, string Now)> Changed(ImmutableArray<PlanNumber> old, ImmutableArray<PlanNumber> now)
    {
        var was = old.DistinctBy(number => number.Label).ToDictionary(number => number.Label, number => number.Value);
        return [.. now.Where(number => was.TryGetValue(number.Label, out var value) && value != number.Value).Select(number => (number.Label, was[number.Label], number.Value))];
    }

    private static IEnumerable<PlanNumber> PartsChanged(ImmutableArray<string> old, PlanCost cost)
    {
        string[] now = [.. PartsList.Names(cost.Sheet)];
        yield return new("Parts", Differences(old, now, "now in", "no longer in", "none added, none left out"));
    }

    private IEnumerable<PlanNumber> ThingsChanged(ImmutableArray<string> old)
    {
        string[] now = [.. things.Select(thing => thing.What)];
        yield return new("Things to do", Differences(old, now, "new", "gone", "the same"));
    }

    private static string Differences(ImmutableArray<string> old, string[] now, string added, string gone, string none)
    {
        string[] words =
        [
            .. now.Except(old).ToArray() is { Length: > 0 } more ? [$"{added}: {Joined(more)}"] : Array.Empty<string>(),
            .. old.Except(now).ToArray() is { Length: > 0 } less ? [$"{gone}: {Joined(less)}"] : Array.Empty<string>(),
        ];
        return words.Length == 0 ? none : string.Join("; ", words);

        static string Joined(string[] names) => string.Join(", ", names.Select(name => name.TrimEnd('.')));
    }

    private static string Listed(ImmutableArray<string> lines, int more) => lines.IsEmpty
        ? "nothing in the van"
        : string.Join("; ", lines) + (more > 0 ? string.Create(CultureInfo.InvariantCulture, $"; and {more} more") : "");
}
