using PdfSharp.UniversalAccessibility;

namespace ConsultDesk.Reports.Pdf;

/// <summary>A part of the plan that is never split: a heading, a few lines, a table row, a figure.</summary>
internal sealed class Piece
{
    /// <summary>Height in points, without the space before it.</summary>
    public required double Height { get; init; }

    /// <summary>Draws it with its top at a height of the page.</summary>
    public required Action<PdfSheet, double> Draw { get; init; }

    /// <summary>Space above it, dropped at the top of a page.</summary>
    public double SpaceBefore { get; init; }

    /// <summary>Space below it that it needs of its own, dropped at the end of a page.</summary>
    public double SpaceAfter { get; set; }

    /// <summary>True when it may not be the last on a page.</summary>
    public bool KeepWithNext { get; set; }

    /// <summary>True when it begins a new page.</summary>
    public bool BreakBefore { get; init; }

    /// <summary>Structure elements that begin with it, the outermost first.</summary>
    public List<Action<StructureBuilder>> Opens { get; } = [];

    /// <summary>How many structure elements end with it.</summary>
    public int Closes { get; set; }

    /// <summary>Head of the table it is a row of: repeated above it at the top of a page. Null outside tables and for the head itself.</summary>
    public Piece? TableHead { get; init; }

    /// <summary>Draws it again as an artifact, for a repeated table head; null for all else.</summary>
    public Action<PdfSheet, double>? DrawAgain { get; init; }

    /// <summary>Titles of the bookmarks that lead here; of two columns, both.</summary>
    public IReadOnlyList<string> Bookmarks { get; init; } = [];

    /// <summary>Draws it with the structure elements that begin and end with it.</summary>
    public void DrawWithStructure(PdfSheet sheet, double top)
    {
        foreach (var open in Opens)
        {
            open(sheet.Structure);
        }

        Draw(sheet, top);
        for (var close = 0; close < Closes; close++)
        {
            sheet.Structure.End();
        }
    }
}
