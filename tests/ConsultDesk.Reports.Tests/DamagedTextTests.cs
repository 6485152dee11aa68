using System.Globalization;
using System.Text.Json;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Testing;
using Xunit;

namespace ConsultDesk.Reports.Tests;

/// <summary>
/// Numbers as nobody should type them, and stored plans with parts lost, doubled or replaced: each is read or refused with its
/// reason. DAMAGED_NUMBERS, DAMAGED_SETTINGS and DAMAGED_PLANS in the environment set how many (20,000; of plans, which are long,
/// 4,000); the seeds are fixed.
/// </summary>
public sealed class DamagedTextTests(ITestOutputHelper output)
{
    private const int NumberSeed = 20_261_201;
    private const int PlanSeed = 20_261_202;

    // Text is held in memory a few times over while it is read, whatever it says.
    private const int MostBytesPerCharacter = 400;
    private const int MostBytesAnyway = 4_000_000;

    private static readonly string[] Pieces =
    [
        "0", "1", "7", "9", "12", "350", "1000", "999999", "1234567", "99999999999999999999999", "1e308", "1e999", new string('9', 400), "0." + new string('0', 400) + "1",
        ".", ",", ",500", "1,500", "-", "−", "+", "/", "1/0", "3/4", "1 3/4", " ", "\u00A0", "\u202F", "\t", "'", "′", "\"", "″", "%", "°", "C", "F", "f", "k", "mm", "cm", "m", "in", "ft",
        "ft 6 in", "sq ft", "m2", "m²", "m³/h", "cfm", "BTU", "btu/h", "W", "kW", "kWh", "hPa", "inHg", "g", "g/h", "kg", "lb", "oz", "mph", "kn", "ppm", "h", "min",
        "NaN", "Infinity", "∞", "null", "=1+1", "<b>", "\u0000", "\uD834", "𝄞", "שלום", "١٢", "½", "µ", "parsec", "ly", "AU", "Å", "hectofoot",
    ];

    private static readonly string[] Scraps =
    [
        "{", "}", "[", "]", ",", ":", "\"", "\\", "null", "true", "-", "1e999", "1e308", "NaN", "0.1", "-1", "99999999999999999999", "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[",
        "\"kind\":\"figure\",", "\"format\":", "\"format\":\"one\"", "{\"format\":1}", "\u0000", "\\uD834", "𝄞", " ",
    ];

