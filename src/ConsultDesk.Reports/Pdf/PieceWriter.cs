using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Fonts;
using ConsultDesk.Reports.Plans;
using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace ConsultDesk.Reports.Pdf;

/// <summary>How large the letters are and how close the lines.</summary>
internal enum Setting
{
    /// <summary>What is read.</summary>
    Usual,

    /// <summary>Columns of half the page, and what is looked up.</summary>
    Small,

    /// <summary>The page to act on where it would run over by a little; no letter is smaller than in a table.</summary>
    Tight,
}

/// <summary>Turns the blocks of a plan into pieces with known heights.</summary>
internal sealed class PieceWriter(PdfPalette palette, PrintableText printable, double left, double width, double pageHeight, Setting setting = Setting.Usual)
{
    /// <summary>Size of a table's words where many stand together: tables of words, long ones, those at the end.</summary>
    private const double SmallCellSize = 7.2;
    private const double UsualCellSize = 8;
    private const int ManyRows = 14;

    private const double CellPadding = 7;

    private readonly bool _small = setting != Setting.Usual;
    private readonly bool _tight = setting == Setting.Tight;

    private double CellSize { get; } = setting == Setting.Usual ? UsualCellSize : SmallCellSize;

    private double CellLeading => CellSize * 1.3;

    // In a column of half the page the words are smaller.
    private double BodySize { get; } = setting switch { Setting.Usual => 9.2, Setting.Small => 8.5, _ => 7.7 };

    private double BodyLeading { get; } = setting switch { Setting.Usual => 12.6, Setting.Small => 11.3, _ => 9.6 };

    // Space above a piece, as a share of the usual.
    private double Air => _tight ? 0.5 : 1;

    // A paragraph longer than this is cut, so that a page can always take a piece.
    private const int MostLinesOfAPiece = 30;

    private const double LegendMarkWidth = 20;

    // The letters of a chart, 10 units, stay above 6 points.
    private const double ChartScale = 0.65;

    // Space between two columns.
    private const double Gutter = 13;

    private readonly List<Piece> _pieces = [];
    private readonly List<DataTable> _later = [];

    public IReadOnlyList<Piece> Pieces => _pieces;

    private XColor Ink(Ink ink) => palette.Of(ink);

    /// <summary>Goes on below what another writer wrote.</summary>
    public void GoOnAfter(PieceWriter before)
    {
        _pieces.AddRange(before._pieces);
        _later.AddRange(before._later);
    }

    /// <summary>The title of the plan and the lines under it.</summary>
    public void Title(string title, params ReadOnlySpan<string> lines)
    {
        Lines(title, _tight ? 17 : 20, _tight ? 21 : 25, PdfBlockLevelElementTag.Heading1, bold: true, spaceBefore: 0, keepWithNext: true);
        foreach (var line in lines)
        {
            Lines(line, BodySize, BodyLeading, PdfBlockLevelElementTag.Paragraph, bold: false, spaceBefore: 1, ink: Figures.Ink.Muted);
        }
    }

    /// <summary>A section; the one after the page to act on first begins a new page.</summary>
    public void Section(PlanSection section, bool onNewPage)
    {
        var first = _pieces.Count;
        Heading(section.Heading, onNewPage);
        ImmutableArray<PlanBlock>[] rows = [.. section.Rows()];

        // What is looked up rather than read is set smaller.
        var fine = section.Id is PlanComposer.Assumed or PlanComposer.Sources ? new PieceWriter(palette, printable, left, width, pageHeight, Setting.Small) : null;
        for (var index = 0; index < rows.Length; index++)
        {
            var row = rows[index];
            if (row is [FindingBlock left] && index + 1 < rows.Length && rows[index + 1] is [FindingBlock right]
                && SideBySide(pageHeight / 3, column => column.Finding(left), column => column.Finding(right)))
            {
                index++;
            }
            else if (row.Length == 2)
            {
                SideBySide(row.Select<PlanBlock, Action<PieceWriter>>(block => column => column.Figure(((FigureBlock)block).Figure)).ToArray());
            }
            else
            {
                (fine ?? this).Block(row[0]);
            }

            _later.AddRange(row.OfType<FigureBlock>().Where(block => !block.WithTable).Select(block => block.Figure.Table));
        }

        _pieces.AddRange(fine?.Pieces ?? []);
        Wrap(first, structure => structure.BeginElement(PdfGroupingElementTag.Section));
    }

