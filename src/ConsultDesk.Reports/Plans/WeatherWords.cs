using ConsultDesk.Calculations.Climate;

namespace ConsultDesk.Reports.Plans;

/// <summary>Where the weather comes from and how sure it is, in plain words, for screen and plan alike.</summary>
public static class WeatherWords
{
    /// <summary>Where the numbers of a place come from and how sure they are, in sentences.</summary>
    public static string SourceOf(Place place)
    {
        ArgumentNullException.ThrowIfNull(place);
        var sure = place.Sureness switch
        {
            PlaceSureness.TypicalYear => "Read from the source; one typical year, not a 30-year mean: a month can be 1 to 3 K off.",
            PlaceSureness.OfficialTemperatures => "Read from the sources; temperatures are a met service’s normals, the rest is one typical year.",
            PlaceSureness.WeatherFile => "Hour by hour, as sure as the file.",
            PlaceSureness.Entered => "As sure as what was typed; wind, sun and wet days can be a third off.",
            _ => throw new ArgumentOutOfRangeException(nameof(place), place.Sureness, "Expected a known sureness."),
        };
        // Of typed places the estimate is said already.
        var wet = place.Sureness is PlaceSureness.Entered or PlaceSureness.WeatherFile ? "" : place.Months[0].WetDayCount switch
        {
            WetDayCount.Trace => " Wet days count any trace.",
            WetDayCount.OneMillimetre => "",
            WetDayCount.Recalled => " Wet days are recalled, not looked up.",
            WetDayCount.Estimated => " Wet days are estimated from the sun.",
            _ => throw new ArgumentOutOfRangeException(nameof(place), place.Months[0].WetDayCount, "Expected a known count."),
        };
        return $"{char.ToUpperInvariant(place.Source[0])}{place.Source[1..]}. {sure}{wet}";
    }

    /// <summary>How far off the year's condensation is because of its weather, for the place beside the figures.</summary>
    public static string HowFarOff(WeatherBasis basis)
    {
        ArgumentNullException.ThrowIfNull(basis);
        var missing = basis.MissingHours.IsEmpty ? "" : $"The hours of {string.Join(" and ", basis.MissingHours)} are not here any more or are damaged; monthly means were used. ";
        return basis.FromMonths
            ? missing + "The weather is made from monthly means: against measured years its hours above 90 % humidity were 0.7 to 1.2 times as many, in a desert hardly any. Read hours and litres of condensation as half to twice; a weather file of the place is surer."
            : "The weather is that of a file, hour by hour: another year can be wetter or drier.";
    }
}
