using System.Security.Cryptography;
using System.Text;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Account;

/// <summary>
/// The one-time way in while there is no firm: open from a start that finds none until one is founded. Whoever holds the
/// token that this start printed may found it. Only a hash of the token is kept.
/// </summary>
internal sealed class SetUpDoor(Firms firms)
{
    /// <summary>Address of the page behind it.</summary>
    public const string Path = "/set-up";

    /// <summary>Characters of a token, 5 bits each: 130 bits. Typed by hand, so in groups of five.</summary>
    private const int Length = 26;

    /// <summary>Without 0, O, 1 and I, which look alike.</summary>
    private const string Alphabet = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

    private volatile byte[]? _hash;

    /// <summary>Opens the door with a new token, which is handed out this once.</summary>
    public string Open()
    {
        var token = RandomNumberGenerator.GetString(Alphabet, Length);
        _hash = Hash(token);
        return string.Join('-', token.Chunk(5).Select(group => new string(group)));
    }

    /// <summary>True while a firm can be founded here. A firm founded elsewhere shuts the door too.</summary>
    public async Task<bool> IsOpenAsync(CancellationToken cancellation = default)
    {
        if (_hash is not null && !await firms.NoneYet(cancellation))
        {
            Shut();
        }

        return _hash is not null;
    }

    /// <summary>True for the token that was printed; the time it takes does not tell how much of it is right.</summary>
    public bool Fits(string? typed) => _hash is { } hash && CryptographicOperations.FixedTimeEquals(hash, Hash(typed ?? ""));

    /// <summary>The token dies.</summary>
    public void Shut() => _hash = null;

    /// <summary>Answers 404 to the page while the door is shut, before a form is looked at.</summary>
    public static void Guard(IApplicationBuilder app) => app.Use(static async (context, next) =>
    {
        if (context.Request.Path.StartsWithSegments(Path, StringComparison.OrdinalIgnoreCase)
            && !await context.RequestServices.GetRequiredService<SetUpDoor>().IsOpenAsync(context.RequestAborted))
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        await next(context);
    });

    private static byte[] Hash(string token) =>
        SHA256.HashData(Encoding.UTF8.GetBytes(string.Concat(token.Where(char.IsLetterOrDigit)).ToUpperInvariant()));
}
