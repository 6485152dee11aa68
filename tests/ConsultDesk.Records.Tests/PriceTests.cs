using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using CsCheck;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The price book as text and in the store.</summary>
public sealed class PriceTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Fact]
    public void The_default_book_reads_back_as_itself() => AssertSame(PriceBooks.Default, PriceCsv.Read(PriceCsv.Write(PriceBooks.Default)));

    [Fact]
    public void Any_book_reads_back_as_itself() => RandomBook.Sample(book => AssertSame(book, PriceCsv.Read(PriceCsv.Write(book))), iter: 300);

    [Fact]
    public void No_cell_begins_as_a_formula_does()
    {
        var item = PriceBooks.Default.Items[0];
        foreach (var name in new[] { "=1+1", "+A1", "-2", "@SUM(A1)", "'=1", "''", "' quote", "=HYPERLINK(\"http://evil.example\",\"x\")" })
        {
            var book = new PriceBook([item with { Name = name }]);
            var text = PriceCsv.Write(book);
            Assert.DoesNotMatch("(?m)(^|,)\"?[=+@-]", text);
            Assert.Equal(name, PriceCsv.Read(text).Items[0].Name);
        }
    }

    [Fact]
    public void Quotes_commas_and_doubled_quotes_are_read_as_RFC_4180_has_them()
    {
        var text = "key,kind,name,price,fitting,unit,fittedBy\r\na,smoke-alarm,\"Alarm, \"\"loud\"\"\",10,0,each,you\r\n";
        Assert.Equal("Alarm, \"loud\"", Assert.Single(PriceCsv.Read(text).Items).Name);
        // A byte order mark, line feeds alone, blank lines and columns in another order change nothing.
        var other = "\uFEFFkind,key,name,price,fitting,unit,fittedBy\n\nsmoke-alarm,a,Alarm,10,0,each,you\n\n";
        Assert.Equal("a", Assert.Single(PriceCsv.Read(other).Items).Key);
    }

    [Fact]
    public void Each_wrong_line_is_told_once_with_its_number_and_nothing_is_read()
    {
        var text = """
            key,kind,name,price,fitting,unit,fittedBy
            a,smoke-alarm,Alarm,10,0,each,you
            b,smoke-alarm,Alarm,ten,0,each,you
            c,smoke-alarm,"Ala"rm,10,0,each,you
            d,smoke-alarm,Alarm,10
            a,smoke-alarm,Alarm,10,0,each,you
            """;
        var wrong = Assert.Throws<PriceTableException>(() => PriceCsv.Read(text));
        Assert.Equal([3, 4, 5, 6], wrong.Errors.Select(error => error.Line));
        Assert.Equal(["price", "all", "all", "key"], wrong.Errors.Select(error => error.Column));
        Assert.All(wrong.Errors, error => Assert.StartsWith("Expected", error.Expected, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("key;kind;name\na;b;c")]
    [InlineData("key,kind,name,price,fitting,unit,fittedBy\n")]
    [InlineData("key,kind,name,price,fitting,unit,fittedBy\na,smoke-alarm,\"never closed,10,0,each,you\n")]
    [InlineData("{\"json\": true}")]
    public void What_is_no_price_table_is_refused_with_a_reason(string text) => Assert.NotEmpty(Assert.Throws<PriceTableException>(() => PriceCsv.Read(text)).Errors);

    [Fact]
    public void Ten_thousand_lines_are_read_and_a_wrong_last_one_is_found()
    {
        var text = new StringBuilder("key,kind,name,price,fitting,unit,fittedBy\n");
        for (var line = 0; line < 10_000; line++)
        {
            text.Append(CultureInfo.InvariantCulture, $"alarm-{line},smoke-alarm,Alarm {line},{line}.50,0,each,you\n");
        }

        Assert.Equal(10_000, PriceCsv.Read(text.ToString()).Items.Length);
        text.Append("last,smoke-alarm,Alarm,-1,0,each,you\n");
        Assert.Equal(10_002, Assert.Single(Assert.Throws<PriceTableException>(() => PriceCsv.Read(text.ToString())).Errors).Line);
    }

    [Fact]
    public void A_table_with_a_wrong_column_is_refused_by_its_heading_line()
    {
        var wrong = Assert.Throws<PriceTableException>(() => PriceCsv.Read("key,kind,name,cost,fitting,unit,fittedBy\na,smoke-alarm,Alarm,10,0,each,you\n"));
        Assert.All(wrong.Errors, error => Assert.Equal(1, error.Line));
        Assert.Contains("price", wrong.Errors.Select(error => error.Column));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Each_replaced_book_is_kept_with_who_replaced_it_and_an_item_tells_what_it_cost_when(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var prices = (FirmPrices)desk.App.GetService(typeof(FirmPrices))!;
        var start = await prices.Load(desk.Ada);
        var item = start.Book.Items[0];
        var first = desk.Time.Now.UtcDateTime;
        var one = await prices.Save(desk.Ada, start.Version, Priced(100));
        desk.Time.Now += TimeSpan.FromDays(1);
        var two = await prices.Save(desk.Ada, one.Version, Priced(120));
        desk.Time.Now += TimeSpan.FromDays(1);
        // Another item is changed: this one's history gets no entry of it.
        var three = await prices.Save(desk.Ada, two.Version, new(two.Book.Items.SetItem(1, two.Book.Items[1] with { Price = 7 })));
        await Assert.ThrowsAsync<RecordChangedException>(() => prices.Save(desk.Ada, two.Version, Priced(1)));
        await Assert.ThrowsAsync<PriceTableException>(() => prices.Import(desk.Ada, three.Version, "nonsense"));
        desk.Time.Now += TimeSpan.FromDays(1);
        await prices.BackToDefault(desk.Ada, three.Version);

        var history = await prices.HistoryOf(desk.Ben, item.Key);

        Assert.Equal([item.Price, 120m, 100m, item.Price], history.Select(past => past.Price));
        Assert.Equal([true, false, false, true], history.Select(past => past.WasDefault));
        Assert.Equal([null, 3, 1, 0], history.Select(past => past.Until is { } until ? (int?)Math.Round((until - first).TotalDays) : null));
        Assert.Equal([3, 1, 0, null], history.Select(past => past.From is { } from ? (int?)Math.Round((from - first).TotalDays) : null));
        Assert.Equal(["", "Ada Moor", "Ada Moor", "Ada Moor"], history.Select(past => past.ReplacedBy));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        // Four replaced books; what was refused left none.
        Assert.Equal(4, db.PastPrices.Count());
        Assert.Single(await prices.HistoryOf(desk.Stranger, item.Key));
        Assert.Equal([null, null], (await prices.HistoryOf(desk.Ada, "no-such-item")).Select(past => past.Price).Distinct().Append(null));

        PriceBook Priced(decimal price) => new(start.Book.Items.SetItem(0, item with { Price = price }));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_firm_starts_with_the_default_book_changes_its_own_and_goes_back(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var prices = (FirmPrices)desk.App.GetService(typeof(FirmPrices))!;
        var start = await prices.Load(desk.Ada);
        Assert.True(start.IsDefault);

        var item = start.Book.Items[0] with { Price = 123.45m };
        var mine = await prices.Save(desk.Ada, start.Version, new PriceBook(start.Book.Items.SetItem(0, item)));
        Assert.Equal(123.45m, (await prices.Load(desk.Ben)).Book.Items[0].Price);
        Assert.True((await prices.Load(desk.Stranger)).IsDefault);

        // Who had the default book open was overtaken, and so was who had the first version.
        await Assert.ThrowsAsync<RecordChangedException>(() => prices.Save(desk.Ada, null, start.Book));
        var imported = await prices.Import(desk.Ada, mine.Version, "key,kind,name,price,fitting,unit,fittedBy\na,smoke-alarm,Alarm,10,0,each,you\n");
        await Assert.ThrowsAsync<RecordChangedException>(() => prices.Save(desk.Ada, mine.Version, start.Book));
        await Assert.ThrowsAsync<RecordChangedException>(() => prices.BackToDefault(desk.Ada, mine.Version));
        Assert.Single((await prices.Load(desk.Ada)).Book.Items);

        await Assert.ThrowsAsync<PriceTableException>(() => prices.Import(desk.Ada, imported.Version, "nonsense"));
        await Assert.ThrowsAsync<NotAllowedException>(() => prices.Save(desk.Ben, imported.Version, start.Book));
        await Assert.ThrowsAsync<NotAllowedException>(() => prices.BackToDefault(desk.Ben, imported.Version));
        Assert.Single((await prices.Load(desk.Ada)).Book.Items);

        Assert.True((await prices.BackToDefault(desk.Ada, imported.Version)).IsDefault);
        Assert.True((await prices.Load(desk.Ada)).IsDefault);
    }

    private static Gen<PriceBook> RandomBook =>
        from count in Gen.Int[1, 20]
        from names in Gen.String[Gen.OneOf(Gen.Char['!', '~'], Gen.Const(','), Gen.Const('"'), Gen.Const('\''), Gen.Const('='), Gen.Const('é'), Gen.Const('م')), 1, 40].Array[count]
        from cents in Gen.Int[0, 100_000_000].Array[count]
        from at in Gen.Int[0, PriceBooks.Default.Items.Length - 1].Array[count]
        select new PriceBook(
        [
            .. Enumerable.Range(0, count).Select(index => PriceBooks.Default.Items[at[index]] with
            {
                Key = "item-" + index.ToString(CultureInfo.InvariantCulture),
                Name = names[index],
                Price = cents[index] / 100m,
            }),
        ]);

    private static void AssertSame(PriceBook expected, PriceBook actual) =>
        Assert.Equal(expected.Items.Select(item => string.Join('|', PriceTable.Cells(item))), actual.Items.Select(item => string.Join('|', PriceTable.Cells(item))));
}

/// <summary>The wishes as text and in the store.</summary>
public sealed class WishesTests(TestStores stores) : IClassFixture<TestStores>
{
    private static readonly Wishes Full = new()
    {
        BudgetNow = 2500.50m,
        BudgetLater = 0,
        MustHaves = ["A bed of 2 m", "Room for \"the\" dog"],
        WontHaves = [WontHave.SecondRoofHole, WontHave.Gas],
        OtherWontHaves = ["No noise"],
        LoudestAtBedDba = 35,
        Order = [Priority.Dry, Priority.Cheap, Priority.Looks],
        Looks = "Light wood\nno black",
    };

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Fact]
    public void Wishes_read_back_as_they_were_written()
    {
        foreach (var wishes in new[] { Full, new Wishes() })
        {
            Assert.Equal(WishesJson.Write(wishes), WishesJson.Write(WishesJson.Read(WishesJson.Write(wishes))));
        }

        var read = WishesJson.Read(WishesJson.Write(Full));
        Assert.Equal((Full.BudgetNow, Full.BudgetLater, Full.LoudestAtBedDba, Full.Looks), (read.BudgetNow, read.BudgetLater, read.LoudestAtBedDba, read.Looks));
        Assert.Equal(Full.Order, read.Order);
        Assert.Equal(Full.WontHaves, read.WontHaves);
        Assert.Equal(Full.MustHaves, read.MustHaves);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData("{\"format\":2,\"wishes\":{}}")]
    [InlineData("{\"format\":1,\"wishes\":{}}")]
    [InlineData("{\"format\":1,\"wishes\":{},\"more\":1}")]
    [InlineData("{\"format\":1,\"format\":1,\"wishes\":{}}")]
    public void A_text_that_is_no_wishes_is_refused(string text) => Assert.Throws<WishesTextException>(() => WishesJson.Read(text));

    [Fact]
    public void A_member_left_out_unknown_or_of_the_wrong_kind_is_refused()
    {
        var text = WishesJson.Write(Full);
        foreach (var damaged in new[]
        {
            text.Replace("\"looks\"", "\"look\"", StringComparison.Ordinal), text.Replace("\"dry\"", "\"damp\"", StringComparison.Ordinal),
            text.Replace("\"dry\"", "null", StringComparison.Ordinal), text.Replace("\"No noise\"", "null", StringComparison.Ordinal), text.Replace("2500.50", "\"much\"", StringComparison.Ordinal),
        })
        {
            Assert.NotEqual(text, damaged);
            Assert.Throws<WishesTextException>(() => WishesJson.Read(damaged));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Wishes_are_kept_with_the_van_over_the_version_that_was_loaded_and_erased_with_its_client(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var book = (WishesBook)desk.App.GetService(typeof(WishesBook))!;
        var client = await desk.Clients.AddClient(desk.Ada, new ClientInput("Wren Marsh"));
        var van = (await desk.Vans.AddVan(desk.Ada, client, new VanInput("Van", "long-high", "rear-platform-bed"), "A", SampleDesign.Van())).VanId;

        var empty = await book.Load(desk.Ada, van);
        Assert.Null(empty.Version);
        var first = await book.Save(desk.Ada, van, empty.Version, Full);
        Assert.Equal(Full.Looks, (await book.Load(desk.Ben, van)).Wishes.Looks);
        // The same again is not written again.
        Assert.Equal(first.Version, (await book.Save(desk.Ada, van, first.Version, Full)).Version);

        await Assert.ThrowsAsync<RecordChangedException>(() => book.Save(desk.Ben, van, empty.Version, new Wishes()));
        var second = await book.Save(desk.Ben, van, first.Version, Full with { Looks = "" });
        await Assert.ThrowsAsync<RecordChangedException>(() => book.Save(desk.Ada, van, first.Version, Full));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Load(desk.Stranger, van));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Save(desk.Stranger, van, second.Version, Full));

        await desk.Clients.EraseClient(desk.Ada, client);
        await Assert.ThrowsAsync<RecordNotFoundException>(() => book.Load(desk.Ada, van));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Empty(db.Wishes);
    }

    [Fact]
    public void Wrong_wishes_are_told_field_by_field()
    {
        var wrong = WishesBook.Errors(new Wishes
        {
            BudgetNow = -1,
            BudgetLater = 0.001m,
            LoudestAtBedDba = 90,
            Order = [Priority.Dry, Priority.Dry],
            MustHaves = [.. Enumerable.Repeat("x", WishesBook.MostLines + 1)],
            OtherWontHaves = [new string('x', TextLimits.Line + 1)],
        });
        Assert.Equal(
            ["BudgetLater", "BudgetNow", "LoudestAtBedDba", "MustHaves", "Order", "OtherWontHaves"], wrong.Select(error => error.Field).Order(StringComparer.Ordinal));
        Assert.Empty(WishesBook.Errors(Full));
    }
}
