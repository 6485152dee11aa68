using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Workspace;

namespace ConsultDesk.Web.Plans;

/// <summary>
/// Where a plan is made and read again: the option as it is stored is assessed, composed and published; a published
/// text becomes a page or a PDF.
/// </summary>
public sealed class PlanPress(Records.Plans plans, VanOptions options, VanBook vans, ClientBook clients, Firms firms) : IDisposable
{
    /// <summary>PDFs made at the same time; a PDF keeps one core busy.</summary>
    private static readonly int Presses = Math.Max(1, Environment.ProcessorCount - 1);

    private readonly SemaphoreSlim _free = new(Presses);

    /// <summary>Publishes the next revision of a van's plan from an option as it is stored.</summary>
    /// <param name="who">Who publishes.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="loadedVersion">Version of the option the consultant looked at when deciding to publish.</param>
    /// <param name="otherId">An option of the same van to set beside it, or null.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The option was changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<PublishedPlan> PublishAsync(SignedIn who, Guid optionId, Guid loadedVersion, Guid? otherId = null, CancellationToken cancellation = default)
    {
        var option = await options.Load(who, optionId, cancellation) ?? throw new RecordNotFoundException("option", optionId);
        var van = await vans.Van(who, option.VanId, cancellation) ?? throw new RecordNotFoundException("van", option.VanId);
        var client = await clients.Client(who, van.ClientId, cancellation) ?? throw new RecordNotFoundException("client", van.ClientId);
        var firm = await firms.Mine(who, cancellation);
        var units = DisplayUnits.Named(firm.Units.ToString());
        var other = otherId is { } id ? await options.Load(who, id, cancellation) ?? throw new RecordNotFoundException("option", id) : null;
        if (other is not null && other.VanId != option.VanId)
        {
            throw new RecordNotFoundException("option", other.Id);
        }

        var assessment = await Task.Run(() => Assessor.Assess(option.Design, cancellation), cancellation);
        var compared = other is null
            ? null
            : new ComparedOption(Title(other), other.Design, await Task.Run(() => Assessor.Assess(other.Design, cancellation), cancellation), Differences(option, other, units));
        return await plans.Publish(
            who,
            optionId,
            loadedVersion,
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
                    Design = option.Design,
                    DesignText = DesignJson.Write(option.Design),
                    Assessment = assessment,
                    Units = units,
                    Other = compared,
                });
                return new PlanText(PlanSnapshotJson.Write(snapshot), snapshot.Format, snapshot.MethodVersion);
            },
            cancellation: cancellation);
    }

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

    private static ImmutableArray<string> Differences(LoadedOption option, LoadedOption other, DisplayUnits units) =>
        [.. DifferenceWords.Of(option.Design, other.Design, units).Select(d => $"{d.Field}: {d.First} in {option.Letter}, {d.Second} in {other.Letter}")];
}
