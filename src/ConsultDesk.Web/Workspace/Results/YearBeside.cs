using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace.Results;

/// <summary>Another option whose year can be laid over that of the open one.</summary>
/// <param name="Options">The other options of the van.</param>
/// <param name="Chosen">The one that is chosen; null for none.</param>
/// <param name="Result">Its result with a year; null while there is none.</param>
/// <param name="Failure">Why it has no year; null when it has or waits for one.</param>
/// <param name="Choose">Chooses one, or none.</param>
public sealed record YearBeside(IReadOnlyList<OptionLine> Options, OptionLine? Chosen, AssessedDesign? Result, string? Failure, Func<Guid?, Task> Choose);
