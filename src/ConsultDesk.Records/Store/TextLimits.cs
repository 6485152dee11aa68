namespace ConsultDesk.Records;

/// <summary>Longest texts, in UTF-16 characters; columns, commands and forms share them.</summary>
public static class TextLimits
{
    /// <summary>Names of firms, people, vans and options.</summary>
    public const int Name = 300;

    /// <summary>One line of text.</summary>
    public const int Line = 500;

    /// <summary>Notes.</summary>
    public const int Notes = 20_000;

    /// <summary>An e-mail address (RFC 5321: 256 with its brackets).</summary>
    public const int Email = 254;

    /// <summary>A key of a table, an action, a method version.</summary>
    public const int Key = 100;
}
