using ConsultDesk.Reports.Plans;

namespace ConsultDesk.Web.Plans;

/// <summary>The pages a plan has under one link: the plan, and what would make it heavy.</summary>
internal static class PlanSheets
{
    /// <summary>The pages beside the plan, in the order they are offered.</summary>
    public static readonly PlanSheet[] Beside = [PlanSheet.Build, PlanSheet.Card, PlanSheet.Basis];

    /// <summary>The sheet an address asks for, by its last part.</summary>
    public static PlanSheet Of(PathString path) =>
        Beside.FirstOrDefault(sheet => path.Value!.EndsWith("/" + End(sheet), StringComparison.OrdinalIgnoreCase), PlanSheet.Plan);

    /// <summary>Last part of a sheet's address.</summary>
    public static string End(PlanSheet sheet) => sheet switch
    {
        PlanSheet.Build => "build",
        PlanSheet.Card => "card",
        PlanSheet.Basis => "basis",
        _ => throw new ArgumentOutOfRangeException(nameof(sheet), sheet, "Expected a sheet beside the plan."),
    };

    /// <summary>Its title; null for the plan itself.</summary>
    public static string? Title(PlanSheet sheet) => sheet switch
    {
        PlanSheet.Plan => null,
        PlanSheet.Build => "Building it: parts, cut sheet, order of build",
        PlanSheet.Card => "Running card for the van’s door",
        PlanSheet.Basis => "What it rests on: assumptions, sources, words of the trade",
        _ => throw new ArgumentOutOfRangeException(nameof(sheet), sheet, "Expected a sheet of a plan."),
    };

    /// <summary>True when the plan has something on that sheet; plans of older formats have one sheet.</summary>
    public static bool Has(this PlanSnapshot plan, PlanSheet sheet) => plan.Sections.Any(section => section.Sheet == sheet);
}
