using Microsoft.AspNetCore.Identity;

namespace ConsultDesk.Records;

/// <summary>What a signed-in user may do.</summary>
public enum DeskRole
{
    /// <summary>Works with clients, vans, options and plans.</summary>
    Consultant,

    /// <summary>Also changes the firm, its people and its prices, reads the audit, and erases clients.</summary>
    Owner,
}

/// <summary>An account. Not behind the firm filter: sign-in looks it up before the firm is known.</summary>
public sealed class DeskUser : IdentityUser<Guid>
{
    /// <summary>The firm the user works for.</summary>
    public Guid FirmId { get; set; }

    /// <summary>Name colleagues and clients see.</summary>
    public string DisplayName { get; set; } = "";

    /// <summary>What the user may do.</summary>
    public DeskRole Role { get; set; }

    /// <summary>When an owner took access away, UTC; null while the account may sign in. The row stays for the name beside what was done.</summary>
    public DateTime? LeftAt { get; set; }

    /// <summary>Units this user works in; null for the firm's.</summary>
    public UnitPreset? Units { get; set; }

    /// <summary>What differs from <see cref="Units"/>, as in <see cref="Firm.UnitChoices"/>; empty without them.</summary>
    public string UnitChoices { get; set; } = "";
}
