using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>Compares two assessed options.</summary>
public partial class ComparePanel
{
    private readonly string _id = Ids.Next();
    private bool _onlyDifferences = true;

    [CascadingParameter]
    public required DisplayUnits Units { get; set; }

    /// <summary>The option it is held against.</summary>
    [Parameter, EditorRequired]
    public required AssessedDesign First { get; set; }

    /// <summary>The option being edited.</summary>
    [Parameter, EditorRequired]
    public required AssessedDesign Second { get; set; }

    /// <summary>Letter of the first.</summary>
    [Parameter, EditorRequired]
    public required string FirstName { get; set; }

    /// <summary>Letter of the second.</summary>
    [Parameter, EditorRequired]
    public required string SecondName { get; set; }

    private IReadOnlyList<InputDifference> Inputs { get; set; } = [];

    protected override void OnParametersSet() => Inputs = DifferenceWords.Of(First.Design, Second.Design, Units);

    private List<NumberRow> NumberRows() =>
    [
        .. Numbers(First).Zip(Numbers(Second), Row)
            .Where(row => row is not { First: "–", Second: "–" } && (!_onlyDifferences || row.First != row.Second)),
    ];

    private static IEnumerable<Headline> Numbers(AssessedDesign side) =>
        [.. Headlines.Of(side.Design, side.Assessment), .. Headlines.OfYear(side.Design, side.Assessment)];

    private List<FindingRow> FindingRows()
    {
        static Finding? Of(AssessedDesign side, string code) => side.Assessment.Findings.FirstOrDefault(finding => finding.Code == code);
        return
        [
            .. First.Assessment.Findings.Concat(Second.Assessment.Findings)
                .OrderBy(finding => finding.Severity)
                .DistinctBy(finding => finding.Code)
                .Select(finding => new FindingRow(finding.Title, Word(Of(First, finding.Code)), Word(Of(Second, finding.Code))))
                .Where(row => !_onlyDifferences || row.InFirst != row.InSecond),
        ];
    }

    private NumberRow Row(Headline first, Headline second)
    {
        var (textFirst, textSecond) = (Headlines.Text(first, Units), Headlines.Text(second, Units));
        return new(first.Key, first.Label, textFirst, textSecond, Verdict(first, second, textFirst == textSecond));
    }

    // What reads the same is the same: a difference behind the last digit shown is none to act on.
    private static string Verdict(Headline first, Headline second, bool readsTheSame)
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

    private sealed record NumberRow(string Key, string Label, string First, string Second, string Verdict);

    private sealed record FindingRow(string Title, string? InFirst, string? InSecond);
}
