using System.Globalization;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Shell;

/// <summary>What the browser of this connection told: its clock's zone, and whether its screen is shared with somebody.</summary>
/// <remarks>Until it has told, times are universal and private things stay hidden.</remarks>
public sealed class ThisBrowser(TimeProvider time)
{
    private bool? _sharing;

    /// <summary>After something was told or switched; raised on the connection's own dispatcher.</summary>
    public event Action? Changed;

    /// <summary>Zone of the browser's clock.</summary>
    public TimeZoneInfo Zone { get; private set; } = TimeZoneInfo.Utc;

    /// <summary>True while private notes and addresses are hidden.</summary>
    public bool Sharing => _sharing ?? true;

    /// <summary>True once the browser has told whether it shares its screen.</summary>
    public bool HasTold => _sharing is not null;

    /// <summary>True while prices are hidden: the screen is shared, and it is wished.</summary>
    public bool HidesPrices => Sharing && WithoutPrices;

    /// <summary>True when prices hide too while the screen is shared.</summary>
    public bool WithoutPrices { get; private set; }

    /// <summary>Today on the browser's calendar.</summary>
    public DateOnly Today => DateOnly.FromDateTime(Local(time.GetUtcNow().UtcDateTime));

    /// <summary>A time on the browser's clock.</summary>
    public DateTime Local(DateTime utc) => TimeZoneInfo.ConvertTimeFromUtc(utc, Zone);

    /// <summary>The time of day with seconds on the browser's clock.</summary>
    public string TimeOf(DateTime utc) => Local(utc).ToString("HH:mm:ss", CultureInfo.InvariantCulture);

    /// <summary>Takes what the browser told.</summary>
    /// <param name="zone">IANA name of its zone; one this machine does not know leaves the times universal.</param>
    /// <param name="sharing">Whether it last shared its screen.</param>
    /// <param name="withoutPrices">Whether prices hide too while it does.</param>
    public void Tell(string? zone, bool sharing, bool withoutPrices = false)
    {
        WithoutPrices = withoutPrices;
        Zone = ConsultBook.Zone(zone) ?? TimeZoneInfo.Utc;
        Share(sharing);
    }

    /// <summary>Begins or ends sharing.</summary>
    public void Share(bool on)
    {
        _sharing = on;
        Changed?.Invoke();
    }

    /// <summary>Chooses whether prices hide too while the screen is shared.</summary>
    public void HidePrices(bool on)
    {
        WithoutPrices = on;
        Changed?.Invoke();
    }
}