    [Fact]
    public void A_typed_number_is_read_in_its_range_or_refused_with_what_was_expected()
    {
        var count = Count("DAMAGED_NUMBERS");
        var wounds = new Wounds(NumberSeed);
        DisplayUnits[] systems = [DisplayUnits.Metric, DisplayUnits.Imperial];
        var measures = Enum.GetValues<Measure>();
        var read = 0;
        long largest = 0;
        for (var i = 0; i < count; i++)
        {
            var units = wounds.One(systems);
            var measure = wounds.One(measures);
            var text = wounds.Below(3) == 0
                ? wounds.Text(units.Format(measure, units.Quantity(measure, wounds.Below(5000) / 10.0)), Pieces)
                : wounds.Soup(Pieces, most: 7);
            var (low, high) = (units.Quantity(measure, -10), units.Quantity(measure, 1000));
            var before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                var typed = units.Parse(measure, text, low, high);
                Assert.Equal(typed.IsRead, typed.Error is null);
                if (typed.IsRead)
                {
                    read++;
                    Assert.InRange(units.Value(measure, typed.Value), -10 - 1e-6, 1000 + 1e-6);
                    // What was read can be shown and typed again.
                    Assert.NotEmpty(units.Format(measure, typed.Value));
                    Assert.True(units.Parse(measure, units.Entry(measure, typed.Value)).IsRead, text);
                }
                else
                {
                    Assert.Contains("Expected ", typed.Error, StringComparison.Ordinal);
                }

                // Without a range no more than a number is asked for.
                var any = units.Parse(measure, text);
                Assert.True(!any.IsRead || double.IsFinite(units.Value(measure, any.Value)), text);
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Text {i} for {measure} in {units.Name} threw {unexpected}\n{text}");
            }

            var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            largest = Math.Max(largest, allocated);
            Assert.True(allocated < Most(text), $"Text {i} took {allocated} bytes: {text}");
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} typed numbers, seed {NumberSeed}: {read} read, {count - read} refused; most memory for one {largest / 1024} KB"));
        Assert.InRange(read, 1, count - 1);
    }

    [Fact]
    public void A_damaged_plan_is_read_or_refused_and_nothing_else_happens() =>
        Stored("plans", Count("DAMAGED_PLANS", 4000), PlanSnapshotJson.Write(SamplePlan.Plan), PlanSnapshotJson.Read, PlanSnapshotJson.Write);

    [Fact]
    public void Damaged_settings_for_tonight_are_read_or_refused_and_nothing_else_happens() =>
        Stored("settings", Count("DAMAGED_SETTINGS"), Tonight.Write(), TonightSheet.Read, sheet => sheet.Write());

    // What the damaged texts once found: a format number that is no number was no refusal but a crash.
    [Theory]
    [InlineData("{\"format\":\"1\"}")]
    [InlineData("{\"format\":null}")]
    [InlineData("{\"format\":[1]}")]
    [InlineData("{\"format\":1e99}")]
    [InlineData("[]")]
    [InlineData("")]
    [InlineData("{\"format\":1,\"people\":[\"½\"]}")]
    [InlineData("{\"format\":1,\"\\uD834\":1}")]
    public void Settings_for_tonight_without_a_format_number_are_refused(string text) =>
        // An attribute cannot hold half of a character.
        Assert.ThrowsAny<JsonException>(() => TonightSheet.Read(text.Replace('½', '\uD834')));

    [Theory]
    [InlineData("\"Dry\"")]
    [InlineData("\"Roof lid: ajar\"")]
    [InlineData("[\"Frost on the cab glass\"]")]
    [InlineData("\"A flame without a flue\"")]
    public void Settings_for_tonight_with_a_gap_in_a_list_are_refused(string part)
    {
        var whole = Tonight.Write();
        Assert.Contains(part, whole, StringComparison.Ordinal);
        Assert.ThrowsAny<JsonException>(() => TonightSheet.Read(whole.Replace(part, "null", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_plan_with_half_of_a_character_an_endless_coordinate_or_a_missing_section_is_refused()
    {
        var whole = PlanSnapshotJson.Write(SamplePlan.Plan);
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(whole.Replace("Ana Ferreira", "Ana \uD834", StringComparison.Ordinal)));
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(whole.Replace("\"clientName\"", "\"\\uD834\"", StringComparison.Ordinal)));
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(whole.Replace("\"width\":", "\"width\":1e999,\"width\":", StringComparison.Ordinal).Replace("1e999,\"width\":", "1e999", StringComparison.Ordinal)));
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(whole.Replace("\"sections\":[", "\"sections\":[null,", StringComparison.Ordinal)));
        Assert.ThrowsAny<JsonException>(() => PlanSnapshotJson.Read(whole.Replace("\"blocks\":[", "\"blocks\":[null,", StringComparison.Ordinal)));
    }

    private static TonightSheet Tonight { get; } = new()
    {
        Format = TonightSheet.CurrentFormat,
        Temperatures = ["−5 °C", "0 °C", "5 °C"],
        Weathers = ["Dry", "Rain"],
        People = ["Two, cooked with gas"],
        Answers = [new("Dry windows", ["Open the roof lid by a hand"], ["Roof lid: ajar", "Window: shut"], "Heater at 16 °C", ["Frost on the cab glass"])],
        Cells = [0, TonightSheet.NotCalculated, 0, TonightSheet.NoSuchNight, 0, 0],
        Dangers = ["A flame without a flue"],
    };

    private void Stored<T>(string what, int count, string whole, Func<string, T> reader, Func<T, string> writer)
    {
        var wounds = new Wounds(PlanSeed);
        var (read, newer) = (0, 0);
        long largest = 0;
        for (var i = 0; i < count; i++)
        {
            var text = wounds.Text(whole, Scraps);
            var before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                var plan = reader(text);
                read++;
                // Written again by this version it reads as itself; an older format is only read.
                if (text.Contains("\"format\":" + whole[10], StringComparison.Ordinal))
                {
                    var once = writer(plan);
                    Assert.Equal(once, writer(reader(once)));
                }
            }
            catch (JsonException refused)
            {
                Assert.NotEmpty(refused.Message);
            }
            catch (NotSupportedException)
            {
                newer++;
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Text {i} threw {unexpected}\n{text}");
            }

            var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
            largest = Math.Max(largest, allocated);
            Assert.True(allocated < Most(text), $"Text {i} took {allocated} bytes.");
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{count} damaged {what}, seed {PlanSeed}: {read} read, {count - read} refused, {newer} of them as newer; most memory for one {largest / 1024} KB"));
        Assert.InRange(read, 1, count - 1);
    }

    private static long Most(string text) => MostBytesAnyway + ((long)MostBytesPerCharacter * text.Length);

    private static int Count(string variable, int usual = 20_000) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } asked ? int.Parse(asked, CultureInfo.InvariantCulture) : usual;
}
