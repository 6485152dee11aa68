using ConsultDesk.Records;
using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Web.Demo;

/// <summary>
/// An invented firm with invented clients, made on the first start of a demo by the same commands the pages use.
/// </summary>
internal sealed class DemoDesk(Firms firms, UserManager<DeskUser> users)
{
    /// <summary>Address of the demo's only account (example.org is kept for examples by RFC 2606).</summary>
    public const string Email = "robin@fernhollow.example.org";

    /// <summary>Printed at every start; a demo listens on its own machine only.</summary>
    public const string Password = "kettle-on-fernhollow";

    /// <summary>Does nothing when any firm exists.</summary>
    public async Task FillIfEmptyAsync(CancellationToken cancellation = default)
    {
        if (!await firms.NoneYet(cancellation))
        {
            return;
        }

        var firmId = await firms.Found(new("Fernhollow Van Advice", "#1f5a52", "Robin Ashdown · robin@fernhollow.example.org", "EUR", UnitPreset.Metric), cancellation);
        var user = new DeskUser { UserName = Email, Email = Email, EmailConfirmed = true, FirmId = firmId, DisplayName = "Robin Ashdown", Role = DeskRole.Owner };
        var made = await users.CreateAsync(user, Password);
        if (!made.Succeeded)
        {
            throw new InvalidOperationException("The demo account was refused: " + string.Join(" ", made.Errors.Select(e => e.Description)));
        }
    }
}
