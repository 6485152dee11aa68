using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.JSInterop;

namespace ConsultDesk.Web.Prices;

/// <summary>The firm's price book. Owners change it, consultants read it.</summary>
public sealed partial class PricesPage(FirmPrices prices)
{
    /// <summary>Largest table that is read, bytes.</summary>
    public const long LargestTable = 2_000_000;

    // A table with more wrong lines has one fault, told often enough.
    private const int MostErrors = 100;

    private static readonly bool[] Amounts = [false, true];

    // What was typed and not taken, by item and whether it is the fitting.
    private readonly Dictionary<(string Key, bool Fitting), string> _typed = [];
    private readonly Dictionary<(string Key, bool Fitting), string> _wrong = [];
    private LoadedPrices? _loaded;
    private IReadOnlyList<PriceTableError> _errors = [];
    private string? _importError;
    private string? _problem;
    private string? _news;
    private bool _conflict;
    private bool _sure;
    private string? _historyOf;
    private IReadOnlyList<PastPrice> _history = [];

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [CascadingParameter]
    private Firm Firm { get; set; } = default!;

    [CascadingParameter]
    private DisplayUnits Units { get; set; } = DisplayUnits.Metric;

    private bool IsOwner => Who.Role == DeskRole.Owner;

    private string ErrorHead => _errors.Count switch
    {
        1 => "One line is wrong, so nothing was taken.",
        <= MostErrors => string.Create(CultureInfo.InvariantCulture, $"{_errors.Count} lines are wrong, so nothing was taken."),
        _ => string.Create(CultureInfo.InvariantCulture, $"{_errors.Count} lines are wrong, so nothing was taken. The first {MostErrors}:"),
    };

    protected override Task OnInitializedAsync() => ReadAsync();

    private static string Plain(decimal amount) => amount.ToString("0.##", CultureInfo.InvariantCulture);

    private string? Error(PriceItem item, bool fitting) => _wrong.GetValueOrDefault((item.Key, fitting));

    private async Task ShowHistoryAsync(string key)
    {
        if (_historyOf == key)
        {
            _historyOf = null;
            return;
        }

        try
        {
            _history = await prices.HistoryOf(Who, key);
            _historyOf = key;
        }
        catch (PriceTableException damaged)
        {
            _problem = "A stored price book cannot be read, and is left as it is: " + damaged.Message;
        }
    }

    private async Task ReadAsync()
    {
        _historyOf = null;
        try
        {
            _loaded = await prices.Load(Who);
            _problem = null;
        }
        catch (PriceTableException damaged)
        {
            _problem = "The stored price book cannot be read, and is left as it is: " + damaged.Message;
        }
    }

    private async Task SetAsync(PriceItem item, bool fitting, ChangeEventArgs change)
    {
        var text = change.Value?.ToString()?.Trim() ?? "";
        _typed[(item.Key, fitting)] = text;
        _wrong.Remove((item.Key, fitting));
        (_news, _conflict) = (null, false);
        if (!decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount)
            || PriceTable.Errors(fitting ? item with { Fitting = amount } : item with { Price = amount }) is { IsEmpty: false })
        {
            _wrong[(item.Key, fitting)] = string.Create(CultureInfo.InvariantCulture, $"Expected 0 to {PriceTable.HighestPrice} with at most two decimals after a point.");
            return;
        }

        var book = new PriceBook(_loaded!.Book.Items.Replace(item, fitting ? item with { Fitting = amount } : item with { Price = amount }));
        await StoreAsync(() => prices.Save(Who, _loaded.Version, book), $"Saved: {item.Name}.");
        if (!_conflict)
        {
            _typed.Remove((item.Key, fitting));
        }
    }

    private async Task ImportAsync(InputFileChangeEventArgs chosen)
    {
        (_errors, _importError, _news, _conflict) = ([], null, null, false);
        if (chosen.File.Size > LargestTable)
        {
            _importError = string.Create(CultureInfo.InvariantCulture, $"Expected a table of at most 2 MB, got {chosen.File.Size / 1e6:0.0} MB.");
            return;
        }

        string table;
        try
        {
            using var bytes = new MemoryStream();
            await using (var file = chosen.File.OpenReadStream(LargestTable))
            {
                await file.CopyToAsync(bytes);
            }

            table = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(bytes.ToArray());
        }
        catch (DecoderFallbackException)
        {
            _importError = "Expected text in UTF-8. Save the table again as \"CSV UTF-8\".";
            return;
        }
        catch (Exception e) when (e is IOException or JSException)
        {
            _importError = "The file could not be read to its end. Choose it again.";
            return;
        }

        try
        {
            await StoreAsync(() => prices.Import(Who, _loaded?.Version, table), "The table was taken.");
            if (!_conflict)
            {
                _typed.Clear();
                _wrong.Clear();
            }
        }
        catch (PriceTableException wrong)
        {
            _errors = wrong.Errors;
        }
    }

    private Task BackToDefaultAsync()
    {
        _sure = false;
        _typed.Clear();
        _wrong.Clear();
        return StoreAsync(() => prices.BackToDefault(Who, _loaded!.Version), "The default book is in use again.");
    }

    private async Task StoreAsync(Func<Task<LoadedPrices>> store, string news)
    {
        try
        {
            _loaded = await store();
            _historyOf = null;
            _news = news;
        }
        catch (RecordChangedException)
        {
            _conflict = true;
            await ReadAsync();
        }
    }
}
