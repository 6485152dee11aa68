using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace ConsultDesk.Reports.Pdf;

/// <summary>
/// Replaces the metadata stream of a saved document by an incremental update (ISO 32000-1, section 7.5.6). The PDF
/// library writes its own on saving, whatever was set before, and does not escape the title in it.
/// </summary>
internal static partial class XmpUpdate
{
    private static readonly XNamespace Adobe = "adobe:ns:meta/";
    private static readonly XNamespace Rdf = "http://www.w3.org/1999/02/22-rdf-syntax-ns#";
    private static readonly XNamespace DublinCore = "http://purl.org/dc/elements/1.1/";
    private static readonly XNamespace Basic = "http://ns.adobe.com/xap/1.0/";

    /// <summary>Appends a well-formed metadata stream to the bytes of a document.</summary>
    /// <exception cref="InvalidOperationException">The document has no classic trailer or no metadata object.</exception>
    public static byte[] Append(byte[] document, string title, string author, string language, DateTime createdAt)
    {
        // Latin-1 maps each byte to one character, so that positions in the text are positions in the file.
        var text = Encoding.Latin1.GetString(document);
        var trailerStart = text.LastIndexOf("trailer", StringComparison.Ordinal);
        var metadata = MetadataReference().Match(text);
        var previous = StartXref().Match(text, Math.Max(0, trailerStart));
        if (trailerStart < 0 || !metadata.Success || !previous.Success)
        {
            throw new InvalidOperationException("The document cannot be given metadata: its trailer or its metadata object was not found.");
        }

        var trailer = text[(text.IndexOf("<<", trailerStart, StringComparison.Ordinal) + 2)..text.LastIndexOf(">>", StringComparison.Ordinal)];
        var number = metadata.Groups[1].Value;
        var generation = metadata.Groups[2].Value;
        var packet = Encoding.UTF8.GetBytes(Packet(title, author, language, createdAt));

        using var result = new MemoryStream(document.Length + packet.Length + 1024);
        result.Write(document);
        Ascii("\n");
        var position = result.Position;
        Ascii($"{number} {generation} obj\n<</Type/Metadata/Subtype/XML/Length {packet.Length.ToString(CultureInfo.InvariantCulture)}>>\nstream\n");
        result.Write(packet);
        Ascii("\nendstream\nendobj\n");
        var xref = result.Position;

        // An entry of the table is exactly 20 bytes, its end of line included.
        Ascii($"xref\n{number} 1\n{position.ToString("D10", CultureInfo.InvariantCulture)} {int.Parse(generation, CultureInfo.InvariantCulture).ToString("D5", CultureInfo.InvariantCulture)} n \n");
        Ascii($"trailer\n<<{trailer}/Prev {previous.Groups[1].Value}>>\nstartxref\n{xref.ToString(CultureInfo.InvariantCulture)}\n%%EOF\n");
        return result.ToArray();

        void Ascii(string value) => result.Write(Encoding.Latin1.GetBytes(value));
    }

    private static string Packet(string title, string author, string language, DateTime createdAt)
    {
        var created = createdAt.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        var meta = new XElement(
            Adobe + "xmpmeta",
            new XAttribute(XNamespace.Xmlns + "x", Adobe.NamespaceName),
            new XElement(
                Rdf + "RDF",
                new XAttribute(XNamespace.Xmlns + "rdf", Rdf.NamespaceName),
                new XElement(
                    Rdf + "Description",
                    new XAttribute(Rdf + "about", ""),
                    new XAttribute(XNamespace.Xmlns + "dc", DublinCore.NamespaceName),
                    new XAttribute(XNamespace.Xmlns + "xmp", Basic.NamespaceName),
                    new XElement(DublinCore + "format", "application/pdf"),
                    new XElement(
                        DublinCore + "title",
                        new XElement(Rdf + "Alt", new XElement(Rdf + "li", new XAttribute(XNamespace.Xml + "lang", "x-default"), title))),
                    new XElement(DublinCore + "creator", new XElement(Rdf + "Seq", new XElement(Rdf + "li", author))),
                    new XElement(DublinCore + "language", new XElement(Rdf + "Bag", new XElement(Rdf + "li", language))),
                    new XElement(Basic + "CreateDate", created),
                    new XElement(Basic + "ModifyDate", created),
                    new XElement(Basic + "CreatorTool", "ConsultDesk"))));
        return $"<?xpacket begin=\"\uFEFF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n{meta}\n<?xpacket end=\"w\"?>";
    }

    [GeneratedRegex(@"/Metadata\s+(\d+)\s+(\d+)\s+R")]
    private static partial Regex MetadataReference();

    [GeneratedRegex(@"startxref\s+(\d+)")]
    private static partial Regex StartXref();
}
