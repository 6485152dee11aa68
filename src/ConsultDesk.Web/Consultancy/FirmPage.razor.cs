using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.JSInterop;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The firm: what its plans carry, its currency and its units. Owners change it, consultants read it.</summary>
public sealed partial class FirmPage(Firms firms, FirmLogos logos)
{
    /// <summary>A picture of forty megapixels takes 160 MB while it is read: one at a time, whoever uploads it.</summary>
    private static readonly SemaphoreSlim OnePicture = new(1);

    private readonly FormFields _fields = new();
    private FirmForm? _form;
    private Guid _version;
    private (Guid Version, int Width, int Height)? _logo;
    private string? _unitTrouble;
    private string? _logoError;
    private string? _logoNews;
    private string? _saved;
    private bool _reading;
    private bool _saving;
    private bool _conflict;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [CascadingParameter]
    private DeskLayout? Layout { get; set; }

    private bool IsOwner => Who.Role == DeskRole.Owner;

    // The version is there for the browser: another logo has another address.
    private string? LogoAddress => _logo is { } logo ? $"{ConsultancyRegistration.LogoPath}?v={logo.Version:N}" : null;

    private string LogoState => (_reading, _logoNews, _logo) switch
    {
        (true, _, _) => "Reading the picture…",
        (_, { } news, _) => news,
        (_, _, { } logo) => string.Create(CultureInfo.InvariantCulture, $"Kept: {logo.Width} by {logo.Height} pixels, shown above. If it is lost on one of the papers, give it a light or a dark edge."),
        _ => "No logo: plans carry the name alone.",
    };

    private string ColourHint => _form!.Colour is { } colour
        ? string.Create(
            CultureInfo.InvariantCulture,
            $"{(colour.On == "#ffffff" ? "White" : "Black")} text on it has a contrast of {colour.ContrastOn:0.0}:1. As writing it is {Ink(colour.LightInk)} on light paper and {Ink(colour.DarkInk)} on dark.")
        : "As # and six hexadecimal digits, for example #1f6f5c";

    protected override Task OnInitializedAsync() => ReadAsync();

    private string Ink(string ink) => ink == _form!.Colour!.Hex ? "used as it is" : $"changed to {ink} to be readable";

    private async Task ReadAsync()
    {
        var firm = await firms.Mine(Who);
        await ReadLogoAsync();
        (_version, _conflict) = (firm.Version, false);
        _form = FirmForm.Of(firm, out _unitTrouble);
        _fields.Show([]);
    }

    private async Task ReadLogoAsync()
    {
        var logo = await logos.Logo(Who);
        _logo = logo is null ? null : (logo.Version, logo.Width, logo.Height);
    }

    private void Pick(ChangeEventArgs change)
    {
        _form!.BrandColour = change.Value?.ToString();
        _fields.Forget(nameof(FirmInput.BrandColour));
    }

    private void Choose(DisplayUnits units) => (_form!.Units, _unitTrouble) = (units, null);

    private async Task SaveAsync()
    {
        if (_saving || !IsOwner)
        {
            return;
        }

        _saving = true;
        _saved = null;
        try
        {
            _version = await firms.Change(Who, _version, _form!.Input());
            _form.Currency = _form.Input().Currency;
            (_saved, _unitTrouble, _conflict) = ("Saved.", null, false);
            _fields.Show([]);
            if (Layout is not null)
            {
                await Layout.ReadFirmAsync();
            }
        }
        catch (InvalidInputException refused)
        {
            _fields.Show(refused.Errors.Select(e => KeyValuePair.Create(e.Field, e.Message)));
            await _fields.FocusFirstWrongAsync();
        }
        catch (RecordChangedException)
        {
            _conflict = true;
        }
        finally
        {
            _saving = false;
        }
    }

    private async Task WriteOverAsync()
    {
        _version = (await firms.Mine(Who)).Version;
        _conflict = false;
        await SaveAsync();
    }

    private async Task TakeLogoAsync(InputFileChangeEventArgs chosen)
    {
        if (_reading || !IsOwner)
        {
            return;
        }

        (_logoError, _logoNews) = (LogoPicture.TooLarge(chosen.File.Size), null);
        if (_logoError is not null)
        {
            return;
        }

        _reading = true;
        StateHasChanged();
        try
        {
            var bytes = new MemoryStream();
            await using (var file = chosen.File.OpenReadStream(LogoPicture.LargestFile))
            {
                await file.CopyToAsync(bytes);
            }

            if (await PictureAsync(bytes.ToArray()) is { } picture)
            {
                await logos.Save(Who, _logo?.Version, picture.Png, picture.Width, picture.Height);
                await ReadLogoAsync();
            }
        }
        catch (Exception e) when (e is IOException or JSException)
        {
            _logoError = "The file could not be read to its end. Choose it again.";
        }
        catch (RecordChangedException)
        {
            await OthersLogoAsync();
        }
        finally
        {
            _reading = false;
        }
    }

    private async Task<LogoPicture?> PictureAsync(byte[] file)
    {
        await OnePicture.WaitAsync();
        try
        {
            string? error = null;
            var picture = await Task.Run(() => LogoPicture.Read(file, out error));
            _logoError = error;
            return picture;
        }
        finally
        {
            OnePicture.Release();
        }
    }

    private async Task RemoveLogoAsync()
    {
        if (_logo is not { } logo)
        {
            return;
        }

        (_logoError, _logoNews) = (null, null);
        try
        {
            await logos.Remove(Who, logo.Version);
            _logo = null;
            _logoNews = "The logo was removed. Published plans keep theirs.";
        }
        catch (RecordChangedException)
        {
            await OthersLogoAsync();
        }
    }

    private async Task OthersLogoAsync()
    {
        await ReadLogoAsync();
        _logoError = "A colleague changed the logo just now; theirs is kept and shown. Choose yours again to replace it.";
    }
}
