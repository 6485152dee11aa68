using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.UniversalAccessibility;

namespace ConsultDesk.Reports.Pdf;

/// <summary>A plan as a PDF file.</summary>
/// <param name="Bytes">The file.</param>
/// <param name="Pages">How many pages it has.</param>
/// <param name="Unprintable">Characters the fonts lack; each is printed as its code point in brackets.</param>
public sealed record PlanDocument(byte[] Bytes, int Pages, ImmutableArray<string> Unprintable);

/// <summary>
/// Renders a plan as a tagged document on the firm's paper. It holds no wording of its own but the running head and foot, so that page
/// and paper cannot differ.
/// </summary>
public static class PlanPdf
{
    private const string Language = "en";

    /// <summary>Writes a plan to a stream.</summary>
    public static PlanDocument Write(PlanSnapshot snapshot, Stream stream)
    {
        var document = Write(snapshot);
        stream.Write(document.Bytes);
        return document;
    }

    /// <summary>Renders a plan.</summary>
    public static PlanDocument Write(PlanSnapshot snapshot)
    {
        var palette = new PdfPalette(snapshot.Firm.ColourHex);
        var printable = new PrintableText();
        var title = Title(snapshot);
        var paper = PdfPaper.Of(snapshot.Firm.Paper);
        var sections = snapshot.Sections.RemoveAll(section => section.Sheet == PlanSheet.Card);

        // The page to act on ends with the things to do; in the formats before those it was the first section.
        var acting = 1 + Math.Max(0, sections.ToList().FindIndex(section => section.Id == PlanComposer.ToDo));
        var writer = WriterOn(paper);
        writer.GoOnAfter(ToActOn());
        foreach (var (index, section) in sections.Skip(acting).Index())
        {
            writer.Section(section, onNewPage: index == 0);
        }

        writer.FiguresInNumbers();

        // The first pass finds the pages, so that the second can say how many there are.
        List<(PdfPaper Paper, List<Placed> Pieces)> pages = [.. Paginate(writer.Pieces, paper).Select(page => (paper, page))];

        // The card is cut off and hung up: it has a sheet of its own, after everything that is read.
        foreach (var section in snapshot.Sections.Where(section => section.Sheet == PlanSheet.Card))
        {
            var half = paper.Half();
            var card = WriterOn(half, Setting.Small);
            card.Section(section, onNewPage: false);
            pages.AddRange(Paginate(card.Pieces, half).Select(page => (half, page)));
        }

        using var file = new MemoryStream();
        using (var document = new PdfDocument())
        {
            document.Options.CompressContentStreams = false;
            document.Info.Title = PrintableText.Line(title);
            document.Info.Author = PrintableText.Line(snapshot.Firm.Name);
            document.Info.Creator = "ConsultDesk";
            document.Info.CreationDate = snapshot.PublishedAt;
            document.ViewerPreferences.DisplayDocTitle = true;
            document.PageMode = PdfPageMode.UseOutlines;
            var accessibility = UAManager.ForDocument(document);
            accessibility.SetDocumentLanguage(Language);
            var sheet = new PdfSheet(document, accessibility.StructureBuilder, palette);
            var frame = new Frame(snapshot, title, printable, pages.Count);
            foreach (var (index, page) in pages.Index())
            {
                sheet.BeginPage(page.Paper);
                frame.Draw(sheet, page.Paper, index);
                foreach (var placed in page.Pieces)
                {
                    Draw(document, sheet, page.Paper, placed);
                }
            }

            sheet.EndPage();
            document.Save(file);
        }

        var bytes = XmpUpdate.Append(file.ToArray(), PrintableText.Line(title), PrintableText.Line(snapshot.Firm.Name), Language, snapshot.PublishedAt);
        return new PlanDocument(bytes, pages.Count, printable.Missing);

        PieceWriter WriterOn(PdfPaper on, Setting setting = Setting.Usual) => new(palette, printable, on.Left, on.TextWidth, on.Bottom - on.Top, setting);

        // What is to be acted on stands on one page, in smaller letters where it must; what no letter can hold flows on.
        PieceWriter ToActOn()
        {
            var tries = new[] { Setting.Usual, Setting.Small, Setting.Tight }.Select(setting =>
            {
                var on = WriterOn(paper, setting);
                on.Title(title, $"For {snapshot.ClientName} · option {snapshot.OptionName} · {Edition(snapshot)}");
                Write(sections.Take(acting).ToList(), on);
                return on;
            }).ToList();
            return tries.FirstOrDefault(on => Paginate(on.Pieces, paper).Count == 1) ?? tries[0];
        }
    }

