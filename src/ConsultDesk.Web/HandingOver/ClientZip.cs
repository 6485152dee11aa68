using System.Globalization;
using System.IO.Compression;
using System.Text;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Figures;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Workspace;
using UnitsNet;

namespace ConsultDesk.Web.HandingOver;

/// <summary>Writes everything of one client into a zip: rows another desk takes over, and PDFs, tables and photos for people.</summary>
internal sealed class ClientZip(Records.HandingOver over, Records.Plans plans, PlanPress press, FirmPrices prices, Firms firms, WeatherFiles weather, ComputeQueue queue)
{
    /// <summary>Writes the zip piece by piece: no more than one photo or PDF is held at a time.</summary>
    /// <param name="who">Who saves it.</param>
    /// <param name="client">The client, read by <see cref="Records.HandingOver.Export"/>.</param>
    /// <param name="stream">Where to; written from front to back.</param>
    /// <param name="cancellation">Stops writing.</param>
    public async Task WriteAsync(SignedIn who, HandedClient client, Stream stream, CancellationToken cancellation)
    {
        var firm = await firms.Mine(who, cancellation);
        await using var pieces = new PieceStream(stream);
        async Task PutAsync(ZipArchive into, string name, byte[] bytes)
        {
            var packed = name.EndsWith(".jpg", StringComparison.Ordinal) || name.EndsWith(".hours", StringComparison.Ordinal);
            using (var file = into.CreateEntry(name, packed ? CompressionLevel.NoCompression : CompressionLevel.Fastest).Open())
            {
                file.Write(bytes);
            }

            await pieces.HandOnAsync(cancellation);
        }

        using (var zip = new ZipArchive(pieces, ZipArchiveMode.Create, leaveOpen: true))
        {
            await PutAsync(zip, "readme.txt", Text(Readme(client, firm)));
            await PutAsync(zip, HandoverZip.RowsName, client.Json);
            await PutAsync(zip, "options.csv", await OptionsAsync(who, client, firm.DisplayUnits(), cancellation));
            await PutAsync(zip, "parts.csv", Parts(client, (await prices.Load(who, cancellation)).Book, firm.Currency));
            await PutAsync(zip, "follow-ups.csv", FollowUpsTable(client));
            for (var i = 0; i < client.Plans.Count; i++)
            {
                if (await plans.Plan(who, client.Plans[i].Id, cancellation) is { } plan)
                {
                    var name = string.Create(CultureInfo.InvariantCulture, $"plans/{i + 1:00}-{PlanPress.FileName(PlanPress.Read(plan))}");
                    await PutAsync(zip, name, await PdfAsync(plan, cancellation));
                }
            }

            foreach (var (name, read) in client.Files)
            {
                // Erased while it was being saved: the file ends here, and does not look whole.
                var bytes = await read(cancellation) ?? throw new RecordNotFoundException("photo or weather file", Guid.Empty);
                await PutAsync(zip, name, bytes);
            }
        }

        // The list of what is in it, which a zip has at its end.
        await pieces.HandOnAsync(cancellation);
    }

    /// <summary>The same, of a firm's own client, found by its id.</summary>
    public Task<HandedClient> ReadAsync(SignedIn who, Guid clientId, CancellationToken cancellation) => over.Export(who, clientId, cancellation);

