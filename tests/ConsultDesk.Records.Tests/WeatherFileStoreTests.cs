using ConsultDesk.Calculations.Climate;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

public sealed class WeatherFileStoreTests(TestStores stores) : IClassFixture<TestStores>
{
    private static HourlyWeather Invented(bool whole = true) => new()
    {
        TemperatureC = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => 8.123456 - (11 * Math.Cos(hour * Math.PI / 4380)) - (hour % 24 / 10.0))],
        DewPointC = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => 3.987654 - (11 * Math.Cos(hour * Math.PI / 4380)) - (hour % 24 / 10.0))],
        WindMPerS = whole ? [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => hour % 9 * 1.1111)] : [],
        SunWPerM2 = whole ? [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => hour % 24 * 20.06)] : [],
        SkyWPerM2 = whole ? [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => 250 + (hour % 90))] : [],
        Wet = whole ? [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => hour % 5 == 0)] : [],
    };

    internal static HourlyWeather Hours() => Invented();

    private static string FileOf(WeatherHours hours, string sha256) =>
        hours.Find(HourFiles.Of(Invented(), sha256, "f", new WeatherStation())) is { } found ? StoredHours.Sha256(StoredHours.Write(found)) : "";

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Hours_are_read_back_to_what_instruments_can_tell_and_then_never_change(bool whole)
    {
        var hours = Invented(whole);
        var bytes = StoredHours.Write(hours);
        var read = StoredHours.Read(bytes);
        Assert.Equal(bytes, StoredHours.Write(read));
        Assert.Equal(hours.Wet.AsEnumerable(), read.Wet);
        for (var hour = 0; hour < YearWeather.Hours; hour++)
        {
            Assert.Equal(hours.TemperatureC[hour], read.TemperatureC[hour], 0.0050001);
            Assert.Equal(hours.DewPointC[hour], read.DewPointC[hour], 0.0050001);
            if (whole)
            {
                Assert.Equal(hours.WindMPerS[hour], read.WindMPerS[hour], 0.0050001);
                Assert.Equal(hours.SunWPerM2[hour], read.SunWPerM2[hour], 0.050001);
                Assert.Equal(hours.SkyWPerM2[hour], read.SkyWPerM2[hour], 0.050001);
            }
        }
    }

    [Fact]
    public void Damaged_bytes_are_refused()
    {
        var bytes = StoredHours.Write(Invented());
        Assert.Throws<InvalidDataException>(() => StoredHours.Read([]));
        Assert.Throws<InvalidDataException>(() => StoredHours.Read(bytes.AsSpan(0, bytes.Length - 1)));
        Assert.Throws<InvalidDataException>(() => StoredHours.Read((byte[])[.. bytes, 0]));
        bytes[0] = 2;
        Assert.Throws<InvalidDataException>(() => StoredHours.Read(bytes));
    }

    [Theory]
    [MemberData(nameof(TestStores.Both), MemberType = typeof(TestStores))]
    public async Task A_file_is_kept_once_for_its_van_and_no_other_firm_sees_it(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, van, _) = await desk.AddVan();
        var files = desk.App.GetRequiredService<WeatherFiles>();
        var kept = await files.Keep(desk.Ada, van, "my place.epw", Invented());
        Assert.Equal(kept.Sha256, (await files.Keep(desk.Ada, van, "the same again.epw", Invented())).Sha256);

        Assert.Equal(kept.Sha256, FileOf(await files.Hours(desk.Ada, van), kept.Sha256));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => files.Keep(desk.Stranger, van, "f", Invented()));
        Assert.Equal("", FileOf(await files.Hours(desk.Stranger, van), kept.Sha256));
        await Assert.ThrowsAsync<InvalidInputException>(() => files.Keep(desk.Ada, van, new string('x', TextLimits.Name + 1), Invented()));

        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            var row = await db.WeatherFiles.SingleAsync();
            Assert.Equal("my place.epw", row.FileName);
            Assert.InRange(row.Hours.Length, 100, 200_000);
            row.Hours = [.. row.Hours[..^40], .. row.Hours[^39..]];
            await db.SaveChangesAsync();
        }

        // Damaged: its place is then calculated from its months.
        Assert.Equal("", FileOf(await files.Hours(desk.Ada, van), kept.Sha256));

        await desk.Clients.EraseClient(desk.Ada, client);
        await using var after = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(0, await after.WeatherFiles.CountAsync());
    }

    [Fact]
    public async Task A_van_has_no_end_of_files()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, van, _) = await desk.AddVan();
        var files = desk.App.GetRequiredService<WeatherFiles>();
        for (var count = 0; count < WeatherFiles.MostOfVan; count++)
        {
            await files.Keep(desk.Ada, van, "f", Invented() with { WindMPerS = [.. Enumerable.Repeat((double)count, YearWeather.Hours)] });
        }

        var refused = await Assert.ThrowsAsync<InvalidInputException>(() => files.Keep(desk.Ada, van, "f", Invented()));
        Assert.Contains("20 weather files", refused.Message, StringComparison.Ordinal);
    }
}