    /// <summary>The tables of the figures that were drawn without them, at the end: the letter before it is read in one go.</summary>
    public void FiguresInNumbers()
    {
        if (_later.Count == 0)
        {
            return;
        }

        var first = _pieces.Count;
        Heading(PlanComposer.FiguresInNumbers);
        // Wide ones first, so that narrow ones stand in pairs.
        DataTable[] narrow = [.. _later.Where(FitsHalf)];
        foreach (var table in _later.Except(narrow))
        {
            SmallTable(table, spaceBefore: 8);
        }

        foreach (var pair in narrow.OrderByDescending(table => table.Rows.Length).Chunk(2))
        {
            if (pair.Length == 2 && SideBySide(pageHeight / 2, [.. pair.Select<DataTable, Action<PieceWriter>>(table => column => column.Table(table, spaceBefore: 0))]))
            {
                continue;
            }

            foreach (var table in pair)
            {
                SmallTable(table, spaceBefore: 10);
            }
        }

        Wrap(first, structure => structure.BeginElement(PdfGroupingElementTag.Section));
    }

    private void Heading(string text, bool onNewPage = false) =>
        Lines(text, _tight ? 11 : _small ? 12 : 14, _tight ? 14 : _small ? 16 : 19, PdfBlockLevelElementTag.Heading2, bold: true, spaceBefore: 16, keepWithNext: true, ink: Figures.Ink.Accent, bookmark: text, breakBefore: onNewPage);

    // Half a page holds a table whose cells stand in one line each, but for the widest column, which may take two.
    private bool FitsHalf(DataTable table)
    {
        double[] columns =
        [
            .. table.Heads.Select((head, column) => CellPadding + Math.Max(
                TextLines.WidestWord(head, SmallCellSize, bold: true),
                table.Rows.Select(row => ReportFonts.Width(printable.Of(row[column]), SmallCellSize)).DefaultIfEmpty(0).Max())),
        ];
        return columns.Sum() - (columns.Max() / 3) <= (width - Gutter) / 2;
    }

    /// <summary>Two sections as two columns, where neither is longer than a third of a page.</summary>
    /// <returns>False when they do not fit; nothing was written.</returns>
    public bool Beside(PlanSection first, PlanSection second) =>
        SideBySide(pageHeight / 3, column => column.Section(first, onNewPage: false), column => column.Section(second, onNewPage: false));

    private void SideBySide(params Action<PieceWriter>[] columns) => SideBySide(double.PositiveInfinity, columns);

    /// <summary>Two columns that are never split.</summary>
    /// <returns>False when they are taller than allowed; nothing was written.</returns>
    private bool SideBySide(double tallest, params Action<PieceWriter>[] columns)
    {
        var columnWidth = (width - Gutter) / 2;
        var stacks = columns.Select((write, index) =>
        {
            var column = new PieceWriter(palette, printable, left + (index * (columnWidth + Gutter)), columnWidth, pageHeight, _tight ? Setting.Tight : Setting.Small);
            write(column);
            return column.Pieces;
        }).ToArray();
        var height = stacks.Max(HeightOf);
        if (height > tallest)
        {
            return false;
        }

        _pieces.Add(new Piece
        {
            Height = height,
            SpaceBefore = 10 * Air,
            Bookmarks = [.. stacks.SelectMany(stack => stack.SelectMany(piece => piece.Bookmarks))],
            Draw = (sheet, top) =>
            {
                foreach (var stack in stacks)
                {
                    var y = top;
                    foreach (var (index, piece) in stack.Index())
                    {
                        y += index == 0 ? 0 : piece.SpaceBefore;
                        piece.DrawWithStructure(sheet, y);
                        y += piece.Height;
                    }
                }
            },
        });

        return true;

        static double HeightOf(IReadOnlyList<Piece> pieces) => pieces.Sum(piece => piece.Height) + pieces.Skip(1).Sum(piece => piece.SpaceBefore);
    }

    private void Block(PlanBlock block)
    {
        switch (block)
        {
            case ParagraphBlock paragraph:
                // A sentence that announces what follows stays with it.
                Lines(paragraph.Text, BodySize, BodyLeading, PdfBlockLevelElementTag.Paragraph, bold: false, spaceBefore: 6, keepWithNext: paragraph.Text.EndsWith(':'));
                break;
            case ListBlock list:
                List(list);
                break;
            case NumbersBlock numbers:
                Numbers(numbers.Numbers);
                break;
            case TableBlock table:
                Table(table.Table, spaceBefore: 12);
                break;
            case FigureBlock { WithTable: true, Figure: { IsNarrow: true } narrow }:
                SideBySide(column => column.Figure(narrow), column => column.Table(narrow.Table, spaceBefore: 14));
                break;
            case FigureBlock figure:
                Figure(figure.Figure);
                if (figure.WithTable)
                {
                    _pieces[^1].KeepWithNext = true;
                    Table(figure.Figure.Table, spaceBefore: 8);
                }

                break;
            case FindingBlock finding:
                Finding(finding);
                break;
            case DangerBlock danger:
                Danger(danger);
                break;
            case PairsBlock pairs:
                Pairs(pairs);
                break;
            case ThingsBlock things:
                Things(things);
                break;
            default:
                throw new ArgumentException($"No layout for a {block.GetType().Name}.", nameof(block));
        }
    }

