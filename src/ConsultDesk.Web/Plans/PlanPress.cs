using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
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
/// <param name="Own">The client's own idea, option A, to set the plan against; not needed when the plan is for it, null to leave it out.</param>
/// <param name="Tonight">Tonight's settings of that design; null to publish without them.</param>
public sealed record PlanMatter(
    Guid OptionId,
    Guid Version,
    Design Design,
    Assessment Assessment,
    AssessedOption? Other = null,
    string? DangerReason = null,
    TimeSpan? LinkLife = null,
    AssessedOption? Own = null,
    TonightTable? Tonight = null)
{
    /// <summary>Further options of the van that were weighed, with what was calculated for them.</summary>
    public IReadOnlyList<AssessedOption> Considered { get; init; } = [];
}

/// <summary>An option and what was calculated for it.</summary>
public sealed record AssessedOption(LoadedOption Option, Assessment Assessment);

/// <summary>What a plan is going to say first.</summary>
/// <param name="Things">The things to do.</param>
/// <param name="OpenPoints">Points of the agenda that are still open.</param>
/// <param name="BrokenWishes">Wishes the option breaks.</param>
/// <param name="Before">Number of the revision before; null for the first.</param>
public sealed record PlanPreview(IReadOnlyList<PlanThing> Things, IReadOnlyList<string> OpenPoints, IReadOnlyList<string> BrokenWishes, int? Before)
{
    /// <summary>When the designs it shows compared were found, UTC; null when it shows none.</summary>
    public DateTime? DesignsFoundAt { get; init; }

    /// <summary>Characters the fonts of the PDF lack; each is printed as its code point in brackets.</summary>
    public IReadOnlyList<string> Unprintable { get; init; } = [];
}

