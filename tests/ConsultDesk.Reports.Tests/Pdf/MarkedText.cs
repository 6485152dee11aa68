using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>The letters of a document by the marked content they stand in, so that an element of its structure can be read.</summary>
internal sealed class MarkedText
{
    private readonly Dictionary<(int Page, int Id), string> _texts = [];

    public MarkedText(PdfDocument document)
    {
        foreach (var page in document.GetPages())
        {
            foreach (var content in page.GetMarkedContents())
            {
                Add(page.Number, content);
            }
        }
    }

    /// <summary>The letters of an element and of all below it, in the order of the structure, without white space.</summary>
    public string Of(StructureNode node) => string.Concat(node.All().SelectMany(part => part.Marked).Select(marked => _texts.GetValueOrDefault(marked, "")));

    public static string Squash(string text) => string.Concat(text.Where(character => !char.IsWhiteSpace(character)));

    private void Add(int page, MarkedContentElement content)
    {
        if (!content.IsArtifact && content.MarkedContentIdentifier >= 0)
        {
            _texts[(page, content.MarkedContentIdentifier)] = Squash(string.Concat(content.Letters.Select(letter => letter.Value)));
        }

        foreach (var child in content.Children)
        {
            Add(page, child);
        }
    }
}
