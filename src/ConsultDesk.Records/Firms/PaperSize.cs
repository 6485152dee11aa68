namespace ConsultDesk.Records;

/// <summary>Paper a firm's plans are laid out for.</summary>
public enum PaperSize
{
    /// <summary>ISO 216 A4, 210 by 297 mm.</summary>
    A4,

    /// <summary>US Letter (ANSI A), 8.5 by 11 in.</summary>
    Letter,
}
