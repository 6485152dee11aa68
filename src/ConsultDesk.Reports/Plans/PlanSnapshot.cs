using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Figures;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// One published revision of a plan: all it needs to be shown again for ever, already in the reader's units and words.
/// The page and the PDF are two renderings of its sections, so they cannot differ.
/// </summary>
public sealed record PlanSnapshot
{
    /// <summary>Format of the stored text.</summary>
    public required int Format { get; init; }

    /// <summary>Who advises.</summary>
    public required FirmBrand Firm { get; init; }

    /// <summary>Who is advised.</summary>
    public required string ClientName { get; init; }

    /// <summary>The van's name.</summary>
    public required string VanName { get; init; }

    /// <summary>Letter and name of the option, for example <c>B, second vent at the bed</c>.</summary>
    public required string OptionName { get; init; }

    /// <summary>Revision, from 1.</summary>
    public required int Revision { get; init; }

    /// <summary>When it was published, UTC.</summary>
    public required DateTime PublishedAt { get; init; }

    /// <summary>Version of the calculation method.</summary>
    public required string MethodVersion { get; init; }

    /// <summary>The design as it was stored, so that the plan can be calculated again.</summary>
    public required string DesignText { get; init; }

    /// <summary>What the reader sees, in order.</summary>
    public required ImmutableArray<PlanSection> Sections { get; init; }

    /// <summary>The firm's logo as it was when the plan was published; null without one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public PlanPicture? Logo { get; init; }

    /// <summary>The numbers the next revision is told apart by; empty in formats before the third.</summary>
    public ImmutableArray<PlanNumber> Headline { get; init; } = [];
}

/// <summary>A picture kept with the plan.</summary>
/// <param name="Png">The picture, PNG.</param>
/// <param name="Width">Width, pixels.</param>
/// <param name="Height">Height, pixels.</param>
public sealed record PlanPicture(byte[] Png, int Width, int Height);

/// <summary>Name, colour and contact of the firm.</summary>
/// <param name="Name">Name of the firm.</param>
/// <param name="ColourHex">Brand colour as <c>#rrggbb</c>.</param>
/// <param name="Contact">One line of contact.</param>
public sealed record FirmBrand(string Name, string ColourHex, string Contact)
{
    /// <summary>Paper the PDF is laid out for; plans of the formats before the fourth are A4.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public PlanPaper Paper { get; init; }

    /// <summary>Address clients answer to; empty for none.</summary>
    public string Email { get; init; } = "";

    /// <summary>Limits of advice and terms in the firm's own words; may be empty.</summary>
    public string Terms { get; init; } = "";
}

/// <summary>Paper of a plan.</summary>
public enum PlanPaper
{
    /// <summary>ISO 216 A4, 210 by 297 mm.</summary>
    A4,

    /// <summary>US Letter, 8.5 by 11 in.</summary>
    Letter,
}

/// <summary>
/// The sheet a section is read on. On the web each is a page of its own under the plan's link, so that the plan itself
/// stays light; the PDF holds all of them.
/// </summary>
public enum PlanSheet
{
    /// <summary>The plan itself.</summary>
    Plan,

    /// <summary>What the workshop needs: parts, cut sheet, order of build.</summary>
    Build,

    /// <summary>What is looked up rather than read: what was assumed, sources, the words of the trade.</summary>
    Basis,

    /// <summary>The card for the van's door, half a page.</summary>
    Card,
}

/// <summary>A section of the plan.</summary>
public sealed record PlanSection(string Id, string Heading, ImmutableArray<PlanBlock> Blocks)
{
    /// <summary>The sheet it stands on.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public PlanSheet Sheet { get; init; }

    /// <summary>The blocks as they are set: two narrow figures that follow one another stand side by side, all else alone.</summary>
    public IEnumerable<ImmutableArray<PlanBlock>> Rows()
    {
        for (var index = 0; index < Blocks.Length; index++)
        {
            if (IsHalf(index) && IsHalf(index + 1))
            {
                yield return [Blocks[index], Blocks[index + 1]];
                index++;
            }
            else
            {
                yield return [Blocks[index]];
            }
        }
    }

    private bool IsHalf(int index) => index < Blocks.Length && Blocks[index] is FigureBlock { WithTable: false, Figure.IsNarrow: true };
}

/// <summary>A block of a section.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(ParagraphBlock), "paragraph")]
[JsonDerivedType(typeof(ListBlock), "list")]
[JsonDerivedType(typeof(TableBlock), "table")]
[JsonDerivedType(typeof(FigureBlock), "figure")]
[JsonDerivedType(typeof(FindingBlock), "finding")]
[JsonDerivedType(typeof(NumbersBlock), "numbers")]
[JsonDerivedType(typeof(DangerBlock), "danger")]
[JsonDerivedType(typeof(PairsBlock), "pairs")]
[JsonDerivedType(typeof(ThingsBlock), "things")]
public abstract record PlanBlock;

/// <summary>A paragraph.</summary>
public sealed record ParagraphBlock(string Text) : PlanBlock;

/// <summary>A list.</summary>
public sealed record ListBlock(ImmutableArray<string> Items, bool Numbered) : PlanBlock;

/// <summary>A table.</summary>
public sealed record TableBlock(DataTable Table) : PlanBlock;

/// <summary>A figure.</summary>
/// <param name="Figure">The drawing with all that belongs to it.</param>
/// <param name="WithTable">True when its table is read with it; otherwise the page folds it away and paper prints it at the end.</param>
public sealed record FigureBlock(Figure Figure, bool WithTable = false) : PlanBlock
{
    /// <summary>What a phone shows in place of the figure, or null when the figure serves there too. Never printed.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public Figure? Narrow { get; init; }
}

/// <summary>A finding with its numbers and remedy, or a caution.</summary>
public sealed record FindingBlock(Severity Severity, string Title, string Text, ImmutableArray<PlanNumber> Numbers, string Remedy) : PlanBlock;

/// <summary>The box of dangers on the first page: nothing stands before it but the greeting.</summary>
/// <param name="Dangers">Each danger in full.</param>
/// <param name="Reason">That and why the plan is published all the same, in the consultant’s words; empty when nobody gave a reason.</param>
public sealed record DangerBlock(ImmutableArray<FindingBlock> Dangers, string Reason) : PlanBlock;

/// <summary>Headline numbers side by side.</summary>
public sealed record NumbersBlock(ImmutableArray<PlanNumber> Numbers) : PlanBlock;

/// <summary>A number with its label, formatted.</summary>
public sealed record PlanNumber(string Label, string Value);

/// <summary>What was said or is wanted: a label and words beside it, a line each.</summary>
public sealed record PairsBlock(ImmutableArray<PlanNumber> Pairs) : PlanBlock;

/// <summary>The things to do, in the order they are done.</summary>
public sealed record ThingsBlock(ImmutableArray<PlanThing> Things) : PlanBlock;

/// <summary>One thing to do.</summary>
/// <param name="What">What to do.</param>
/// <param name="Why">Why, in one line.</param>
/// <param name="Who">Who does it.</param>
/// <param name="Price">What it costs, or that it has no price.</param>
/// <param name="Order">That it comes before the walls close; empty where it may wait.</param>
public sealed record PlanThing(string What, string Why, string Who, string Price, string Order)
{
    /// <summary>How long it takes; empty in the formats before the fourth.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Hours { get; init; }
}
