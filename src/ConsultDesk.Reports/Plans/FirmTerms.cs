using System.Globalization;

namespace ConsultDesk.Reports.Plans;

/// <summary>Who advises, from when the prices are, and where the advice ends.</summary>
internal static class FirmTerms
{
    /// <summary>The blocks of the section.</summary>
    public static IEnumerable<PlanBlock> Of(PlanRequest request)
    {
        var firm = request.Firm;
        yield return new PairsBlock(
        [
            new("Advised by", firm.Name),
            .. firm.Contact.Length > 0 ? new[] { new PlanNumber("Contact", firm.Contact) } : [],
            .. firm.Email.Length > 0 ? new[] { new PlanNumber("Write to", firm.Email) } : [],
            .. request.Cost is null ? [] : new[] { new PlanNumber("Prices of", string.Create(CultureInfo.InvariantCulture, $"{request.PublishedAt:d MMMM yyyy}; they are kept with this revision and do not change with our list")) },
        ]);
        yield return new ParagraphBlock(
            "This plan is advice for your decisions, calculated from what was measured, told and assumed. It is no certificate, no inspection and no promise of a result. "
            + "It replaces neither local codes nor the makers’ instructions nor the licensed trades; where they say otherwise, they are right.");
        foreach (var paragraph in firm.Terms.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            yield return new ParagraphBlock(paragraph);
        }
    }
}
