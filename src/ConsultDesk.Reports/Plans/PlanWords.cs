using ConsultDesk.Reports.Figures;

namespace ConsultDesk.Reports.Plans;

/// <summary>What a plan says, as one text: to look words up in, and characters a font may lack.</summary>
public static class PlanWords
{
    /// <summary>Every text a reader sees in these sections.</summary>
    public static string Of(IEnumerable<PlanSection> sections) => string.Join('\n', sections.SelectMany(section => section.Blocks.SelectMany(Of).Prepend(section.Heading)));

    private static IEnumerable<string> Of(PlanBlock block) => block switch
    {
        ParagraphBlock paragraph => [paragraph.Text],
        ListBlock list => list.Items,
        NumbersBlock numbers => numbers.Numbers.SelectMany(Of),
        PairsBlock pairs => pairs.Pairs.SelectMany(Of),
        TableBlock table => Of(table.Table),
        FigureBlock { Figure: var figure } => Of(figure.Table).Concat(figure.Elements.OfType<Label>().Select(label => label.Text)).Append(figure.Title).Append(figure.AltText),
        ThingsBlock things => things.Things.SelectMany(thing => new[] { thing.What, thing.Why, thing.Who, thing.Price, thing.Order, thing.Hours ?? "" }),
        FindingBlock finding => finding.Numbers.SelectMany(Of).Concat([finding.Title, finding.Text, finding.Remedy]),
        DangerBlock danger => danger.Dangers.SelectMany(Of).Append(danger.Reason),
        _ => throw new InvalidOperationException($"No words of a {block.GetType().Name}."),
    };

    private static IEnumerable<string> Of(PlanNumber number) => [number.Label, number.Value];

    private static IEnumerable<string> Of(DataTable table) => table.Rows.SelectMany(row => row).Concat(table.Heads).Append(table.Caption);
}
