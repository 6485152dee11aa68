using UglyToad.PdfPig;
using UglyToad.PdfPig.Tokens;

namespace ConsultDesk.Reports.Tests.Pdf;

/// <summary>An element of a document's structure tree, as a reading machine meets it.</summary>
internal sealed record StructureNode(string Tag, string? Alt, string? Scope, IReadOnlyList<double> Box, int MarkedContents, IReadOnlyList<StructureNode> Children)
{
    public IEnumerable<StructureNode> All() => Children.SelectMany(child => child.All()).Prepend(this);

    /// <summary>Reads the tree below the root of a document's structure (ISO 32000-1, section 14.7.2).</summary>
    public static StructureNode Read(PdfDocument document)
    {
        var root = Resolve<DictionaryToken>(document, document.Structure.Catalog.CatalogDictionary, "StructTreeRoot")
            ?? throw new InvalidOperationException("The document has no structure tree.");
        return Node(document, root, "StructTreeRoot");
    }

    private static StructureNode Node(PdfDocument document, DictionaryToken dictionary, string tag)
    {
        var children = new List<StructureNode>();
        var marked = 0;
        foreach (var kid in Kids(document, dictionary))
        {
            switch (kid)
            {
                case NumericToken:
                    marked++;
                    break;
                case DictionaryToken child when Resolve<NameToken>(document, child, "S") is { } name:
                    children.Add(Node(document, child, name.Data));
                    break;
                case DictionaryToken reference when Resolve<NumericToken>(document, reference, "MCID") is not null:
                    marked++;
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
