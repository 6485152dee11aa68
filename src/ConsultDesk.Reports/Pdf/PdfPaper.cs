using ConsultDesk.Reports.Plans;

namespace ConsultDesk.Reports.Pdf;

/// <summary>A sheet of paper and its margins, in points of 1/72 inch.</summary>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="Left">Left margin, and the right one.</param>
/// <param name="FirstTop">Top of the text on the first page, below the firm's bar.</param>
/// <param name="Top">Top of the text on the others, below the running head.</param>
/// <param name="Foot">Height of what stands below the text.</param>
internal sealed record PdfPaper(double Width, double Height, double Left, double FirstTop, double Top, double Foot)
{
    private const double PointsPerMillimetre = 72 / 25.4;

    /// <summary>Width of the text.</summary>
    public double TextWidth => Width - (2 * Left);

    /// <summary>Where the text ends.</summary>
    public double Bottom => Height - Foot;

    /// <summary>Baseline of the foot.</summary>
    public double FootBaseline => Height - Foot + 19;

    /// <summary>True for the half sheet, which has a narrow head and foot.</summary>
    public bool IsHalf { get; private init; }

    /// <summary>The whole sheet, upright (ISO 216; ANSI/ASME Y14.1).</summary>
    public static PdfPaper Of(PlanPaper paper) => paper switch
    {
        PlanPaper.A4 => new(210 * PointsPerMillimetre, 297 * PointsPerMillimetre, 57, 82, 56, 53),
        PlanPaper.Letter => new(8.5 * 72, 11 * 72, 57, 82, 56, 53),
        _ => throw new ArgumentOutOfRangeException(nameof(paper), paper, "Expected A4 or Letter."),
    };

    /// <summary>Half of it, lying: A5 of A4, so that a sheet holds two cards or is cut once.</summary>
    public PdfPaper Half() => new(Width, Height / 2, 30, 40, 40, 34) { IsHalf = true };
}
