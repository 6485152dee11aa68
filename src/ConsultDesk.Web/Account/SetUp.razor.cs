using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Account;

/// <summary>
/// Founds the firm on the first start of a real desk. Plain HTML, like signing in: it ends with a cookie. There is no such
/// page once a firm exists, nor in the demo: <see cref="SetUpDoor"/> stands before it.
/// </summary>
public partial class SetUp
{
    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);

    [CascadingParameter]
    private HttpContext HttpContext { get; set; } = default!;

    [SupplyParameterFromForm]
    private SetUpForm Input { get; set; } = default!;

    [Inject]
    private SetUpDoor Door { get; set; } = default!;

    [Inject]
    private FirstFirm FirstFirm { get; set; } = default!;

    [Inject]
    private SignInManager<DeskUser> SignInManager { get; set; } = default!;

    [Inject]
    private AuditTrail Audit { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    [Inject]
    private ILogger<SetUp> Log { get; set; } = default!;

    private string PasswordHint => FormattableString.Invariant($"At least {SignInManager.Options.Password.RequiredLength} characters; a few words that belong together only to you");

    protected override void OnInitialized() => Input ??= new();

    private string? Error(string field) => _errors.GetValueOrDefault(field);

    /// <summary>The page opens at what is wrong first.</summary>
    private bool First(string field) => _errors.Count == 0 ? field == nameof(Input.Token) : SetUpForm.Order.First(_errors.ContainsKey) == field;

    private async Task FoundAsync()
    {
        if (!Door.Fits(Input.Token))
        {
            WrongToken(Log, HttpContext.Connection.RemoteIpAddress?.ToString() ?? "an unknown address");
            _errors[nameof(Input.Token)] = "That is not the token in the log. Copy it whole; a start after it printed a newer one.";
            return;
        }

        foreach (var problem in await FirstFirm.Problems(Input.Firm(), Input.Owner()))
        {
            _errors.TryAdd(problem.Field, problem.Message);
        }

        if (Input.Again != Input.Password)
        {
            _errors[nameof(Input.Again)] = "Expected the same password again.";
        }

        if (_errors.Count > 0)
        {
            return;
        }

        try
        {
            var owner = await FirstFirm.Found(Input.Firm(), Input.Owner(), HttpContext.RequestAborted);
            Door.Shut();
            await SignInManager.SignInAsync(owner, isPersistent: false);
            await Audit.Account(owner, AccountAct.SignedIn);
            Navigation.NavigateTo("/");
        }
        catch (FirmExistsException)
        {
            Door.Shut();
            Navigation.NotFound();
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "A wrong set-up token was typed, from {Address}.")]
    private static partial void WrongToken(ILogger log, string address);
}

/// <summary>What is typed to set the desk up.</summary>
public sealed class SetUpForm
{
    /// <summary>The fields in the order of the page.</summary>
    internal static readonly string[] Order =
        [nameof(Token), nameof(Name), nameof(Currency), nameof(Units), nameof(BrandColour), nameof(OwnerName), nameof(Email), nameof(Password), nameof(Again)];

    /// <summary>The token of the log.</summary>
    public string? Token { get; set; }

    /// <summary>Name of the firm.</summary>
    public string? Name { get; set; }

    /// <summary>Currency of the firm.</summary>
    public string? Currency { get; set; }

    /// <summary>Name of the preset of units.</summary>
    public string? Units { get; set; } = nameof(UnitPreset.Metric);

    /// <summary>Colour on plans.</summary>
    public string? BrandColour { get; set; } = "#1f5a52";

    /// <summary>Name of the owner.</summary>
    public string? OwnerName { get; set; }

    /// <summary>Address the owner signs in with.</summary>
    public string? Email { get; set; }

    /// <summary>The owner's password.</summary>
    public string? Password { get; set; }

    /// <summary>The same again.</summary>
    public string? Again { get; set; }

    internal FirmInput Firm() => new(
        Name ?? "", BrandColour ?? "", null, (Currency ?? "").Trim().ToUpperInvariant(), Enum.TryParse<UnitPreset>(Units, out var preset) ? preset : (UnitPreset)(-1));

    internal OwnerInput Owner() => new(OwnerName, Email, Password);
}
