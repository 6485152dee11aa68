using System.IO.Compression;
using System.Text;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Web.Tests.Consults;

/// <summary>What is noted in private never reaches anything a client can read: looked for by a mark over all bytes.</summary>
public sealed class PrivateNotesTests(DeskApp app) : IClassFixture<DeskApp>
{
    private const string ClientMark = "QXZCLIENTMARK";
    private const string ConsultMark = "QXZCONSULTMARK";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Private_notes_reach_neither_snapshot_nor_page_nor_pdf()
    {
        var who = await app.DemoConsultantAsync();
        var desk = app.Services.GetRequiredService<DeskList>();
        var line = (await desk.Vans(who, "The Heron", cancellation: Cancel)).Single();
        var clients = app.Services.GetRequiredService<ClientBook>();
        var client = (await clients.Client(who, line.ClientId, Cancel))!;
        await clients.ChangeClient(who, client.Id, client.Version, new(client.Name, client.Email, client.Country, $"Note {ClientMark} of hers"), Cancel);
        var consults = app.Services.GetRequiredService<ConsultBook>();
        foreach (var consult in await consults.Of(who, line.Id, Cancel))
        {
            Assert.IsType<NotesSaved>(await consults.SaveNotes(who, consult.Id, consult.Version, $"Note {ConsultMark} of ours", Cancel));
        }

        Assert.All(await consults.Of(who, line.Id, Cancel), consult => Assert.Contains(ConsultMark, consult.PrivateNotes, StringComparison.Ordinal));
        var options = app.Services.GetRequiredService<VanOptions>();
        var option = (await options.Load(who, (await options.OptionsOf(who, line.Id, Cancel)).Single(o => o.Letter == "B").Id, Cancel))!;
        var assessment = Assessor.Assess(option.Design, AssessmentDepth.Year, cancellation: Cancel);
        var press = app.Services.GetRequiredService<PlanPress>();
        var published = await press.PublishAsync(who, new(option.Id, option.Version, option.Design, assessment, DangerReason: "For this test."), Cancel);

        var stored = (await app.Services.GetRequiredService<Records.Plans>().Plan(who, published.PlanId, Cancel))!;
        using var visitor = app.Visitor();
        var page = await visitor.GetByteArrayAsync("/plan/" + published.Link.Token, Cancel);
        var pdf = await visitor.GetByteArrayAsync($"/plan/{published.Link.Token}/pdf", Cancel);

        // What is meant to be there is found by the same search, so that the search is known to work.
        Assert.True(Holds(Encoding.UTF8.GetBytes(stored.SnapshotText), line.Name));
        Assert.True(Holds(page, line.Name));
        Assert.Contains(line.Name, Letters(pdf), StringComparison.Ordinal);
        Assert.Contains(Inflated(pdf), bytes => Holds(bytes, "BT"));
        foreach (var mark in new[] { ClientMark, ConsultMark })
        {
            Assert.False(Holds(Encoding.UTF8.GetBytes(stored.SnapshotText), mark));
            Assert.False(Holds(page, mark));
            Assert.False(Holds(pdf, mark));
            Assert.DoesNotContain(Inflated(pdf), bytes => Holds(bytes, mark));
            Assert.DoesNotContain(mark, Letters(pdf), StringComparison.Ordinal);
        }
    }

    /// <summary>True when the bytes hold the text in one of the ways files write text.</summary>
    private static bool Holds(byte[] bytes, string text) =>
        new[] { Encoding.UTF8, Encoding.BigEndianUnicode, Encoding.Unicode }.Any(encoding => bytes.AsSpan().IndexOf(encoding.GetBytes(text)) >= 0)
        || bytes.AsSpan().IndexOf(Encoding.ASCII.GetBytes(Convert.ToHexString(Encoding.BigEndianUnicode.GetBytes(text)))) >= 0;

    /// <summary>The letters of all pages; fonts write them under numbers of their own.</summary>
    private static string Letters(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        return string.Concat(document.GetPages().Select(page => page.Text));
    }

    /// <summary>Every stream of the file that is deflated, inflated.</summary>
    private static List<byte[]> Inflated(byte[] pdf)
    {
        var streams = new List<byte[]>();
        var (begin, end) = ("stream"u8.ToArray(), "endstream"u8.ToArray());
        for (var at = 0; pdf.AsSpan(at).IndexOf(begin) is >= 0 and var found;)
        {
            var start = at + found + begin.Length;
            start += pdf[start] == '\r' ? 2 : 1;
            var length = pdf.AsSpan(start).IndexOf(end);
            using var inflated = new MemoryStream();
            // RFC 1950: the first byte of a deflated stream with the usual window is 0x78.
            if (length > 2 && pdf[start] == 0x78)
            {
                using var deflated = new ZLibStream(new MemoryStream(pdf, start, length), CompressionMode.Decompress);
                deflated.CopyTo(inflated);
                streams.Add(inflated.ToArray());
            }

            at = start + Math.Max(length, 0) + end.Length;
        }

        return streams;
    }
}