    // Opens an element with the first piece since an index and closes it with the last.
    private void Wrap(int first, Action<StructureBuilder> open)
    {
        if (first == _pieces.Count)
        {
            return;
        }

        _pieces[first].Opens.Insert(0, open);
        _pieces[^1].Closes++;
    }

    /// <summary>A heading or a paragraph.</summary>
    private void Lines(
        string text,
        double size,
        double leading,
        PdfBlockLevelElementTag tag,
        bool bold,
        double spaceBefore,
        bool keepWithNext = false,
        Ink ink = Figures.Ink.Text,
        string? bookmark = null,
        double indent = 0,
        Action<PdfSheet, double, double>? beside = null,
        bool breakBefore = false)
    {
        var lines = TextLines.Break(printable.Of(text), width - indent, size, bold);
        foreach (var chunk in lines.Chunk(MostLinesOfAPiece))
        {
            var height = chunk.Length * leading;
            var space = spaceBefore * Air;
            _pieces.Add(new Piece
            {
                Height = height,
                SpaceBefore = space,
                KeepWithNext = keepWithNext,
                BreakBefore = breakBefore,
                Bookmarks = bookmark is null ? [] : [PrintableText.Line(bookmark)],
                Draw = (sheet, top) =>
                {
                    if (beside is not null)
                    {
                        sheet.Artifact(() => beside(sheet, top, height));
                    }

                    sheet.Tagged(tag, () =>
                    {
                        for (var line = 0; line < chunk.Length; line++)
                        {
                            sheet.Text(Continued(chunk, line), left + indent, Baseline(top, line, size, leading), size, Ink(ink), bold);
                        }
                    });
                },
            });
            spaceBefore = 0;
            bookmark = null;
            breakBefore = false;
        }
    }

    // A space at the end of a line that goes on: a reader that joins the lines does not run two words together.
    private static string Continued(string[] lines, int line) => line < lines.Length - 1 ? lines[line] + " " : lines[line];

    private static double Baseline(double top, int line, double size, double leading) =>
        top + (line * leading) + ((leading - size) / 2) + (size * 0.82);

    private void List(ListBlock list)
    {
        const double Indent = 18;
        var first = _pieces.Count;
        for (var item = 0; item < list.Items.Length; item++)
        {
            var lines = TextLines.Break(printable.Of(list.Items[item]), width - Indent, BodySize).ToArray();
            var mark = list.Numbered ? (item + 1).ToString(CultureInfo.InvariantCulture) + "." : "–";
            _pieces.Add(new Piece
            {
                Height = lines.Length * BodyLeading,
                SpaceBefore = (item == 0 ? 6 : 4) * Air,
                Draw = (sheet, top) =>
                {
                    sheet.Structure.BeginElement(PdfBlockLevelElementTag.ListItem);
                    sheet.Tagged(PdfBlockLevelElementTag.Label, () => sheet.Text(mark + " ", left + 3, Baseline(top, 0, BodySize, BodyLeading), BodySize, Ink(Figures.Ink.Accent), bold: true));
                    sheet.Tagged(PdfBlockLevelElementTag.ListBody, () =>
                    {
                        for (var line = 0; line < lines.Length; line++)
                        {
                            sheet.Text(Continued(lines, line), left + Indent, Baseline(top, line, BodySize, BodyLeading), BodySize, Ink(Figures.Ink.Text));
                        }
                    });
                    sheet.Structure.End();
                },
            });
        }

        Wrap(first, structure => structure.BeginElement(PdfBlockLevelElementTag.List));
    }

    /// <summary>Labels with words beside them, a small one over the other.</summary>
    private void Pairs(PairsBlock pairs)
    {
        // A label beside half a page of words is a list to look things up in.
        const int ManyLetters = 400;
        var (size, leading) = pairs.Pairs.Any(pair => pair.Value.Length > ManyLetters) ? (7.4, 9.4) : _tight ? (7.6, 9.6) : (8.5, 11.0);
        var first = _pieces.Count;
        var labelWidth = Math.Min(width / 3, 10 + pairs.Pairs.Select(pair => ReportFonts.Width(printable.Of(pair.Label), size)).DefaultIfEmpty(0).Max());
        foreach (var pair in pairs.Pairs)
        {
            var label = TextLines.Break(printable.Of(pair.Label), labelWidth - 6, size).ToArray();
            var begins = true;
            foreach (var lines in TextLines.Break(printable.Of(pair.Value), width - labelWidth, size).Chunk(MostLinesOfAPiece))
            {
                var shown = begins ? label : [];
                _pieces.Add(new Piece
                {
                    Height = Math.Max(lines.Length, shown.Length) * leading,
                    SpaceBefore = begins ? 3 * Air : 0,
                    Draw = (sheet, top) =>
                    {
                        sheet.Structure.BeginElement(PdfBlockLevelElementTag.ListItem);
                        sheet.Tagged(PdfBlockLevelElementTag.ListBody, () =>
                        {
                            for (var line = 0; line < shown.Length; line++)
                            {
                                sheet.Text(shown[line] + " ", left, Baseline(top, line, size, leading), size, Ink(Figures.Ink.Muted));
                            }

                            for (var line = 0; line < lines.Length; line++)
                            {
                                sheet.Text(Continued(lines, line), left + labelWidth, Baseline(top, line, size, leading), size, Ink(Figures.Ink.Text));
                            }
                        });
                        sheet.Structure.End();
                    },
                });
                begins = false;
            }
        }

        Wrap(first, structure => structure.BeginElement(PdfBlockLevelElementTag.List));
    }

