using System.Text.RegularExpressions;

namespace ConsultDesk.Records;

/// <summary>The shape of an e-mail address: something on either side of one @ and no blank. Whether it exists, only a mail tells.</summary>
internal static partial class EmailAddress
{
    /// <summary>What a field for one expects.</summary>
    public const string Expected = "Expected an address such as name@example.org.";

    /// <summary>True when the text can be an address.</summary>
    public static bool LooksRight(string text) => Shape().IsMatch(text);

    [GeneratedRegex(@"\A[^@\s<>,;:""()]+@[^@\s<>,;:""()]+\z")]
    private static partial Regex Shape();
}
