using System.Buffers.Binary;
using System.Security.Cryptography;
using Xunit;

namespace ConsultDesk.Web.Tests.Account;

/// <summary>The code an authenticator app shows, computed from RFC 4226 and RFC 6238 without the library under test.</summary>
internal static class Totp
{
    private const string Alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    /// <summary>Step of 30 s since 1970.</summary>
    public static long Now => DateTimeOffset.UtcNow.ToUnixTimeSeconds() / 30;

    public static string Code(string base32Key, long step, int digits = 6) => Code(FromBase32(base32Key), step, digits);

    public static string Code(byte[] key, long step, int digits)
    {
        var counter = new byte[8];
        BinaryPrimitives.WriteInt64BigEndian(counter, step);
#pragma warning disable CA5350 // SHA-1 is what RFC 4226 defines and what the apps compute.
        var mac = HMACSHA1.HashData(key, counter);
#pragma warning restore CA5350
        var number = BinaryPrimitives.ReadInt32BigEndian(mac.AsSpan(mac[^1] & 0xF)) & 0x7FFFFFFF;
        return (number % (int)Math.Pow(10, digits)).ToString(System.Globalization.CultureInfo.InvariantCulture).PadLeft(digits, '0');
    }

    // RFC 4648, section 6.
    public static byte[] FromBase32(string text)
    {
        var bytes = new List<byte>();
        int bits = 0, value = 0;
        foreach (var letter in text.Where(char.IsLetterOrDigit).Select(char.ToUpperInvariant))
        {
            value = ((value << 5) | Alphabet.IndexOf(letter, StringComparison.Ordinal)) & 0xFFFF;
            bits += 5;
            if (bits >= 8)
            {
                bits -= 8;
                bytes.Add((byte)(value >> bits));
            }
        }

        return [.. bytes];
    }
}

public sealed class TotpTests
{
    // RFC 6238, appendix B, the rows of SHA-1: key "12345678901234567890", steps of 30 s, eight digits. Read.
    [Theory]
    [InlineData(59, "94287082")]
    [InlineData(1111111109, "07081804")]
    [InlineData(1234567890, "89005924")]
    [InlineData(20000000000, "65353130")]
    public void The_codes_of_these_tests_are_those_of_the_standard(long seconds, string code) =>
        Assert.Equal(code, Totp.Code("12345678901234567890"u8.ToArray(), seconds / 30, 8));

    // RFC 4648, section 10.
    [Theory]
    [InlineData("MZXW6YTBOI", "foobar")]
    [InlineData("MZXW6", "foo")]
    public void A_key_is_read_as_base32(string text, string bytes) => Assert.Equal(System.Text.Encoding.ASCII.GetBytes(bytes), Totp.FromBase32(text));
}
