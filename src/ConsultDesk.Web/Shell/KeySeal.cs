using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.DataProtection;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// Seals the server's own keys, which lie in the database, with a certificate that does not: whoever takes a back-up away has the
/// records, but can make no sign-in cookie from it and read no authenticator's key.
/// </summary>
internal static class KeySeal
{
    /// <summary>Settings: file of the certificate with its private key (PKCS #12), its password or the file with it, and the certificate before it.</summary>
    public const string CertificateSetting = "Keys:Certificate";

    /// <exception cref="StartRefusedException">The certificate cannot be used.</exception>
    public static void SealKeys(this WebApplicationBuilder builder)
    {
        var settings = builder.Configuration;
        if (settings[CertificateSetting] is not { Length: > 0 } path)
        {
            return;
        }

        var password = Password(settings);
        var current = Load(CertificateSetting, path, password);
        var known = settings["Keys:FormerCertificate"] is { Length: > 0 } former ? new[] { current, Load("Keys:FormerCertificate", former, password) } : [current];
        // Keys that were sealed with the certificate before are still opened; keys made before there was one are read as they lie.
        builder.Services.AddDataProtection().ProtectKeysWithCertificate(current).UnprotectKeysWithAnyCertificate(known);
    }

    private static string? Password(ConfigurationManager settings)
    {
        if (settings["Keys:CertificatePasswordFile"] is not { Length: > 0 } file)
        {
            return settings["Keys:CertificatePassword"];
        }

        try
        {
            return File.ReadAllText(file).TrimEnd('\r', '\n');
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new StartRefusedException($"Keys:CertificatePasswordFile {file} cannot be read: {e.Message}", e);
        }
    }

    private static X509Certificate2 Load(string setting, string path, string? password)
    {
        try
        {
            var certificate = X509CertificateLoader.LoadPkcs12FromFile(path, password);
            // Keys are sealed by XML encryption, which wants RSA.
            return certificate.HasPrivateKey && certificate.GetRSAPublicKey() is not null
                ? certificate
                : throw new StartRefusedException($"{setting} {path} must hold an RSA certificate with its private key.");
        }
        catch (Exception e) when (e is CryptographicException or IOException or UnauthorizedAccessException)
        {
            throw new StartRefusedException($"{setting} {path} cannot be used: {e.Message.TrimEnd('.')}. Expected a PKCS #12 file (.pfx) and, if it has one, its password in Keys:CertificatePassword.", e);
        }
    }
}
