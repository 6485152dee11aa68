using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Text;

namespace ConsultDesk.Reports.Fonts;

/// <summary>
/// The two faces every report is set in: Inter Regular and Inter SemiBold (SIL Open Font License 1.1). They are read
/// once out of the font package that is embedded in this assembly.
/// </summary>
public static class ReportFonts
{
    private const string PackageResource = "inter-font-package";

    private static readonly Lazy<(FontFace Regular, FontFace Bold)> Faces = new(Load);

    /// <summary>Face of ordinary text.</summary>
    public static FontFace Regular => Faces.Value.Regular;

    /// <summary>Face of headings and of labels that stand out.</summary>
    public static FontFace Bold => Faces.Value.Bold;

    /// <summary>Width of a text at a size, in the unit of the size.</summary>
    public static double Width(string text, double size, bool bold = false) => (bold ? Bold : Regular).Width(text) * size;

    private static (FontFace Regular, FontFace Bold) Load()
    {
        using var stream = typeof(ReportFonts).Assembly.GetManifestResourceStream(PackageResource)
            ?? throw new InvalidOperationException($"This build lacks its embedded resource '{PackageResource}'.");
        var files = ReadFiles(stream);
        return (Face("Inter-Regular.ttf"), Face("Inter-SemiBold.ttf"));

        FontFace Face(string name) => files.TryGetValue(name, out var bytes)
            ? new FontFace(name, bytes)
            : throw new InvalidOperationException($"The font package holds no '{name}', only: {string.Join(", ", files.Keys)}.");
    }

    /// <summary>
    /// The font files in the package's assembly. They lie in one manifest resource: the length of an index, the
    /// index (version, count, then name, offset, length of each file), then the files.
    /// </summary>
    private static Dictionary<string, byte[]> ReadFiles(Stream assembly)
    {
        const string ResourceName = "!AvaloniaResources";
        using var image = new PEReader(assembly);
        var metadata = image.GetMetadataReader();
        var resource = metadata.ManifestResources
            .Select(metadata.GetManifestResource)
            .First(candidate => metadata.StringComparer.Equals(candidate.Name, ResourceName));
        var section = image.GetSectionData(image.PEHeaders.CorHeader!.ResourcesDirectory.RelativeVirtualAddress);
        var block = section.GetReader((int)resource.Offset, section.Length - (int)resource.Offset);
        var content = block.ReadBytes(block.ReadInt32());

        using var index = new BinaryReader(new MemoryStream(content), Encoding.UTF8);
        var filesStart = 4 + index.ReadInt32();
        var version = index.ReadInt32();
        if (version is not (1 or 2))
        {
            throw new InvalidOperationException($"The font package's index has version {version}; expected 1 or 2.");
        }

        var count = index.ReadInt32();
        var files = new Dictionary<string, byte[]>(count);
        for (var file = 0; file < count; file++)
        {
            var path = index.ReadString();
            var offset = index.ReadInt32();
            var length = index.ReadInt32();
            files[path[(path.LastIndexOf('/') + 1)..]] = content.AsSpan(filesStart + offset, length).ToArray();
        }

        return files;
    }
}