/// <summary>Where a plan is made and read again: an assessed option becomes a published text, the text a page or a PDF.</summary>
public sealed class PlanPress(
    Records.Plans plans,
    VanOptions options,
    VanBook vans,
    ClientBook clients,
    Firms firms,
    FirmLogos logos,
    FirmPrices prices,
    WishesBook wishes,
    DecisionBook decisions,
    DeclinedAdviceBook declined,
    SearchBook searches) : IDisposable
{
    /// <summary>Letter of the client's own idea.</summary>
    public const string OwnLetter = "A";

    // A household that opens a plan turns its sheets within minutes; 16 plans are some megabytes (own choice).
    private static readonly PlanShelf Shelf = new(16, TimeSpan.FromMinutes(5), TimeProvider.System);

    /// <summary>PDFs made at the same time; a PDF keeps one core busy.</summary>
    private static readonly int Presses = Math.Max(1, Environment.ProcessorCount - 1);

    /// <summary>PDFs that may wait for a press; one takes a second or less, so nobody waits longer than a browser would.</summary>
    private const int MostWaiting = 8;

    /// <summary>Where PDFs wait their turn.</summary>
    internal PressQueue Queue { get; } = new(Presses, MostWaiting);

    /// <summary>Publishes the next revision of a van's plan with a first link.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The option was changed since <see cref="PlanMatter.Version"/>.</exception>
    /// <exception cref="InvalidInputException">The link's life is out of range, or a danger stands and no reason is given.</exception>
    /// <exception cref="PublishRefusedException">The designs that are to stand in it cannot be read.</exception>
    public async Task<PublishedPlan> PublishAsync(SignedIn who, PlanMatter matter, CancellationToken cancellation = default)
    {
        // Asked for here as well as in the dialog, for the dangers only a whole year shows; the records ask the calculation
        // again for those of the stored design.
        if (matter.Assessment.Findings.Any(finding => finding.Severity == Severity.Danger) && DangerReason.Problem(matter.DangerReason) is { } problem)
        {
            throw new InvalidInputException([new(nameof(matter.DangerReason), problem + " It would be published although a danger stands.")]);
        }

        var request = await RequestAsync(who, matter, cancellation);

        // Remedies are tried to price them, some through whole years: before the store is locked for the new revision.
        request = request with { Things = await Task.Run(() => new ThingsToDo(request).Pick(), cancellation) };
        var tonight = matter.Tonight is { } table
            ? TonightWords.Of(matter.Design, table, matter.Assessment.Findings.Where(finding => finding.Severity == Severity.Danger).Select(danger => danger.Title), request.Units).Write()
            : null;
        return await plans.Publish(
            who,
            matter.OptionId,
            matter.Version,
            heading =>
            {
                var snapshot = PlanComposer.Compose(request with { Revision = heading.Number, PublishedAt = heading.PublishedAt });
                return new PlanText(PlanSnapshotJson.Write(snapshot), snapshot.Format, snapshot.MethodVersion, tonight);
            },
            matter.DangerReason,
            matter.LinkLife,
            cancellation);
    }

    /// <summary>What the plan is going to say first; nothing is published.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The stored design is another one.</exception>
    /// <exception cref="PublishRefusedException">The designs that are to stand in it cannot be read.</exception>
    public async Task<PlanPreview> PreviewAsync(SignedIn who, PlanMatter matter, CancellationToken cancellation = default)
    {
        var request = await RequestAsync(who, matter, cancellation);
        var option = await options.Load(who, matter.OptionId, cancellation) ?? throw new RecordNotFoundException("option", matter.OptionId);
        var open = (await decisions.Of(who, option.VanId, cancellation)).Where(point => point.State == DecisionState.Open);

        // A remedy is tried on the design to price it: not while the screen waits.
        var plan = await Task.Run(() => PlanComposer.Compose(request), cancellation);
        return new PlanPreview(
            [.. plan.Sections.SelectMany(section => section.Blocks).OfType<ThingsBlock>().SelectMany(block => block.Things)],
            [.. open.Select(point => DecisionWords.Of(point.Topic))],
            request.Cost?.BrokenWishes ?? [],
            request.Before?.Revision)
        {
            DesignsFoundAt = request.Searched?.FoundAt,
            Unprintable = PlanPdf.Unprintable(plan),
        };
    }

    private async Task<PlanRequest> RequestAsync(SignedIn who, PlanMatter matter, CancellationToken cancellation)
    {
        var option = await options.Load(who, matter.OptionId, cancellation) ?? throw new RecordNotFoundException("option", matter.OptionId);
        if (!DesignJson.Same(option.Design, matter.Design))
        {
            throw new RecordChangedException("option", matter.OptionId);
        }

        var van = await vans.Van(who, option.VanId, cancellation) ?? throw new RecordNotFoundException("van", option.VanId);
        var client = await clients.Client(who, van.ClientId, cancellation) ?? throw new RecordNotFoundException("client", van.ClientId);
        var firm = await firms.Mine(who, cancellation);
        var units = FirmUnits.Of(UnitBook.Of(client)) ?? firm.DisplayUnits();
        var logo = await logos.Logo(who, cancellation);
        var book = (await prices.Load(who, cancellation)).Book;
        var wanted = (await wishes.Load(who, van.Id, cancellation)).Wishes;
        var points = await decisions.Of(who, van.Id, cancellation);
        var advice = await declined.Of(who, van.Id, cancellation);
        var cost = Cost(matter.Design);
        return new PlanRequest
        {
            Firm = new FirmBrand(firm.Name, firm.BrandColour, firm.ContactLine)
            {
                Paper = firm.Paper switch
                {
                    PaperSize.A4 => PlanPaper.A4,
                    PaperSize.Letter => PlanPaper.Letter,
                    _ => throw new InvalidOperationException($"No paper for {firm.Paper}."),
                },
                Email = firm.Email,
                Terms = firm.Terms,
            },
            Logo = logo is null ? null : new PlanPicture(logo.Png, logo.Width, logo.Height),
            ClientName = client.Name,
            VanName = van.Name,
            OptionName = Title(option),
            Revision = 1,
            PublishedAt = DateTime.UnixEpoch,
            Design = matter.Design,
            DesignText = DesignJson.Write(matter.Design),
            Assessment = matter.Assessment,
            Units = units,
            DangerReason = matter.DangerReason,
            Other = matter.Other is { } other ? Beside(matter.Design, other.Option, other.Assessment, units) : null,
            Considered = await ConsideredAsync(),
            Searched = await SearchedAsync(),
            Wishes = wanted,
            Cost = cost,
            Own = option.Letter == OwnLetter ? new OwnIdea(Title(option), matter.Design, matter.Assessment, cost, IsPublished: true, [])
                : matter.Own is { } own ? new OwnIdea(
                    Title(own.Option), own.Option.Design, own.Assessment, Cost(own.Option.Design), IsPublished: false, Differences(matter.Design, own.Option.Design, units))
                : null,
            Decisions = [.. points.Where(point => point.State == DecisionState.Decided).Select(point => new PlanDecision(DecisionWords.Of(point.Topic), point.What, point.Why, point.Who))],
            Declined =
            [
                .. points.Where(point => point.State == DecisionState.Declined).Select(point => new PlanDeclined(null, $"{DecisionWords.Of(point.Topic)}: {point.What}", point.Why, point.Who)),
                .. advice.Select(line => new PlanDeclined(line.FindingCode, line.Advice, line.Why, line.Who)),
            ],
            Before = await BeforeAsync(who, van.Id, matter.Design, units, cancellation),
        };

        async Task<ImmutableArray<ConsideredOption>> ConsideredAsync()
        {
            AssessedOption?[] beside = [new AssessedOption(option, matter.Assessment), matter.Own, matter.Other, .. matter.Considered];
            var known = beside.OfType<AssessedOption>().DistinctBy(one => one.Option.Id).ToDictionary(one => one.Option.Id);
            return
            [
                .. (await options.OptionsOf(who, van.Id, cancellation)).Select(line => new ConsideredOption(
                    $"{line.Letter}, {line.Name}",
                    line.Reason,
                    line.Id == option.Id,
                    known.GetValueOrDefault(line.Id)?.Assessment.Year?.WetMornings.Count,
                    known.TryGetValue(line.Id, out var one) ? Costing.Of(one.Option.Design, book).Now : null)),
            ];
        }

        async Task<SearchedDesigns?> SearchedAsync()
        {
            // Reading unpacks and checks every design: not on the thread of a page.
            if (await Task.Run(() => searches.InPlanOf(who, van.Id, cancellation), cancellation) is not { } inPlan)
            {
                return null;
            }

            if (inPlan.Found is not { } found)
            {
                throw new PublishRefusedException($"The designs that are to stand in the plan are damaged. {inPlan.Damage} Take them out of the plan in the part Designs of the results, or search again and show the new ones.");
            }

            return new(found, inPlan.FoundAt, await Task.Run(() => Chosen(found), cancellation));
        }

        // Of a design that was found, what was found of it: prices may have changed since.
        ObjectiveNumbers? Chosen(KeptSearch found)
        {
            var at = found.Designs.TakeWhile(design => !DesignJson.Same(design, matter.Design)).Count();
            return at < found.Designs.Length ? found.Result.Front[at].Numbers
                : found.Result.Start is { } start && DesignJson.Same(found.Asked, matter.Design) ? start
                : matter.Assessment.Year is { } year ? found.NumbersOf(matter.Design, year, book)
                : null;
        }

        PlanCost Cost(Design design)
        {
            var sheet = Costing.Of(design, book);
            return new(
                sheet,
                firm.Currency,
                [.. WishCheck.Broken(design, sheet, wanted).Select(broken => WishWords.Of(broken, firm.Currency))],
                changed => Costing.Of(changed, book))
            {
                Tax = Prices.FirmTax.Of(firm),
                Book = book,
            };
        }
    }

    /// <summary>The revision published last; null before the first.</summary>
    private async Task<PlanBefore?> BeforeAsync(SignedIn who, Guid vanId, Design now, DisplayUnits units, CancellationToken cancellation)
    {
        if ((await plans.PlansOf(who, vanId, cancellation)) is not [var last, ..] || await plans.Plan(who, last.Id, cancellation) is not { } opened)
        {
            return null;
        }

        var snapshot = Read(opened);
        ImmutableArray<string> changes;
        try
        {
            changes = [.. DifferenceWords.Of(DesignJson.Read(snapshot.DesignText), now, units).Select(d => $"{d.Field}: {d.Second}, was {d.First}")];
        }
        catch (DesignTextException)
        {
            changes = ["The inputs of that revision cannot be read any more: its own text still shows what they were"];
        }

        return PlanBefore.Of(snapshot, changes);
    }

    private static ComparedOption Beside(Design published, LoadedOption other, Assessment assessment, DisplayUnits units) => new(
        Title(other),
        other.Design,
        assessment,
        Differences(published, other.Design, units));

    private static ImmutableArray<string> Differences(Design published, Design other, DisplayUnits units) =>
        [.. DifferenceWords.Of(published, other, units).Select(d => $"{d.Field}: {d.First} here, {d.Second} there")];

    /// <summary>A published plan as it was written.</summary>
    public static PlanSnapshot Read(OpenedPlan plan) => Shelf.Read(plan);

    /// <summary>The plan as a PDF. Waits while as many are being made as the machine can bear.</summary>
    /// <exception cref="PressBusyException">Too many wait already.</exception>
    public Task<byte[]> PdfAsync(OpenedPlan plan, CancellationToken cancellation) =>
        Queue.RunAsync(() => PlanPdf.Write(Read(plan)).Bytes, cancellation);

    /// <summary>Name of the file a plan is saved under: plain letters only, for every file system.</summary>
    public static string FileName(PlanSnapshot plan)
    {
        var name = new string([.. SearchText.Of(plan.VanName).Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')]).Trim('-');
        name = name.Length > 60 ? name[..60] : name;
        return FormattableString.Invariant($"plan-{plan.Revision}{(name.Length == 0 ? "" : "-" + name)}.pdf");
    }

    public void Dispose() => Queue.Dispose();

    private static string Title(LoadedOption option) => $"{option.Letter}, {option.Name}";
}
