using System.Text;

namespace ConsultDesk.Testing;

/// <summary>
/// Texts and files with parts lost, doubled, moved or replaced, always the same for the same seed: what a broken cable, a careless
/// editor or somebody with bad intent would hand in.
/// </summary>
public sealed class Wounds(int seed)
{
    private readonly Random _random = new(seed);

    /// <summary>A whole number from 0 to below a limit.</summary>
    public int Below(int limit) => _random.Next(limit);

    /// <summary>One of some values.</summary>
    public T One<T>(IReadOnlyList<T> values) => values[Below(values.Count)];

    /// <summary>A text with one to a few wounds: a piece gone, doubled, replaced by a scrap or by a piece from elsewhere, or only its beginning.</summary>
    public string Text(string whole, IReadOnlyList<string> scraps, int most = 3)
    {
        var text = whole;
        for (var wounds = 1 + Below(most); wounds > 0; wounds--)
        {
            var at = Below(text.Length + 1);
            var length = Math.Min(1 + Below(1 << Below(8)), text.Length - at);
            text = Below(16) switch
            {
                < 4 => text.Remove(at, length),
                < 8 => text.Insert(at, text.Substring(at, length)),
                < 11 => text.Insert(at, One(scraps)),
                < 14 => text.Remove(at, length).Insert(at, One(scraps)),
                14 => text.Remove(at, length).Insert(Below(text.Length - length + 1), text.Substring(at, length)),
                _ => text[..at],
            };
        }

        return text;
    }

    /// <summary>A text put together from pieces alone.</summary>
    public string Soup(IReadOnlyList<string> pieces, int most)
    {
        var soup = new StringBuilder();
        for (var count = Below(most + 1); count > 0; count--)
        {
            soup.Append(One(pieces));
        }

        return soup.ToString();
    }

    /// <summary>A file with some bytes changed, and now and then its end missing.</summary>
    public byte[] Bytes(byte[] whole, int most = 8)
    {
        var bytes = (byte[])whole.Clone();
        for (var hits = 1 + Below(most); hits > 0; hits--)
        {
            bytes[Below(bytes.Length)] = (byte)Below(256);
        }

        return Below(4) == 0 ? bytes[..Below(bytes.Length)] : bytes;
    }
}
