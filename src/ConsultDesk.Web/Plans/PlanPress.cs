using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Workspace;

namespace ConsultDesk.Web.Plans;

/// <summary>What is published.</summary>
/// <param name="OptionId">The option the plan is made from.</param>
/// <param name="Version">Version of the option whose stored design was assessed: nothing unsaved or outdated is published.</param>
/// <param name="Design">That design.</param>
/// <param name="Assessment">What was calculated for it.</param>
/// <param name="Other">An option to set beside it, or null.</param>
/// <param name="DangerReason">Why it is published although a danger stands; null when none does.</param>
/// <param name="LinkLife">How long the first link works; null for the usual time.</param>
public sealed record PlanMatter(
    Guid OptionId, Guid Version, Design Design, Assessment Assessment, ComparedOption? Other = null, string? DangerReason = null, TimeSpan? LinkLife = null);

/// <summary>Where a plan is made and read again: an assessed option becomes a published text, the text a page or a PDF.</summary>
public sealed class PlanPress(Records.Plans plans, VanOptions options, VanBook vans, ClientBook clients, Firms firms) : IDisposable
{
    /// <summary>PDFs made at the same time; a PDF keeps one core busy.</summary>
    private static readonly int Presses = Math.Max(1, Environment.ProcessorCount - 1);

    private readonly SemaphoreSlim _free = new(Presses);

    /// <summary>Publishes the next revision of a van's plan with a first link.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The option was changed since <see cref="PlanMatter.Version"/>.</exception>
    /// <exception cref="InvalidInputException">The link's life is out of range, or a danger stands and no reason is given.</exception>
    public async Task<PublishedPlan> PublishAsync(SignedIn who, PlanMatter matter, CancellationToken cancellation = default)
    {
        // Asked for here as well as in the dialog, for the dangers only a whole year shows; the records ask the calculation
        // again for those of the stored design.
        if (matter.Assessment.Findings.Any(finding => finding.Severity == Severity.Danger) && DangerReason.Problem(matter.DangerReason) is { } problem)
        {
            throw new InvalidInputException([new(nameof(matter.DangerReason), problem + " It would be published although a danger stands.")]);
        }

        var option = await options.Load(who, matter.OptionId, cancellation) ?? throw new RecordNotFoundException("option", matter.OptionId);
        if (!DesignJson.Same(option.Design, matter.Design))
        {
            throw new RecordChangedException("option", matter.OptionId);
        }

        var van = await vans.Van(who, option.VanId, cancellation) ?? throw new RecordNotFoundException("van", option.VanId);
        var client = await clients.Client(who, van.ClientId, cancellation) ?? throw new RecordNotFoundException("client", van.ClientId);
        var firm = await firms.Mine(who, cancellation);
        return await plans.Publish(
            who,
            matter.OptionId,
            matter.Version,
            heading =>
            {
                var snapshot = PlanComposer.Compose(new PlanRequest
                {
                    Firm = new FirmBrand(firm.Name, firm.BrandColour, firm.ContactLine),
                    ClientName = client.Name,
                    VanName = van.Name,
                    OptionName = Title(option),
                    Revision = heading.Number,
                    PublishedAt = heading.PublishedAt,
                    Design = matter.Design,
                    DesignText = DesignJson.Write(matter.Design),
                    Assessment = matter.Assessment,
                    Units = firm.DisplayUnits(),
                    DangerReason = matter.DangerReason,
                    Other = matter.Other,
                });
                return new PlanText(PlanSnapshotJson.Write(snapshot), snapshot.Format, snapshot.MethodVersion);
            },
            matter.DangerReason,
            matter.LinkLife,
            cancellation);
    }

    /// <summary>An option to set beside the one that is published.</summary>
    public static ComparedOption Beside(Design published, LoadedOption other, Assessment assessment, DisplayUnits units) => new(
        Title(other),
        other.Design,
        assessment,
        [.. DifferenceWords.Of(published, other.Design, units).Select(d => $"{d.Field}: {d.First} here, {d.Second} there")]);

    /// <summary>A published plan as it was written.</summary>
    public static PlanSnapshot Read(OpenedPlan plan) => PlanSnapshotJson.Read(plan.SnapshotText);

    /// <summary>The plan as a PDF. Waits while as many are being made as the machine can bear.</summary>
    public async Task<byte[]> PdfAsync(OpenedPlan plan, CancellationToken cancellation)
    {
        await _free.WaitAsync(cancellation);
        try
        {
            return await Task.Run(() => PlanPdf.Write(Read(plan)).Bytes, cancellation);
        }
        finally
        {
            _free.Release();
        }
    }

    /// <summary>Name of the file a plan is saved under: plain letters only, for every file system.</summary>
    public static string FileName(PlanSnapshot plan)
    {
        var name = new string([.. SearchText.Of(plan.VanName).Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')]).Trim('-');
        name = name.Length > 60 ? name[..60] : name;
        return FormattableString.Invariant($"plan-{plan.Revision}{(name.Length == 0 ? "" : "-" + name)}.pdf");
    }

    public void Dispose() => _free.Dispose();

    private static string Title(LoadedOption option) => $"{option.Letter}, {option.Name}";
}
