using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using UnitsNet;

namespace ConsultDesk.Web.Workspace.Situations;

/// <summary>One of the situations that can be chosen.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Situation">Weather and use for the design as it stands.</param>
/// <param name="From">The same for any design.</param>
/// <param name="Note">Where the weather comes from, in words.</param>
/// <param name="Own">The firm's own situation it is; null for one of the itinerary.</param>
public sealed record SituationChoice(string Key, Situation Situation, Func<Design, Situation> From, string Note, OwnSituation? Own = null)
{
    /// <summary>The headline situations as the itinerary has them, then the firm's own.</summary>
    /// <param name="design">The design as it stands.</param>
    /// <param name="met">Situations of the last year.</param>
    /// <param name="own">The firm's own.</param>
    public static IReadOnlyList<SituationChoice> Of(Design design, IReadOnlyList<Situation> met, IReadOnlyList<OwnSituation> own) =>
    [
        .. Calculations.Simulation.Situations.Named(design, met).Select(named => new SituationChoice(
            named.Situation.Key,
            named.Situation,
            other => Calculations.Simulation.Situations.Named(other, met).Single(one => one.Situation.Key == named.Situation.Key).Situation,
            named.Occurs
                ? FormattableString.Invariant($"From the weather of the itinerary: {named.Situation.HoursAYear} hours a year are of its kind.")
                : $"Never on this itinerary, where it would count when {named.OccursWhen}. The weather is our judgement.")),
        .. own.Select(one => new SituationChoice(KeyOf(one), Of(design, one), other => Of(other, one), "One of your own situations.", one)),
    ];

    /// <summary>Key of an own situation.</summary>
    public static string KeyOf(OwnSituation own) => "own-" + own.Id.ToString("N");

    /// <summary>What a situation is stored as under a name.</summary>
    /// <param name="name">The name.</param>
    /// <param name="situation">Weather and use.</param>
    /// <param name="sleepers">Sleepers of the design: so many people are stored as those who sleep in the van, whichever it is.</param>
    public static OwnSituationInput Input(string name, Situation situation, int sleepers) => new(
        name,
        situation.Outdoor.DegreesCelsius,
        situation.OutdoorHumidity.Percent,
        situation.StationWind.MetersPerSecond,
        situation.Falling,
        situation.Sun.WattsPerSquareMeter,
        situation.Activity == Activity.LockedAndLeft || situation.People == sleepers ? null : situation.People,
        situation.Activity,
        situation.Lasts.Hours,
        situation.SnowOnRoof,
        situation.HeaterOff);

    private static Situation Of(Design design, OwnSituation own)
    {
        var situation = Calculations.Simulation.Situations.Own(
            design,
            KeyOf(own),
            own.Name,
            Temperature.FromDegreesCelsius(own.OutdoorC),
            RelativeHumidity.FromPercent(own.HumidityPercent),
            Speed.FromMetersPerSecond(own.WindMPerS),
            own.Falling,
            Irradiance.FromWattsPerSquareMeter(own.SunWPerM2),
            own.Activity,
            own.People,
            Duration.FromHours(own.Hours),
            own.SnowOnRoof);
        return situation with { HeaterOff = own.HeaterOff };
    }
}
