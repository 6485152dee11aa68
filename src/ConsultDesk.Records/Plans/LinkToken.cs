using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace ConsultDesk.Records;

/// <summary>The secret part of a link: 256 random bits as base64url. Only its SHA-256 is stored.</summary>
internal static class LinkToken
{
    /// <summary>Characters of 32 bytes in base64url without padding.</summary>
    public const int Length = 43;

    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    /// <summary>
    /// What is stored and looked up. A plain hash is enough for 256 random bits; there is nothing to guess
    /// that salt or many rounds would slow down.
    /// </summary>
    public static byte[] Hash(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));
}