    /// <summary>Characters of a plan that the fonts lack: they would be printed as their code points in brackets.</summary>
    public static ImmutableArray<string> Unprintable(PlanSnapshot snapshot)
    {
        var firm = snapshot.Firm;
        return Unprintable(string.Join('\n', firm.Name, firm.Contact, snapshot.ClientName, snapshot.VanName, snapshot.OptionName, PlanWords.Of(snapshot.Sections)));
    }

    /// <summary>Characters of a text that the fonts lack.</summary>
    public static ImmutableArray<string> Unprintable(string text)
    {
        var printable = new PrintableText();
        printable.Of(text);
        return printable.Missing;
    }

    private static void Write(List<PlanSection> sections, PieceWriter writer)
    {
        for (var index = 0; index < sections.Count; index++)
        {
            if (sections[index].Id == PlanComposer.Wanted && index + 1 < sections.Count && sections[index + 1].Id == PlanComposer.Own
                && writer.Beside(sections[index], sections[index + 1]))
            {
                index++;
                continue;
            }

            writer.Section(sections[index], onNewPage: false);
        }
    }

    /// <summary>Title of the document.</summary>
    internal static string Title(PlanSnapshot snapshot) => $"{snapshot.VanName}: plan for air, damp and heat";

    private static string Edition(PlanSnapshot snapshot) => string.Create(
        CultureInfo.InvariantCulture,
        $"Revision {snapshot.Revision}, {snapshot.PublishedAt:d MMMM yyyy}");

    private static void Draw(PdfDocument document, PdfSheet sheet, PdfPaper paper, Placed placed)
    {
        if (placed.Again)
        {
            placed.Piece.DrawAgain!(sheet, placed.Top);
            return;
        }

        foreach (var bookmark in placed.Piece.Bookmarks)
        {
            document.Outlines.Add(new PdfOutline(bookmark, sheet.Page, opened: true)
            {
                PageDestinationType = PdfPageDestinationType.Xyz,
                Left = paper.Left,
                Top = paper.Height - placed.Top + 6,
            });
        }

        placed.Piece.DrawWithStructure(sheet, placed.Top);
    }

    private static List<List<Placed>> Paginate(IReadOnlyList<Piece> pieces, PdfPaper paper)
    {
        List<List<Placed>> pages = [[]];
        var y = paper.FirstTop;
        for (var index = 0; index < pieces.Count;)
        {
            // Pieces that must stay together are placed together; longer than a page, they are placed one by one.
            var end = index;
            while (pieces[end].KeepWithNext && end + 1 < pieces.Count)
            {
                end++;
            }

            var group = HeightOf(pieces, index, end, atTop: pages[^1].Count == 0);
            // What begins a new page does so once: where the page before it has run over, there is nothing to keep whole.
            if ((y + group > paper.Bottom || (pieces[index].BreakBefore && pages.Count == 1)) && pages[^1].Count > 0)
            {
                NewPage(pieces[index]);
                if (y + HeightOf(pieces, index, end, atTop: true) > paper.Bottom)
                {
                    end = index;
                }
            }

            for (; index <= end; index++)
            {
                var piece = pieces[index];
                var space = pages[^1].Count == 0 ? 0 : piece.SpaceBefore;
                if (y + space + piece.Height > paper.Bottom && pages[^1].Count > 0)
                {
                    NewPage(piece);
                    space = 0;
                }

                pages[^1].Add(new Placed(piece, y + space, Again: false));
                y += space + piece.Height + piece.SpaceAfter;
            }
        }

        return pages;

        void NewPage(Piece next)
        {
            pages.Add([]);
            y = paper.Top;
            if (next.TableHead is { } head)
            {
                pages[^1].Add(new Placed(head, y, Again: true));
                y += head.Height;
            }
        }
    }

    private static double HeightOf(IReadOnlyList<Piece> pieces, int from, int to, bool atTop)
    {
        double height = 0;
        for (var index = from; index <= to; index++)
        {
            height += pieces[index].Height + (atTop && index == from ? 0 : pieces[index].SpaceBefore);
        }

        return height;
    }

    /// <summary>A piece at its place, or a table head repeated above it.</summary>
    private sealed record Placed(Piece Piece, double Top, bool Again);

    /// <summary>What stands around the text: the firm's bar on the first page, running head and foot.</summary>
    private sealed class Frame(PlanSnapshot snapshot, string title, PrintableText printable, int pages)
    {
        private const double BarHeight = 62;
        private const double HeadSize = 8;
        private const double FirmSize = 15;