    /// <summary>The things to do: what in bold, then why, then who does it for how much.</summary>
    private void Things(ThingsBlock things)
    {
        const double Indent = 18;
        var (factSize, factLeading) = _tight ? (7.4, 9.4) : (Math.Min(8.5, BodySize), Math.Min(11.2, BodyLeading));
        var first = _pieces.Count;
        for (var index = 0; index < things.Things.Length; index++)
        {
            var thing = things.Things[index];
            var mark = (index + 1).ToString(CultureInfo.InvariantCulture) + ". ";
            var what = TextLines.Break(printable.Of(thing.What), width - Indent, BodySize, bold: true).ToArray();
            var why = TextLines.Break(printable.Of(thing.Why), width - Indent, factSize).ToArray();
            var facts = TextLines.Break(printable.Of(FactsOf(thing)), width - Indent, factSize, bold: true).ToArray();
            _pieces.Add(new Piece
            {
                Height = (what.Length * BodyLeading) + ((why.Length + facts.Length) * factLeading),
                SpaceBefore = (index == 0 ? 5 : 6) * Air,
                Draw = (sheet, top) =>
                {
                    sheet.Structure.BeginElement(PdfBlockLevelElementTag.ListItem);
                    sheet.Tagged(PdfBlockLevelElementTag.Label, () => sheet.Text(mark, left + 3, Baseline(top, 0, BodySize, BodyLeading), BodySize, Ink(Figures.Ink.Accent), bold: true));
                    sheet.Tagged(PdfBlockLevelElementTag.ListBody, () =>
                    {
                        Rows(sheet, what, top, BodySize, BodyLeading, Figures.Ink.Text, bold: true);
                        var below = top + (what.Length * BodyLeading);
                        Rows(sheet, why, below, factSize, factLeading, Figures.Ink.Text, bold: false);
                        Rows(sheet, facts, below + (why.Length * factLeading), factSize, factLeading, Figures.Ink.Muted, bold: true);
                    });
                    sheet.Structure.End();
                },
            });
        }

        Wrap(first, structure => structure.BeginElement(PdfBlockLevelElementTag.List));

        void Rows(PdfSheet sheet, string[] lines, double top, double size, double leading, Ink ink, bool bold)
        {
            for (var line = 0; line < lines.Length; line++)
            {
                sheet.Text(lines[line] + " ", left + Indent, Baseline(top, line, size, leading), size, Ink(ink), bold);
            }
        }

        static string FactsOf(PlanThing thing) =>
            $"Who: {thing.Who} · Price: {thing.Price}" + (thing.Hours is { Length: > 0 } hours ? " · Work: " + hours : "") + (thing.Order.Length > 0 ? " · " + thing.Order : "");
    }

