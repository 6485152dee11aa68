using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Workspace;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class DesignErrorWordsTests
{
    [Fact]
    public void What_is_wrong_with_a_length_is_said_in_the_readers_unit()
    {
        var van = Samples.Design();
        van = Openings.Change(van, van.Openings[0].Id, opening => opening with { X = Length.FromMeters(50) });

        var error = DesignCheck.Errors(van).First(e => e.Message.Contains("reaches from", StringComparison.Ordinal));

        // 1 in = 25.4 mm exactly (NIST Special Publication 811, appendix B.8); three digits are shown.
        var inches = (van.Body.InteriorLength.Meters / 0.0254).ToString("0", System.Globalization.CultureInfo.InvariantCulture);
        Assert.EndsWith(" mm.", error.Message, StringComparison.Ordinal);
        Assert.EndsWith($"0\u00A0in to {inches}\u00A0in.", Words.Of(error, DisplayUnits.Imperial.With("large-length=m")), StringComparison.Ordinal);
        Assert.Equal(error.Message, Words.Of(error, null));
    }

    [Fact]
    public void A_place_too_cold_for_an_altitude_is_said_in_the_readers_unit()
    {
        var van = Samples.Design();
        van = van with { Stop = Presets.StopAt("fairbanks", 1) with { Altitude = Length.FromMeters(5000) }, Itinerary = [] };

        var error = Assert.Single(DesignCheck.Errors(van));

        Assert.Contains("°C; expected an altitude", error.Message, StringComparison.Ordinal);
        Assert.Contains("\u00A0°F; expected an altitude where it stays above −", Words.Of(error, DisplayUnits.Imperial), StringComparison.Ordinal);
        Assert.Contains("\u00A0°C; expected an altitude", Words.Of(error, DisplayUnits.Imperial.With("temperature=°C")), StringComparison.Ordinal);
    }

    [Fact]
    public void What_measures_nothing_is_said_as_it_is() =>
        Assert.Equal("Expected a name.", Words.Of(new DesignError("name", "Expected a name."), DisplayUnits.Imperial));
}
