using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Findings;

/// <summary>All rules in one place.</summary>
internal static class FindingRules
{
    /// <summary>The findings of a design, the gravest first, in the order of the rules within one severity.</summary>
    public static ImmutableArray<Finding> Judge(FindingContext context) => [];
}