    /// <summary>Headline numbers, four beside one another: the label above, the number below.</summary>
    private void Numbers(ImmutableArray<PlanNumber> numbers)
    {
        const int Columns = 4;
        const double LabelSize = 7.5;
        const double LabelLeading = 9.5;
        const double Gutter = 12;

        const double ValueSize = 12;
        var first = _pieces.Count;
        var columnWidth = (width - ((Columns - 1) * Gutter)) / Columns;
        foreach (var row in numbers.Chunk(Columns))
        {
            var labels = row.Select(number => TextLines.Break(printable.Of(number.Label), columnWidth, LabelSize).ToArray()).ToArray();
            var values = row.Select(number => TextLines.Break(printable.Of(number.Value), columnWidth, ValueSize, bold: true).ToArray()).ToArray();
            var labelHeight = labels.Max(lines => lines.Length) * LabelLeading;
            var height = labelHeight + (values.Max(lines => lines.Length) * (ValueSize + 3)) + 8;
            _pieces.Add(new Piece
            {
                Height = height,
                SpaceBefore = 8 * Air,
                Draw = (sheet, top) =>
                {
                    sheet.Artifact(() =>
                    {
                        for (var cell = 0; cell < row.Length; cell++)
                        {
                            var x = left + (cell * (columnWidth + Gutter));
                            sheet.Rule(x, top + 1, x + columnWidth, top + 1, Ink(Figures.Ink.Rule), 0.6);
                        }
                    });
                    for (var cell = 0; cell < row.Length; cell++)
                    {
                        var x = left + (cell * (columnWidth + Gutter));
                        var (label, value) = (labels[cell], values[cell]);
                        sheet.Structure.BeginElement(PdfBlockLevelElementTag.ListItem);
                        sheet.Tagged(PdfBlockLevelElementTag.ListBody, () =>
                        {
                            for (var line = 0; line < label.Length; line++)
                            {
                                sheet.Text(label[line] + " ", x, Baseline(top + 4, line, LabelSize, LabelLeading), LabelSize, Ink(Figures.Ink.Muted));
                            }

                            for (var line = 0; line < value.Length; line++)
                            {
                                sheet.Text(Continued(value, line), x, Baseline(top + 6 + labelHeight, line, ValueSize, ValueSize + 3), ValueSize, Ink(Figures.Ink.Text), bold: true);
                            }
                        });
                        sheet.Structure.End();
                    }
                },
            });
        }

        Wrap(first, structure => structure.BeginElement(PdfBlockLevelElementTag.List));
    }

    /// <summary>A finding or a caution: the graver, the heavier the bar beside it. The word says it too.</summary>
    private void Finding(FindingBlock finding, bool boxed = false)
    {
        const double Indent = 14;
        const double Space = 3;
        var bar = finding.Severity switch
        {
            Severity.Danger => 5.0,
            Severity.Warning => 3.5,
            Severity.Advice => 2.0,
            Severity.Note => 0.8,
            _ => throw new ArgumentOutOfRangeException(nameof(finding), finding.Severity, "Expected a severity."),
        };
        var ink = finding.Severity is Severity.Danger or Severity.Warning ? Figures.Ink.Text : Figures.Ink.Muted;
        void Bar(PdfSheet sheet, double top, double height)
        {
            if (boxed)
            {
                // Downwards only: what stands above is drawn already.
                Box(sheet, top, height, bar);
                return;
            }

            sheet.Fill(left, top - Space - 3, bar, height + Space + 4, Ink(ink));
        }

        var (size, leading) = boxed && !_small ? (8.7, 11.5) : (BodySize, BodyLeading);
        var first = _pieces.Count;
        Lines($"{PlanComposer.SeverityWord(finding.Severity)}: {finding.Title}", _small ? 9.5 : 10.5, _small ? 12.5 : 14, PdfBlockLevelElementTag.Heading3, bold: true, spaceBefore: boxed ? 8 : 12, keepWithNext: true, indent: Indent, beside: Bar);
        if (finding.Text.Length > 0)
        {
            Lines(finding.Text, size, leading, PdfBlockLevelElementTag.Paragraph, bold: false, spaceBefore: Space, indent: Indent, beside: Bar);
        }

        if (finding.Numbers.Length > 0)
        {
            // In a line: numbers beside one another take three times the room.
            _pieces[^1].KeepWithNext = true;
            var line = string.Join("; ", finding.Numbers.Select(number => $"{number.Label}: {number.Value}"));
            Lines(line, size - 0.7, leading - 1.1, PdfBlockLevelElementTag.Paragraph, bold: false, spaceBefore: Space, indent: Indent, beside: Bar);
        }

        if (finding.Remedy.Length > 0)
        {
            _pieces[^1].KeepWithNext = true;
            Lines("What to do: " + finding.Remedy, size, leading, PdfBlockLevelElementTag.Paragraph, bold: false, spaceBefore: Space, indent: Indent, beside: Bar);
        }

        Wrap(first, structure => structure.BeginElement(PdfGroupingElementTag.Division));
    }

    /// <summary>The dangers on a pale ground, with the reason why the plan is published all the same.</summary>
    private void Danger(DangerBlock danger)
    {
        const double Indent = 14;
        var first = _pieces.Count;
        foreach (var finding in danger.Dangers)
        {
            // Smaller letters on a ground of their own leave the page to what else there is to do.
            Finding(finding, boxed: true);
        }

        if (danger.Reason.Length > 0)
        {
            _pieces[^1].KeepWithNext = true;
            Lines(danger.Reason, BodySize, BodyLeading, PdfBlockLevelElementTag.Paragraph, bold: true, spaceBefore: 6, indent: Indent, beside: (sheet, top, height) => Box(sheet, top, height, 5));
        }

        // The box ends a little below its last line.
        _pieces[^1].SpaceAfter = 8;
        Wrap(first, structure => structure.BeginElement(PdfGroupingElementTag.Division));
    }

