using System.Buffers.Binary;
using System.Collections.Immutable;
using System.IO.Compression;
using System.Security.Cryptography;
using ConsultDesk.Calculations.Climate;

namespace ConsultDesk.Records;

/// <summary>
/// The stored form of a year of hours: a format byte, a byte that says which columns are there, then column after column
/// as whole hundredths (sun and sky tenths), each hour as its difference from the one before; compressed by Brotli. The
/// same hours always give the same bytes before compression, from which the hash is taken.
/// </summary>
public static class StoredHours
{
    private const byte Format = 1;
    private const int Hours = YearWeather.Hours;
    private const int LargestBytes = 2 + (6 * Hours * sizeof(int));

    [Flags]
    private enum Columns : byte
    {
        None = 0,
        Wind = 1,
        Sun = 2,
        Sky = 4,
        Wet = 8,
        All = Wind | Sun | Sky | Wet,
    }

    /// <summary>Hours as they will be read back: rounded to what is stored.</summary>
    public static HourlyWeather Rounded(HourlyWeather hours) => Read(Write(hours));

    /// <summary>The bytes of hours, not compressed.</summary>
    /// <exception cref="ArgumentException">A list does not have the length of a year.</exception>
    public static byte[] Write(HourlyWeather hours)
    {
        ArgumentNullException.ThrowIfNull(hours);
        if (!hours.IsWhole)
        {
            throw new ArgumentException("Expected the hours of a whole year.", nameof(hours));
        }

        var there = (hours.WindMPerS.IsEmpty ? 0 : Columns.Wind) | (hours.SunWPerM2.IsEmpty ? 0 : Columns.Sun)
            | (hours.SkyWPerM2.IsEmpty ? 0 : Columns.Sky) | (hours.Wet.IsEmpty ? 0 : Columns.Wet);
        using var bytes = new MemoryStream(LargestBytes);
        bytes.WriteByte(Format);
        bytes.WriteByte((byte)there);
        Put(bytes, hours.TemperatureC, 100);
        Put(bytes, hours.DewPointC, 100);
        Put(bytes, hours.WindMPerS, 100);
        Put(bytes, hours.SunWPerM2, 10);
        Put(bytes, hours.SkyWPerM2, 10);
        Put(bytes, [.. hours.Wet.Select(wet => wet ? 1.0 : 0.0)], 1);
        return bytes.ToArray();
    }

    /// <summary>Reads the bytes that <see cref="Write"/> gave.</summary>
    /// <exception cref="InvalidDataException">They are damaged or of a newer format.</exception>
    public static HourlyWeather Read(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 2 || bytes[0] != Format || ((Columns)bytes[1] & ~Columns.All) != 0)
        {
            throw new InvalidDataException("These are no stored hours of a format that is known.");
        }

        var there = (Columns)bytes[1];
        var rest = bytes[2..];
        var read = new HourlyWeather
        {
            TemperatureC = Take(ref rest, true, 100),
            DewPointC = Take(ref rest, true, 100),
            WindMPerS = Take(ref rest, there.HasFlag(Columns.Wind), 100),
            SunWPerM2 = Take(ref rest, there.HasFlag(Columns.Sun), 10),
            SkyWPerM2 = Take(ref rest, there.HasFlag(Columns.Sky), 10),
            Wet = [.. Take(ref rest, there.HasFlag(Columns.Wet), 1).Select(value => value > 0)],
        };
        return rest.IsEmpty ? read : throw new InvalidDataException("The stored hours are longer than their columns.");
    }

    /// <summary>SHA-256 of bytes, lower-case hexadecimal.</summary>
    public static string Sha256(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>Compresses bytes for the store.</summary>
    internal static byte[] Pack(ReadOnlySpan<byte> bytes)
    {
        using var packed = new MemoryStream();
        using (var brotli = new BrotliStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            brotli.Write(bytes);
        }

        return packed.ToArray();
    }

    /// <summary>What was compressed.</summary>
    /// <exception cref="InvalidDataException">It is damaged, or more than a year of hours.</exception>
    internal static byte[] Unpack(byte[] packed)
    {
        using var brotli = new BrotliStream(new MemoryStream(packed), CompressionMode.Decompress);
        using var bytes = new MemoryStream();
        var block = new byte[8192];
        int count;
        try
        {
            while ((count = brotli.Read(block)) > 0)
            {
                bytes.Write(block, 0, count);
                if (bytes.Length > LargestBytes)
                {
                    throw new InvalidDataException("The stored hours are more than a year.");
                }
            }
        }
        catch (InvalidOperationException damaged)
        {
            throw new InvalidDataException("The stored hours are damaged.", damaged);
        }

        return bytes.ToArray();
    }

    private static void Put(MemoryStream bytes, ImmutableArray<double> values, double parts)
    {
        Span<byte> number = stackalloc byte[sizeof(int)];
        var before = 0;
        foreach (var value in values)
        {
            var whole = checked((int)Math.Round(value * parts, MidpointRounding.ToEven));
            BinaryPrimitives.WriteInt32LittleEndian(number, whole - before);
            bytes.Write(number);
            before = whole;
        }
    }

    private static ImmutableArray<double> Take(ref ReadOnlySpan<byte> rest, bool isThere, double parts)
    {
        if (!isThere)
        {
            return [];
        }

        if (rest.Length < Hours * sizeof(int))
        {
            throw new InvalidDataException("The stored hours end too early.");
        }

        var values = ImmutableArray.CreateBuilder<double>(Hours);
        var whole = 0;
        for (var hour = 0; hour < Hours; hour++)
        {
            whole += BinaryPrimitives.ReadInt32LittleEndian(rest[(hour * sizeof(int))..]);
            values.Add(whole / parts);
        }

        rest = rest[(Hours * sizeof(int))..];
        return values.MoveToImmutable();
    }
}