        // The logo stands on white, whatever the firm's colour.
        private const double PlateHeight = 46;
        private const double WidestPlate = 150;
        private const double PlateMargin = 5;

        public void Draw(PdfSheet sheet, PdfPaper paper, int page)
        {
            if (page == 0)
            {
                FirstHead(sheet, paper);
            }
            else
            {
                sheet.Artifact(() => RunningHead(sheet, paper));
            }

            sheet.Artifact(() => Foot(sheet, paper, page));
        }

        private void FirstHead(PdfSheet sheet, PdfPaper paper)
        {
            sheet.Artifact(() => sheet.Fill(0, 0, paper.Width, BarHeight, sheet.Palette.Brand));
            var room = paper.TextWidth - (snapshot.Logo is { } logo ? Logo(sheet, paper, logo) + 12 : 0);
            sheet.Tagged(
                PdfBlockLevelElementTag.Paragraph,
                () => sheet.Text(Fit(snapshot.Firm.Name, FirmSize, room, bold: true), paper.Left, 31, FirmSize, sheet.Palette.OnBrand, bold: true));
            sheet.Tagged(
                PdfBlockLevelElementTag.Paragraph,
                () => sheet.Text(Fit(snapshot.Firm.Contact, 8.5, room, bold: false), paper.Left, 47, 8.5, sheet.Palette.OnBrand));
        }

        /// <summary>Draws the logo at the right end of the bar.</summary>
        /// <returns>Width of its plate.</returns>
        private double Logo(PdfSheet sheet, PdfPaper paper, PlanPicture logo)
        {
            var scale = Math.Min((PlateHeight - (2 * PlateMargin)) / logo.Height, (WidestPlate - (2 * PlateMargin)) / logo.Width);
            var (width, height) = (logo.Width * scale, logo.Height * scale);
            var plate = width + (2 * PlateMargin);
            var (plateLeft, plateTop) = (paper.Left + paper.TextWidth - plate, (BarHeight - PlateHeight) / 2);
            sheet.Artifact(() => sheet.Fill(plateLeft, plateTop, plate, PlateHeight, XColors.White));
            var (left, top) = (plateLeft + PlateMargin, (BarHeight - height) / 2);
            sheet.Structure.BeginElement(PdfIllustrationElementTag.Figure, PrintableText.Line(snapshot.Firm.Name), sheet.InPageSpace(left, top, width, height));
            using (var stream = new MemoryStream(logo.Png))
            using (var image = XImage.FromStream(stream))
            {
                sheet.Graphics.DrawImage(image, left, top, width, height);
            }

            sheet.Structure.End();
            return plate;
        }

        private void RunningHead(PdfSheet sheet, PdfPaper paper)
        {
            var baseline = paper.IsHalf ? 26 : 36;
            sheet.Fill(0, 0, paper.Width, 6, sheet.Palette.Brand);
            sheet.Text(Fit(snapshot.Firm.Name, HeadSize, paper.TextWidth / 2.2, bold: true), paper.Left, baseline, HeadSize, sheet.Palette.Of(Ink.Text), bold: true);
            sheet.Text(Fit(title, HeadSize, paper.TextWidth / 2.2, bold: false), paper.Left, baseline, HeadSize, sheet.Palette.Of(Ink.Muted), rightEdge: paper.Left + paper.TextWidth);
            sheet.Rule(paper.Left, baseline + 6, paper.Left + paper.TextWidth, baseline + 6, sheet.Palette.Of(Ink.Rule), 0.5);
        }

        private void Foot(PdfSheet sheet, PdfPaper paper, int page)
        {
            var baseline = paper.FootBaseline;
            sheet.Rule(paper.Left, baseline - 13, paper.Left + paper.TextWidth, baseline - 13, sheet.Palette.Of(Ink.Rule), 0.5);
            sheet.Text($"{Edition(snapshot)}. Guidance, not certification.", paper.Left, baseline, HeadSize, sheet.Palette.Of(Ink.Muted));
            var number = string.Create(CultureInfo.InvariantCulture, $"Page {page + 1} of {pages}");
            sheet.Text(number, paper.Left, baseline, HeadSize, sheet.Palette.Of(Ink.Muted), rightEdge: paper.Left + paper.TextWidth);
        }

        private string Fit(string text, double size, double width, bool bold) =>
            FigureCanvas.Fit(printable.Of(text), width, size, bold);
    }
}