    private void Box(PdfSheet sheet, double top, double height, double bar)
    {
        const double Below = 8;
        sheet.Fill(left, top - 2, width, height + Below + 2, palette.Pale);
        sheet.Fill(left, top - 2, bar, height + Below + 2, Ink(Figures.Ink.Text));
    }

    private void Figure(Figure figure)
    {
        var title = _pieces.Count;
        Lines(figure.Title, 10.5, 14, PdfBlockLevelElementTag.Heading3, bold: true, spaceBefore: 14, keepWithNext: true);

        // At natural size where it fits, so that a drawing to scale keeps its scale on paper; all others a little smaller.
        var legend = LegendRows(figure.Legend);
        var tallest = pageHeight - (14 + (legend.Sum(row => row.Max(entry => entry.Lines.Length)) * CellLeading) + 24);
        var scale = Math.Min(
            figure.IsToScale || figure.IsNarrow ? PdfFigureDrawer.NaturalScale : ChartScale,
            Math.Min(width / figure.Width, tallest / figure.Height));
        var size = new XSize(figure.Width * scale, figure.Height * scale);
        var alt = PrintableText.Line(figure.AltText);
        var drawn = figure with { Elements = [.. figure.Elements.Select(element => element is Label label ? label with { Text = printable.InFigure(label.Text) } : element)] };
        _pieces.Add(new Piece
        {
            Height = size.Height,
            SpaceBefore = 4,
            KeepWithNext = legend.Count > 0,
            Draw = (sheet, top) =>
            {
                sheet.Structure.BeginElement(PdfIllustrationElementTag.Figure, alt, sheet.InPageSpace(left, top, size.Width, size.Height));
                new PdfFigureDrawer(sheet.Graphics, palette).Draw(drawn, left, top, scale);
                sheet.Structure.End();
            },
        });
        var firstOfLegend = _pieces.Count;
        foreach (var (row, index) in legend.Select((row, index) => (row, index)))
        {
            _pieces.Add(new Piece
            {
                Height = (row.Max(entry => entry.Lines.Length) * CellLeading) + 1,
                SpaceBefore = index == 0 ? 4 : 0,
                KeepWithNext = index < legend.Count - 1,
                Draw = (sheet, top) =>
                {
                    foreach (var (entry, lines, x) in row)
                    {
                        sheet.Artifact(() => LegendMarkAt(sheet, entry, left + x, top + 1.5));
                        sheet.Structure.BeginElement(PdfBlockLevelElementTag.ListItem);
                        sheet.Tagged(PdfBlockLevelElementTag.ListBody, () =>
                        {
                            for (var line = 0; line < lines.Length; line++)
                            {
                                sheet.Text(Continued(lines, line), left + x + LegendMarkWidth, Baseline(top, line, CellSize, CellLeading), CellSize, Ink(Figures.Ink.Muted));
                            }
                        });
                        sheet.Structure.End();
                    }
                },
            });
        }

        Wrap(firstOfLegend, structure => structure.BeginElement(PdfBlockLevelElementTag.List));
        Wrap(title, structure => structure.BeginElement(PdfGroupingElementTag.Division));
    }

    // Entries beside one another as far as they fit.
    private List<List<(LegendEntry Entry, string[] Lines, double X)>> LegendRows(ImmutableArray<LegendEntry> legend)
    {
        const double Gap = 16;
        var rows = new List<List<(LegendEntry, string[], double)>>();
        var x = double.PositiveInfinity;
        foreach (var entry in legend)
        {
            var lines = TextLines.Break(printable.Of(entry.Text), width - LegendMarkWidth, CellSize).ToArray();
            var entryWidth = LegendMarkWidth + lines.Max(line => ReportFonts.Width(line, CellSize));
            if (x + entryWidth > width)
            {
                rows.Add([]);
                x = 0;
            }

            rows[^1].Add((entry, lines, x));
            x += entryWidth + Gap;
        }

        return rows;
    }

