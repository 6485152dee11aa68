using ConsultDesk.Records;

namespace ConsultDesk.Web.Consults;

/// <summary>The advice a van's client declined, and how findings record more of it. Findings get it as a cascading value.</summary>
/// <param name="Rows">What was declined so far.</param>
/// <param name="Decline">Records that advice was declined; what it refuses comes back by field.</param>
/// <param name="TakeBack">Takes it back.</param>
public sealed record DeclinedBoard(
    IReadOnlyList<DeclinedAdvice> Rows, Func<DeclinedInput, Task<IReadOnlyList<FieldError>>> Decline, Func<DeclinedAdvice, Task> TakeBack)
{
    /// <summary>Why the advice of a finding was declined, or null.</summary>
    public DeclinedAdvice? Of(string findingCode) => Rows.FirstOrDefault(row => row.FindingCode == findingCode);
}
