using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>An assessed option that another is held against.</summary>
/// <param name="Name">Its letter.</param>
/// <param name="Result">Design and assessment.</param>
/// <param name="Reason">Why there is this option; empty when nobody said.</param>
public sealed record ComparedSide(string Name, AssessedDesign Result, string Reason = "");

/// <summary>Compares the option being edited with up to three others.</summary>
public partial class ComparePanel
{
    /// <summary>How many options another may be held against.</summary>
    public const int MostOthers = 3;

    private readonly string _id = Ids.Next();
    private bool _onlyDifferences = true;

    [CascadingParameter]
    public required DisplayUnits Units { get; set; }

    /// <summary>The options it is held against, one to three.</summary>
    [Parameter, EditorRequired]
    public required IReadOnlyList<ComparedSide> Others { get; set; }

    /// <summary>The option being edited.</summary>
    [Parameter, EditorRequired]
    public required AssessedDesign Second { get; set; }

    /// <summary>Letter of the option being edited.</summary>
    [Parameter, EditorRequired]
    public required string SecondName { get; set; }

    /// <summary>Why there is the option being edited; empty when nobody said.</summary>
    [Parameter]
    public string SecondReason { get; set; } = "";

    private List<(string Name, string Reason)> Reasons =>
        [.. Others.Select(other => (other.Name, other.Reason)).Append((Name: SecondName, Reason: SecondReason)).Where(one => one.Reason.Length > 0)];

    private string Names => Others.Count == 1
        ? Others[0].Name
        : $"{string.Join(", ", Others.Take(Others.Count - 1).Select(other => other.Name))} and {Others[^1].Name}";

    private List<NumberRow> NumberRows()
    {
        var second = Numbers(Second).ToList();
        var others = Others.Select(other => Numbers(other.Result).ToList()).ToList();
        return
        [
            .. second.Select((number, index) => Row([.. others.Select(numbers => numbers[index])], number))
                .Where(row => (row.Second != DataTable.Nothing || row.Firsts.Any(first => first != DataTable.Nothing))
                    && (!_onlyDifferences || row.Firsts.Any(first => first != row.Second))),
        ];
    }

    private static IEnumerable<Headline> Numbers(AssessedDesign side) =>
        [.. Headlines.Of(side.Design, side.Assessment), .. Headlines.OfYear(side.Design, side.Assessment)];

    private List<SideRow> FindingRows()
    {
        AssessedDesign[] sides = [.. Others.Select(other => other.Result), Second];
        return
        [
            .. sides.SelectMany(side => side.Assessment.Findings)
                .OrderBy(finding => finding.Severity)
                .DistinctBy(finding => finding.Code)
                .Select(finding => new SideRow(
                    finding.Title,
                    [.. sides.Select(side => Word(side.Assessment.Findings.FirstOrDefault(own => own.Code == finding.Code)) ?? DataTable.Nothing)]))
                .Where(row => !_onlyDifferences || row.Cells.Distinct().Count() > 1),
        ];
    }

    // Where an option differs in an input, those that do not have what the edited one has.
    private List<SideRow> InputRows()
    {
        var differences = Others.Select(other => DifferenceWords.Of(other.Result.Design, Second.Design, Units)).ToList();
        return
        [
            .. differences.SelectMany(list => list).DistinctBy(difference => difference.Field).Select(difference => new SideRow(
                difference.Field,
                [.. differences.Select(list => list.FirstOrDefault(own => own.Field == difference.Field)?.First ?? difference.Second), difference.Second])),
        ];
    }

    private NumberRow Row(IReadOnlyList<Headline> firsts, Headline second)
    {
        var text = Headlines.Text(second, Units);
        string[] texts = [.. firsts.Select(first => Headlines.Text(first, Units))];
        return new(second.Key, second.Label, texts, text, [.. firsts.Zip(texts, (first, own) => Verdict(first, second, own == text))]);
    }

    /// <summary>
    /// Which way the second number is: better or worse where one way is. What reads the same is the same: a difference
    /// behind the last digit shown is none to act on.
    /// </summary>
    internal static string Verdict(Headline first, Headline second, bool readsTheSame)
    {
        if (readsTheSame)
        {
            return "the same";
        }

        if (first.Value is not { } a || second.Value is not { } b)
        {
            return "";
        }

        var higher = Amount(b) > Amount(a);
        return (first.Better, higher) switch
        {
            (Better.Lower, true) or (Better.Higher, false) => "worse",
            (Better.Lower, false) or (Better.Higher, true) => "better",
            (_, true) => "higher",
            (_, false) => "lower",
        };
    }

    // Both are of one kind, so one unit serves.
    private static double Amount(IQuantity quantity) => quantity.As(quantity.QuantityInfo.BaseUnitInfo.Value);

    private static string? Word(Finding? finding) => finding is null ? null : Words.Of(finding.Severity).ToLowerInvariant();

    private sealed record NumberRow(string Key, string Label, IReadOnlyList<string> Firsts, string Second, IReadOnlyList<string> Verdicts);

    private sealed record SideRow(string Label, IReadOnlyList<string> Cells);
}