    private void LegendMarkAt(PdfSheet sheet, LegendEntry entry, double x, double y)
    {
        FigureElement mark = entry.Mark switch
        {
            LegendMark.Area => new Box(2, 0, 14, 8) { Fill = entry.Ink, FillOpacity = entry.Opacity, Stroke = Figures.Ink.Rule, StrokeWidth = 0.5 },
            LegendMark.Line => new Polyline([new(0, 4), new(16, 4)]) { Stroke = entry.Ink, StrokeWidth = 1.6 },
            LegendMark.Dashed => new Polyline([new(0, 4), new(16, 4)]) { Stroke = entry.Ink, StrokeWidth = 1.3, Dashed = true },
            LegendMark.Arrow => new Arrow([new(0, 4), new(16, 4)], 7) { Stroke = entry.Ink, StrokeWidth = 1.6 },
            LegendMark.Dot => new Circle(9, 4, 3.6) { Fill = entry.Ink },
            LegendMark.Ring => new Circle(9, 4, 3.6) { Stroke = entry.Ink, StrokeWidth = 1.3 },
            LegendMark.DashedRing => new Circle(9, 4, 3.6) { Stroke = entry.Ink, StrokeWidth = 1, Dashed = true },
            LegendMark.Square => new Box(5, 0, 8, 8) { Stroke = entry.Ink, StrokeWidth = 1.3 },
            LegendMark.Thin => new Polyline([new(0, 4), new(16, 4)]) { Stroke = entry.Ink, StrokeWidth = 0.6 },
            LegendMark.Cross => new Polyline([new(4, 0), new(12, 8), new(8, 4), new(12, 0), new(4, 8)]) { Stroke = entry.Ink, StrokeWidth = 1.3 },
            LegendMark.Hatch => new Polyline([new(0, 8), new(5, 0), new(5, 8), new(10, 0), new(10, 8), new(15, 0)]) { Stroke = entry.Ink, StrokeWidth = 0.8 },
            _ => throw new ArgumentOutOfRangeException(nameof(entry), entry.Mark, "Expected a known mark."),
        };
        new PdfFigureDrawer(sheet.Graphics, palette).Draw(mark, x, y, 1);
    }

    private void SmallTable(DataTable table, double spaceBefore)
    {
        var writer = new PieceWriter(palette, printable, left, width, pageHeight, Setting.Small);
        writer.Table(table, spaceBefore);
        _pieces.AddRange(writer.Pieces);
    }

    private void Table(DataTable table, double spaceBefore)
    {
        if (table.Rows.Length == 0)
        {
            return;
        }

        if (!_small && (table.Wordy || table.Rows.Length > ManyRows))
        {
            SmallTable(table, spaceBefore);
            return;
        }

        var heads = table.Heads.Select(printable.Of).ToArray();
        var rows = table.Rows.Select(row => row.Select(cell => cell.Split('\n').Select(printable.Of).ToArray()).ToArray()).ToArray();
        var widths = ColumnWidths(heads, rows, table.Wordy ? table.NumberColumns : null);
        var lefts = new double[widths.Length];
        lefts[0] = left;
        for (var column = 1; column < widths.Length; column++)
        {
            lefts[column] = lefts[column - 1] + widths[column - 1];
        }

        var first = _pieces.Count;
        var caption = TextLines.Break(printable.Of(table.Caption), width, CellSize + 0.5, bold: true).ToArray();
        _pieces.Add(new Piece
        {
            Height = (caption.Length * CellLeading) + 3,
            SpaceBefore = spaceBefore * Air,
            KeepWithNext = true,
            Draw = (sheet, top) =>
            {
                // The library marks no content of a grouping element itself: a caption holds a paragraph.
                sheet.Structure.BeginElement(PdfGroupingElementTag.Caption);
                sheet.Tagged(PdfBlockLevelElementTag.Paragraph, () =>
                {
                    for (var line = 0; line < caption.Length; line++)
                    {
                        sheet.Text(Continued(caption, line), left, Baseline(top, line, CellSize + 0.5, CellLeading), CellSize + 0.5, Ink(Figures.Ink.Text), bold: true);
                    }
                });
                sheet.Structure.End();
            },
        });

        var headLines = heads.Select((head, column) => TextLines.Break(head, widths[column] - CellPadding, CellSize, bold: true).ToArray()).ToArray();
        var headHeight = (headLines.Max(lines => lines.Length) * CellLeading) + 4;
        void DrawHead(PdfSheet sheet, double top, bool tagged)
        {
            if (tagged)
            {
                sheet.Artifact(() => HeadRules(sheet, top));
                sheet.Structure.BeginElement(PdfBlockLevelElementTag.TableHeadRowGroup);
                sheet.Structure.BeginElement(PdfBlockLevelElementTag.TableRow);
            }
            else
            {
                HeadRules(sheet, top);
            }

            for (var column = 0; column < headLines.Length; column++)
            {
                if (tagged)
                {
                    sheet.Structure.BeginElement(PdfBlockLevelElementTag.TableHeaderCell);
                    sheet.HeadsA("Column");
                }

                Cell(sheet, headLines[column], lefts[column], widths[column], top + 1.5, table.NumberColumns.Contains(column), headLines[column].Length);
                if (tagged)
                {
                    sheet.Structure.End();
                }
            }

            if (tagged)
            {
                sheet.Structure.End();
                sheet.Structure.End();
            }
        }

        void HeadRules(PdfSheet sheet, double top)
        {
            sheet.Rule(left, top, left + width, top, Ink(Figures.Ink.Text), 0.9);
            sheet.Rule(left, top + headHeight, left + width, top + headHeight, Ink(Figures.Ink.Text), 0.5);
        }

        var head = new Piece
        {
            Height = headHeight,
            KeepWithNext = true,
            Draw = (sheet, top) => DrawHead(sheet, top, tagged: true),
            DrawAgain = (sheet, top) => sheet.Artifact(() => DrawHead(sheet, top, tagged: false)),
        };
        _pieces.Add(head);

        var firstRow = _pieces.Count;
        for (var row = 0; row < rows.Length; row++)
        {
            var cells = rows[row].Select((cell, column) => cell.SelectMany(part => TextLines.Break(part, widths[column] - CellPadding, CellSize)).ToArray()).ToArray();
            var headLinesOfRow = table.Wordy ? TextLines.Break(rows[row][0][0], widths[0] - CellPadding, CellSize).Length : 0;
            var height = (cells.Max(lines => lines.Length) * CellLeading) + (_tight ? 1.8 : _small ? 2.6 : 4);
            _pieces.Add(new Piece
            {
                Height = height,
                TableHead = head,

                // The last two rows stay together: one row alone on a page reads like a mistake.
                KeepWithNext = rows.Length > 2 && row == rows.Length - 2,
                Draw = (sheet, top) =>
                {
                    sheet.Artifact(() => sheet.Rule(left, top + height, left + width, top + height, Ink(Figures.Ink.Rule), 0.35));
                    sheet.Structure.BeginElement(PdfBlockLevelElementTag.TableRow);
                    for (var column = 0; column < cells.Length; column++)
                    {
                        sheet.Structure.BeginElement(column == 0 ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell);
                        if (column == 0)
                        {
                            sheet.HeadsA("Row");
                        }

                        Cell(sheet, cells[column], lefts[column], widths[column], top + 2, table.NumberColumns.Contains(column), column == 0 ? headLinesOfRow : 0);
                        sheet.Structure.End();
                    }

                    sheet.Structure.End();
                },
            });
        }

        Wrap(firstRow, structure => structure.BeginElement(PdfBlockLevelElementTag.TableBodyRowGroup));
        Wrap(first, structure => structure.BeginElement(PdfBlockLevelElementTag.Table));
    }

