using UglyToad.PdfPig;
using UglyToad.PdfPig.Tokens;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>
/// An element of a document's structure tree, as a reading machine meets it; its own marked contents by the page, from 1,
/// and the number of the content there.
/// </summary>
internal sealed record StructureNode(string Tag, string? Alt, string? Scope, IReadOnlyList<double> Box, IReadOnlyList<(int Page, int Id)> Marked, IReadOnlyList<StructureNode> Children)
{
    public int MarkedContents => Marked.Count;

    public IEnumerable<StructureNode> All() => Children.SelectMany(child => child.All()).Prepend(this);

    /// <summary>Reads the tree below the root of a document's structure (ISO 32000-1, section 14.7.2).</summary>
    public static StructureNode Read(PdfDocument document)
    {
        var root = Resolve<DictionaryToken>(document, document.Structure.Catalog.CatalogDictionary, "StructTreeRoot")
            ?? throw new InvalidOperationException("The document has no structure tree.");

        // A page is told by its own number in the tree of parents. Opening the pages would read all their letters.
        var pages = Pages(document, Resolve<DictionaryToken>(document, document.Structure.Catalog.CatalogDictionary, "Pages")!)
            .Select(page => Resolve<NumericToken>(document, page, "StructParents")!.Int)
            .Index()
            .ToDictionary(page => page.Item, page => page.Index + 1);
        return Node(document, root, "StructTreeRoot", pages);
    }

    private static StructureNode Node(PdfDocument document, DictionaryToken dictionary, string tag, Dictionary<int, int> pages)
    {
        var children = new List<StructureNode>();
        var marked = new List<(int Page, int Id)>();
        int PageOf(DictionaryToken holder) => Resolve<DictionaryToken>(document, holder, "Pg") is { } page
            ? pages[Resolve<NumericToken>(document, page, "StructParents")!.Int]
            : throw new InvalidOperationException($"A {tag} does not say which page it is on.");
        foreach (var kid in Kids(document, dictionary))
        {
            switch (kid)
            {
                case NumericToken number:
                    marked.Add((PageOf(dictionary), number.Int));
                    break;
                case DictionaryToken child when Resolve<NameToken>(document, child, "S") is { } name:
                    children.Add(Node(document, child, name.Data, pages));
                    break;
                case DictionaryToken reference when Resolve<NumericToken>(document, reference, "MCID") is { } number:
                    marked.Add((PageOf(reference.ContainsKey(NameToken.Create("Pg")) ? reference : dictionary), number.Int));
                    break;
                default:
                    throw new InvalidOperationException($"The structure tree holds an unknown kid: {kid}.");
            }
        }

        var attributes = Attributes(document, dictionary).ToList();
        var box = attributes.Select(attribute => Resolve<ArrayToken>(document, attribute, "BBox")).FirstOrDefault(array => array is not null);
        return new StructureNode(
            tag,
            Resolve<IToken>(document, dictionary, "Alt") switch
            {
                StringToken text => text.Data,
                HexToken text => text.Data,
                _ => null,
            },
            attributes.Select(attribute => Resolve<NameToken>(document, attribute, "Scope")?.Data).FirstOrDefault(scope => scope is not null),
            box is null ? [] : [.. box.Data.OfType<NumericToken>().Select(number => number.Double)],
            marked,
            children);
    }

    private static IEnumerable<DictionaryToken> Pages(PdfDocument document, DictionaryToken node) =>
        Resolve<ArrayToken>(document, node, "Kids") is { } kids
            ? kids.Data.Select(kid => Follow(document, kid)).OfType<DictionaryToken>().SelectMany(kid => Pages(document, kid))
            : [node];

    private static IEnumerable<IToken> Kids(PdfDocument document, DictionaryToken dictionary) =>
        Resolve<IToken>(document, dictionary, "K") switch
        {
            null => [],
            ArrayToken array => array.Data.Select(item => Follow(document, item)),
            var single => [single],
        };

    private static IEnumerable<DictionaryToken> Attributes(PdfDocument document, DictionaryToken dictionary) =>
        Resolve<IToken>(document, dictionary, "A") switch
        {
            DictionaryToken single => [single],
            ArrayToken array => array.Data.Select(item => Follow(document, item)).OfType<DictionaryToken>(),
            _ => [],
        };

    private static T? Resolve<T>(PdfDocument document, DictionaryToken dictionary, string key)
        where T : class, IToken =>
        dictionary.TryGet(NameToken.Create(key), out IToken? token) ? Follow(document, token) as T : null;

    private static IToken Follow(PdfDocument document, IToken token) => token is IndirectReferenceToken reference
        ? document.Structure.GetObject(reference.Data).Data
        : token;
}
