using System.IO.Compression;

namespace ConsultDesk.Records;

/// <summary>The files of a handover that are read: its rows, its photos and its weather. All sizes are checked while they are read, not as the file claims them.</summary>
public sealed record HandoverZip(byte[] Rows, IReadOnlyDictionary<string, byte[]> Files)
{
    /// <summary>Name of the file with the rows.</summary>
    public const string RowsName = "client.json";

    /// <summary>Format of the rows that are written today; those before are read.</summary>
    public const int RowsFormat = ClientJson.Format;

    /// <summary>Most files in it (own limit).</summary>
    public const int MostEntries = 5_000;

    /// <summary>Most bytes of one photo or weather file (own limit).</summary>
    public const int LargestFile = 16 * 1024 * 1024;

    /// <summary>Most bytes of the rows (own limit).</summary>
    public const int LargestRows = 64 * 1024 * 1024;

    /// <summary>Most bytes of all that is read together (own limit).</summary>
    public const long LargestTotal = 256L * 1024 * 1024;

    /// <summary>Most times a file may grow when it is unpacked; text of rows reaches about 40, a bomb thousands (own limit).</summary>
    public const int MostRatio = 250;

    // Below this the ratio says nothing: a short file of blanks is no bomb.
    private const int RatioFrom = 1024 * 1024;

    /// <summary>Reads the files of a zip. PDFs, tables and the readme are for people and are left alone.</summary>
    /// <param name="zip">The file; it can be read at any place.</param>
    /// <param name="cancellation">Stops reading.</param>
    /// <exception cref="HandoverRefusedException">It is no zip, is damaged, too large, or holds what has no place in it.</exception>
    public static async Task<HandoverZip> Read(Stream zip, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(zip);
        try
        {
            using var archive = new ZipArchive(zip, ZipArchiveMode.Read, leaveOpen: true);
            if (archive.Entries.Count > MostEntries)
            {
                throw new HandoverRefusedException(FormattableString.Invariant($"The zip holds {archive.Entries.Count} files. Expected at most {MostEntries}."));
            }

            byte[]? rows = null;
            Dictionary<string, byte[]> files = new(StringComparer.Ordinal);
            HashSet<string> names = new(StringComparer.OrdinalIgnoreCase);
            long total = 0;
            foreach (var entry in archive.Entries)
            {
                CheckName(entry);
                if (!names.Add(entry.FullName))
                {
                    throw new HandoverRefusedException($"The zip holds “{entry.FullName}” twice.");
                }

                var isRows = entry.FullName == RowsName;
                if (!isRows && !entry.FullName.StartsWith("photos/", StringComparison.Ordinal) && !entry.FullName.StartsWith("weather/", StringComparison.Ordinal))
                {
                    continue;
                }

                var bytes = await Bounded(entry, isRows ? LargestRows : LargestFile, cancellation);
                total += bytes.Length;
                if (total > LargestTotal)
                {
                    throw new HandoverRefusedException(FormattableString.Invariant($"The zip unpacks to more than {LargestTotal / 1024 / 1024} MB."));
                }

                if (isRows)
                {
                    rows = bytes;
                }
                else
                {
                    files.Add(entry.FullName, bytes);
                }
            }

            return rows is null
                ? throw new HandoverRefusedException($"The zip holds no {RowsName}, so it is no client saved by ConsultDesk.")
                : new(rows, files);
        }
        catch (Exception damaged) when (damaged is InvalidDataException or IOException or NotSupportedException or ArgumentException or OverflowException)
        {
            throw new HandoverRefusedException("The file is no zip, or it is damaged. Expected a zip that ConsultDesk saved, whole.", damaged);
        }
    }

    private static void CheckName(ZipArchiveEntry entry)
    {
        var name = entry.FullName;
        var parts = name.Split('/');
        if (name.Length > 200 || name.StartsWith('/') || name.Contains('\\', StringComparison.Ordinal) || name.Contains(':', StringComparison.Ordinal)
            || name.Any(char.IsControl) || parts.Contains("..") || parts.Contains("."))
        {
            throw new HandoverRefusedException("The zip holds a file whose name leads out of it. Expected plain names.");
        }

        // The upper half holds the mode of Unix; 0xA000 is a symbolic link (POSIX, S_IFLNK).
        if (((entry.ExternalAttributes >> 16) & 0xF000) == 0xA000)
        {
            throw new HandoverRefusedException($"“{name}” is a link to another file. Expected files only.");
        }
    }

    private static async Task<byte[]> Bounded(ZipArchiveEntry entry, int most, CancellationToken cancellation)
    {
        await using var packed = entry.Open();
        using var bytes = new MemoryStream();
        var block = new byte[64 * 1024];
        int count;
        while ((count = await packed.ReadAsync(block, cancellation)) > 0)
        {
            bytes.Write(block, 0, count);
            if (bytes.Length > most)
            {
                throw new HandoverRefusedException(FormattableString.Invariant($"“{entry.FullName}” unpacks to more than {most / 1024 / 1024} MB."));
            }

            if (bytes.Length > RatioFrom && bytes.Length > MostRatio * Math.Max(1, entry.CompressedLength))
            {
                throw new HandoverRefusedException(FormattableString.Invariant($"“{entry.FullName}” grows more than {MostRatio} times when it is unpacked, as no file of a client does."));
            }
        }

        return bytes.ToArray();
    }
}