    private void Cell(PdfSheet sheet, string[] lines, double x, double cellWidth, double top, bool number, int boldLines)
    {
        for (var line = 0; line < lines.Length; line++)
        {
            // The joining space of a number's line would push it off its right edge.
            sheet.Text(
                number ? lines[line] : Continued(lines, line),
                x,
                Baseline(top, line, CellSize, CellLeading),
                CellSize,
                Ink(Figures.Ink.Text),
                line < boldLines,
                number ? x + cellWidth - CellPadding : null);
        }
    }

    /// <summary>
    /// Every column gets at least its widest word, as far as the page allows; what is left goes to the columns that
    /// would otherwise wrap, and then to all of them. In a table of words the columns of numbers take what they need and
    /// the others share the rest alike.
    /// </summary>
    private double[] ColumnWidths(string[] heads, string[][][] rows, ImmutableArray<int>? numbersAmongWords)
    {
        var columns = heads.Length;
        var least = new double[columns];
        var natural = new double[columns];
        for (var column = 0; column < columns; column++)
        {
            least[column] = TextLines.WidestWord(heads[column], CellSize, bold: true);
            // Where room is short a head may stand in two lines.
            natural[column] = least[column] * (_tight ? 1 : 1.6);
            foreach (var row in rows)
            {
                foreach (var line in row[column])
                {
                    least[column] = Math.Max(least[column], TextLines.WidestWord(line, CellSize));
                    natural[column] = Math.Max(natural[column], ReportFonts.Width(line, CellSize));
                }
            }

            least[column] = Math.Min(least[column], width / 3) + CellPadding;
            natural[column] = Math.Max(natural[column] + CellPadding, least[column]);
        }

        // Only a table of many wide words gets here; its words are cut.
        if (least.Sum() > width)
        {
            return [.. least.Select(column => column * width / least.Sum())];
        }

        if (numbersAmongWords is { } numbers)
        {
            var words = columns - numbers.Length;
            var rest = width - numbers.Sum(column => least[column]);
            double[] shared = [.. least.Select((column, index) => numbers.Contains(index) ? column : rest / words)];
            if (shared.Zip(least).All(pair => pair.First >= pair.Second))
            {
                return shared;
            }
        }

        if (natural.Sum() <= width)
        {
            var spare = (width - natural.Sum()) / columns;
            return [.. natural.Select(column => column + spare)];
        }

        var wanted = natural.Zip(least, (want, have) => want - have).ToArray();
        var share = (width - least.Sum()) / wanted.Sum();
        return [.. least.Zip(wanted, (have, want) => have + (want * share))];
    }
}
