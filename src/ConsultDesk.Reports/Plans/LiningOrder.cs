using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// What has to come before the walls close, in the order it is done (common practice, no source): what lies behind the
/// lining or goes through it cannot be reached afterwards.
/// </summary>
internal static class LiningOrder
{
    /// <summary>One step.</summary>
    /// <param name="Work">The work, as the rule says it.</param>
    /// <param name="Findings">Codes of the findings whose remedy is this work.</param>
    /// <param name="Parts">What the paths of its parts begin with.</param>
    /// <param name="OpensLining">True when a lining that is closed already has to be opened for it.</param>
    private sealed record Step(string Work, ImmutableArray<string> Findings, ImmutableArray<string> Parts, bool OpensLining);

    private static readonly ImmutableArray<Step> Steps =
    [
        new("hidden parts are found and marked", ["cuts-hidden-part"], [], OpensLining: false),
        new("rust is treated and bare metal coated", ["rust-sealed"], [], OpensLining: true),
        new("openings are cut and their bare edges treated", ["gas-without-fixed-openings", "nothing-open-in-rain"], ["openings["], OpensLining: false),
        new("cables, pipes and ducts are laid", [], ["heater", "circulationFans[", "body.roofParts["], OpensLining: true),
        new("layers and vapour barriers go in", ["thin-insulation", "vapour-reaches-skin", "wet-skin"], ["walls.layers[", "roof.layers[", "floor.layers["], OpensLining: true),
    ];

    /// <summary>Place in the order of what may wait until the walls are closed.</summary>
    public static int Afterwards => Steps.Length;

    /// <summary>The rule in words.</summary>
    public static string Rule =>
        $"Before the walls close: {string.Join("; ", Steps.Select(step => step.Work))}. In this order, because nothing behind a lining can be reached afterwards.";

    /// <summary>Step of a part by its path in the stored text; <see cref="Afterwards"/> when it may wait.</summary>
    public static int OfPart(string partId) =>
        // The cover of a pane hangs before it, whatever it is cut into.
        partId.Contains(".pane.", StringComparison.Ordinal) ? Afterwards : First(step => step.Parts.Any(start => partId.StartsWith(start, StringComparison.Ordinal)));

    /// <summary>Step of a finding's remedy by the finding's code; <see cref="Afterwards"/> when it may wait.</summary>
    public static int OfFinding(string code) => First(step => step.Findings.Contains(code));

    /// <summary>What is said beside a thing of that step.</summary>
    public static string Words(int step, BuildStage stage) => step == Afterwards
        ? ""
        : stage != BuildStage.LivedIn ? "Before the walls close" : Steps[step].OpensLining ? "The lining is opened for it" : "";

    private static int First(Func<Step, bool> holds)
    {
        for (var index = 0; index < Steps.Length; index++)
        {
            if (holds(Steps[index]))
            {
                return index;
            }
        }

        return Afterwards;
    }
}
