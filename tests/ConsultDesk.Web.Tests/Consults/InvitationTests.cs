using System.Text;
using ConsultDesk.Records;
using ConsultDesk.Web.Consults;
using Ical.Net;
using Xunit;

namespace ConsultDesk.Web.Tests.Consults;

/// <summary>The calendar entry of a consult, held against RFC 5545 itself and read back.</summary>
public sealed class InvitationTests
{
    private const string Marker = "private-marker-7315";

    private static readonly Firm Firm = new() { Name = "Otter & Sons; Vans, Ltd", BrandColour = "#334455", ContactLine = "hello@otter.example.org", Currency = "EUR", Units = UnitPreset.Metric };

    [Fact]
    public void It_begins_and_ends_in_universal_time_whatever_the_clients_zone_is()
    {
        // 18:30 in Oslo in January is 17:30 UTC (zone database, Europe/Oslo).
        var text = Written("Heron");

        Assert.Contains("DTSTART:20270120T173000Z\r\n", text, StringComparison.Ordinal);
        Assert.Contains("DTEND:20270120T183000Z\r\n", text, StringComparison.Ordinal);
        Assert.Contains("DTSTAMP:20261130T090000Z\r\n", text, StringComparison.Ordinal);
        Assert.Contains("METHOD:PUBLISH\r\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain(Marker, text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Heron, the; old \\ one")]
    [InlineData("Heron\r\nATTENDEE:mailto:thief@example.org")]
    [InlineData("נועה 🚐 Ærø")]
    public void Names_are_escaped_as_RFC_5545_section_3_3_11_asks_and_come_back_as_they_were(string van)
    {
        var text = Written(van);

        Assert.DoesNotContain("\nATTENDEE", text, StringComparison.Ordinal);
        Assert.Equal("Consult about " + van.ReplaceLineEndings("\n"), Calendar.Load(text)!.Events.Single().Summary!.ReplaceLineEndings("\n"));
        // Section 3.1: lines end in CR LF and have at most 75 octets.
        Assert.All(text.Split("\r\n"), line => Assert.True(Encoding.UTF8.GetByteCount(line) <= 75 && !line.Contains('\n', StringComparison.Ordinal), line));
    }

    [Fact]
    public void A_long_name_is_folded()
    {
        var text = Written(new string('W', 300));

        Assert.All(text.Split("\r\n"), line => Assert.True(Encoding.UTF8.GetByteCount(line) <= 75, line));
        Assert.Equal("Consult about " + new string('W', 300), Calendar.Load(text)!.Events.Single().Summary);
    }

    private static string Written(string van) => Invitation.Write(
        new Consult { Id = Guid.Parse("0198f3a2-0000-7000-8000-000000000001"), StartsAt = new(2027, 1, 20, 17, 30, 0, DateTimeKind.Utc), Minutes = 60, TimeZone = "Europe/Oslo", PrivateNotes = Marker },
        van, Firm, new(2026, 11, 30, 9, 0, 0, DateTimeKind.Utc));
}