    /// <summary>Name of the file a client is saved under.</summary>
    public static string FileName(HandedClient client)
    {
        var name = new string([.. SearchText.Of(client.Name).Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')]).Trim('-');
        return (name.Length == 0 ? "client" : name.Length > 60 ? name[..60] : name) + ".zip";
    }

    private async Task<byte[]> PdfAsync(OpenedPlan plan, CancellationToken cancellation)
    {
        while (true)
        {
            try
            {
                return await press.PdfAsync(plan, cancellation);
            }
            catch (PressBusyException)
            {
                // Readers come first; whoever saves a client can wait.
                await Task.Delay(TimeSpan.FromMilliseconds(500), cancellation);
            }
        }
    }

    private static string Readme(HandedClient client, Firm firm) => $"""
        {client.Name}
        Saved by {firm.Name} on {client.SavedAt.ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture)} UTC.

        This file holds everything ConsultDesk keeps about this client, PRIVATE NOTES INCLUDED: notes on the client and of each consult that were
        never shown to the client. Do not pass it on without thinking of them.

        readme.txt       this text
        client.json      all rows, for another ConsultDesk: on its page Clients, "Take over a client" reads this zip.
                         Format {HandoverZip.RowsFormat}. Each list is a table, each member a column; times are UTC, numbers are SI with the unit in
                         their name. designText and snapshotText hold the van and the plan as they were stored.
        options.csv      the options, why they are there, and the main numbers of their night and year, reckoned anew when this was saved
        parts.csv        what each option still needs, by the price book of the day this was saved
        follow-ups.csv   the follow-ups
        plans/           each published plan as a PDF
        photos/          photos of the client and of what was built in
        weather/         hours of weather that were read for a van, packed

        Not in it: the links to plans and intakes (only a fingerprint of each is kept, so they cannot be handed over; make new ones),
        accounts and passwords, other clients, the price book, what searches of designs found (the other desk can search again), and who did
        what when (the audit).

        Where a cell of a table begins like a formula it has an apostrophe before it.

        {string.Join('\n', client.Counts.Select(count => string.Create(CultureInfo.InvariantCulture, $"{count.Kind}: {count.Count}")))}
        """;

    // A year is seconds of work: in the queue, behind whoever watches a screen.
    private async Task<byte[]> OptionsAsync(SignedIn who, HandedClient client, DisplayUnits units, CancellationToken cancellation)
    {
        List<string[]> rows = [];
        Dictionary<Guid, WeatherHours> hours = [];
        var turn = new object();
        var headed = false;
        foreach (var option in client.Options)
        {
            if (!hours.TryGetValue(option.VanId, out var read))
            {
                hours[option.VanId] = read = await weather.Hours(who, option.VanId, cancellation);
            }

            IReadOnlyList<Headline> numbers;
            try
            {
                var design = DesignJson.Read(option.DesignText);
                var assessment = await queue.RunAsync(
                    turn, Urgency.InTheEnd, stop => Assessor.Assess(design, read, AssessmentDepth.Year, cancellation: stop), cancellation);
                numbers = [.. Headlines.Of(design, assessment), .. Headlines.OfYear(design, assessment)];
            }
            catch (Exception failed) when (failed is DesignTextException or Calculations.CalculationFailedException or ArgumentException)
            {
                rows.Add([option.VanName, option.Letter, option.Name, option.Reason, "could not be reckoned: " + failed.Message]);
                continue;
            }

            if (!headed)
            {
                headed = true;
                rows.Insert(0, ["van", "letter", "option", "why", .. numbers.Select(number => number.Label + (units.Symbol(number.Measure) is { Length: > 0 } symbol ? $", {symbol}" : ""))]);
            }

            rows.Add([option.VanName, option.Letter, option.Name, option.Reason, .. numbers.Select(number => number.Value is { } value ? Entry(number.Measure, value, units) : "")]);
        }

        return Table(rows);
    }

    // The calculation gives water on an area as the mass on each square metre.
    private static string Entry(Measure measure, IQuantity value, DisplayUnits units) => units.Entry(
        measure, measure == Measure.WaterPerArea && value is Mass mass ? AreaDensity.FromKilogramsPerSquareMeter(mass.Kilograms) : value);

    private static byte[] Parts(HandedClient client, PriceBook book, string currency)
    {
        List<string[]> rows = [["van", "option", "part", "state", "priced as", "quantity", "unit", "price, " + currency, "fitting, " + currency]];
        foreach (var option in client.Options)
        {
            try
            {
                rows.AddRange(Costing.Of(DesignJson.Read(option.DesignText), book).Lines.Select(line => (string[])
                [
                    option.VanName, option.Letter, line.Name, line.State.ToString().ToLowerInvariant(), line.Item?.Name ?? "no price in the book",
                    line.Quantity.ToString("0.###", CultureInfo.InvariantCulture), line.Item?.Unit == PriceUnit.SquareMetre ? "m2" : "each",
                    line.Price?.ToString("0.00", CultureInfo.InvariantCulture) ?? "", line.Fitting?.ToString("0.00", CultureInfo.InvariantCulture) ?? "",
                ]));
            }
            catch (DesignTextException failed)
            {
                rows.Add([option.VanName, option.Letter, "could not be read: " + failed.Message]);
            }
        }

        return Table(rows);
    }

    private static byte[] FollowUpsTable(HandedClient client) => Table(
    [
        ["van", "due", "text", "done"],
        .. client.FollowUps.Select(f => (string[])[f.VanName, f.DueOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), f.Text, f.DoneAt?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? ""]),
    ]);

    private static byte[] Table(IEnumerable<string[]> rows) => Text(CsvText.Of(rows));

    // Spreadsheets and old editors take a text for another encoding unless it says its own at the start.
    private static byte[] Text(string text) => [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(text)];
}
