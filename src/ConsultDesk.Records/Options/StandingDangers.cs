using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Records;

/// <summary>
/// The dangers of a stored design, asked of the calculation itself: what a caller says about them is not taken. Every
/// rule of danger judges by the design and its night, so the night is enough and a save stays quick.
/// </summary>
internal static class StandingDangers
{
    /// <summary>Titles of the dangers; empty when none stands.</summary>
    /// <exception cref="ArgumentException">The design is wrong and cannot be assessed; the message names the fields.</exception>
    /// <exception cref="CalculationFailedException">The night did not balance.</exception>
    public static IReadOnlyList<string> Of(Design design, CancellationToken cancellation) =>
        [.. Assessor.Assess(design, cancellation).Findings.Where(finding => finding.Severity == Severity.Danger).Select(finding => finding.Title)];

    /// <summary>True when no danger stands; a design that cannot be assessed is not known to be free of one.</summary>
    public static bool Excluded(Design design, CancellationToken cancellation)
    {
        try
        {
            return DesignCheck.Errors(design).IsEmpty && Of(design, cancellation).Count == 0;
        }
        catch (CalculationFailedException)
        {
            return false;
        }
    }
}

/// <summary>A danger stands in an option, and what was asked may not be done while one does. Nothing was written.</summary>
public sealed class OptionInDangerException(IReadOnlyList<string> dangers)
    : Exception($"The option cannot be chosen while a danger stands: {string.Join(" ", dangers.Select(danger => danger.TrimEnd('.') + "."))}")
{
    /// <summary>Title of each danger, at least one.</summary>
    public IReadOnlyList<string> Dangers { get; } = dangers;
}
