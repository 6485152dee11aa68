using System.Buffers.Binary;
using System.Text;

namespace ConsultDesk.Reports.Fonts;

/// <summary>
/// What layout needs to know of a TrueType face: which characters it can print and how wide they are. Tables cmap
/// (formats 4 and 12), head, hhea and hmtx of the OpenType specification (ISO/IEC 14496-22).
/// </summary>
public sealed class FontFace
{
    private readonly Dictionary<int, ushort> _glyphs = [];
    private readonly double[] _advances;

    /// <summary>Reads a face from the bytes of its file.</summary>
    public FontFace(string name, byte[] file)
    {
        Name = name;
        File = file;
        var tables = new Dictionary<string, int>();
        for (var table = 0; table < UInt16(4); table++)
        {
            var record = 12 + (table * 16);
            tables[Encoding.ASCII.GetString(file, record, 4)] = (int)UInt32(record + 8);
        }

        double unitsPerEm = UInt16(tables["head"] + 18);
        Ascent = Int16(tables["hhea"] + 4) / unitsPerEm;
        Descent = -Int16(tables["hhea"] + 6) / unitsPerEm;
        var metrics = UInt16(tables["hhea"] + 34);
        _advances = new double[metrics];
        for (var glyph = 0; glyph < metrics; glyph++)
        {
            _advances[glyph] = UInt16(tables["hmtx"] + (glyph * 4)) / unitsPerEm;
        }

        ReadCharacters(tables["cmap"]);
    }

    /// <summary>Name of the file.</summary>
    public string Name { get; }

    /// <summary>The bytes of the file.</summary>
    public byte[] File { get; }

    /// <summary>Height above the baseline, in em.</summary>
    public double Ascent { get; }

    /// <summary>Depth below the baseline, in em, positive.</summary>
    public double Descent { get; }

    /// <summary>True when the face has a glyph for the character.</summary>
    public bool Prints(Rune character) => _glyphs.ContainsKey(character.Value);

    /// <summary>Width of a text in em, without kerning. A character without a glyph has the width of the missing glyph.</summary>
    public double Width(string text)
    {
        double width = 0;
        foreach (var character in text.EnumerateRunes())
        {
            var glyph = _glyphs.GetValueOrDefault(character.Value);
            width += _advances[Math.Min(glyph, _advances.Length - 1)];
        }

        return width;
    }

    private ushort UInt16(int offset) => BinaryPrimitives.ReadUInt16BigEndian(File.AsSpan(offset));

    private short Int16(int offset) => BinaryPrimitives.ReadInt16BigEndian(File.AsSpan(offset));

    private uint UInt32(int offset) => BinaryPrimitives.ReadUInt32BigEndian(File.AsSpan(offset));

    private void ReadCharacters(int cmap)
    {
        for (var subtable = 0; subtable < UInt16(cmap + 2); subtable++)
        {
            var record = cmap + 4 + (subtable * 8);
            var platform = UInt16(record);
            var start = cmap + (int)UInt32(record + 4);

            // Unicode or Windows tables; the other platforms hold legacy code pages.
            if (platform is not (0 or 3))
            {
                continue;
            }

            switch (UInt16(start))
            {
                case 4:
                    ReadSegments(start);
                    break;
                case 12:
                    ReadGroups(start);
                    break;
                default:
                    break;
            }
        }

        if (_glyphs.Count == 0)
        {
            throw new InvalidOperationException($"The font '{Name}' has no Unicode character map of format 4 or 12.");
        }
    }

    private void ReadSegments(int start)
    {
        var segments = UInt16(start + 6) / 2;
        var ends = start + 14;
        var starts = ends + (segments * 2) + 2;
        var deltas = starts + (segments * 2);
        var ranges = deltas + (segments * 2);
        for (var segment = 0; segment < segments; segment++)
        {
            var range = UInt16(ranges + (segment * 2));
            for (int code = UInt16(starts + (segment * 2)); code <= UInt16(ends + (segment * 2)) && code != 0xFFFF; code++)
            {
                var glyph = range == 0
                    ? code
                    : UInt16(ranges + (segment * 2) + range + ((code - UInt16(starts + (segment * 2))) * 2));
                if (range == 0 || glyph != 0)
                {
                    Add(code, (glyph + UInt16(deltas + (segment * 2))) & 0xFFFF);
                }
            }
        }
    }

    private void ReadGroups(int start)
    {
        for (var group = 0; group < UInt32(start + 12); group++)
        {
            var record = start + 16 + (group * 12);
            for (var code = UInt32(record); code <= UInt32(record + 4); code++)
            {
                Add((int)code, (int)(UInt32(record + 8) + code - UInt32(record)));
            }
        }
    }

    private void Add(int code, int glyph)
    {
        if (glyph != 0)
        {
            _glyphs[code] = (ushort)glyph;
        }
    }
}
