using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Workspace.Night;

/// <summary>One option's night, as it stands on the page.</summary>
/// <param name="Letter">Letter of the option.</param>
/// <param name="Name">Name of the option.</param>
/// <param name="Design">Its design.</param>
/// <param name="Night">Its night.</param>
public sealed record NightSide(string Letter, string Name, Design Design, PlayedNight Night);

/// <summary>
/// What the script plays: every moment with its words already written in the reader's units, so that the browser only places them.
/// Lists go by the order of zones, openings, passages and glass of the scene.
/// </summary>
/// <param name="Moments">What both sides share.</param>
/// <param name="Sides">A list of moments for each side.</param>
public sealed record NightScore(ImmutableArray<SharedMoment> Moments, ImmutableArray<ImmutableArray<SideMoment>> Sides)
{
    // A flow this small has no arrow, m3/h: as in the drawings.
    private const double LeastFlow = 0.5;

    /// <summary>Writes the nights down for the script.</summary>
    public static NightScore Of(IReadOnlyList<NightSide> sides, IReadOnlyList<NightScene> scenes, DisplayUnits units)
    {
        // One measure for all: arrows, films and steam of two options can be compared by eye.
        var largest = sides.Max(side => NightStrip.LargestFlow(side.Night));
        var steam = Math.Max(1e-12, sides.Max(side => side.Night.Moments.Max(moment => moment.Steam.KilogramsPerSecond)));
        var film = Math.Max(1e-9, sides.Max(side => side.Night.Moments.Max(moment => moment.Films.Max(grams => grams.Grams))));
        return new(
            [.. sides[0].Night.Moments.Select(moment => new SharedMoment(NightStrip.ClockOf(moment), units.Format(moment.Outdoor), Doing(moment)))],
            [.. sides.Select((side, index) => (ImmutableArray<SideMoment>)[.. side.Night.Moments.Select(moment => Of(side, scenes[index], moment, units, largest, steam, film))])]);
    }

    /// <summary>What the people do, in a word or two.</summary>
    public static string Doing(NightMoment moment) => moment.Activity switch
    {
        Activity.Cooking => "cooking",
        Activity.Asleep => "asleep",
        Activity.Awake => "awake",
        Activity.LockedAndLeft => "nobody in",
        _ => throw new ArgumentOutOfRangeException(nameof(moment), moment.Activity, "Expected what people do in a van that stands."),
    };

    private static SideMoment Of(NightSide side, NightScene scene, NightMoment moment, DisplayUnits units, double largest, double steam, double film)
    {
        var zones = scene.Zones.Select(zone => moment.Zones.First(state => state.ZoneId == zone.Id)).ToArray();
        var bedId = side.Design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping)?.Id ?? side.Design.Zones.First(zone => zone.Kind != ZoneKind.Cupboard).Id;
        var bed = moment.Zones.First(zone => zone.ZoneId == bedId);
        return new SideMoment
        {
            Steps = [.. zones.Select(zone => ZoneShades.StepOf(ZoneQuantity.Humidity, zone.RelativeHumidity))],
            ZoneWords = [.. zones.Select(zone => $"{units.Format(zone.Temperature)}, {units.Format(zone.RelativeHumidity)}")],
            In = [.. scene.Openings.Select(opening => Width(Flow(moment, opening.Id)?.In))],
            Out = [.. scene.Openings.Select(opening => Width(Flow(moment, opening.Id)?.Out))],
            Passages = [.. scene.Passages.Select(passage => moment.Air.Passages.FirstOrDefault(flow => flow.PassageId == passage.Id) is { } known
                ? Math.Sign(known.Net.CubicMetersPerSecond) * Width(VolumeFlow.FromCubicMetersPerSecond(Math.Abs(known.Net.CubicMetersPerSecond)))
                : 0)],
            Glass = [.. scene.Glass.Select(glass => Strength(side.Night, moment, glass.Id))],
            Films = [.. moment.Films.Select(grams => units.Format(grams))],
            FilmShares = [.. moment.Films.Select(grams => Round(grams.Grams / film))],
            Steam = Round(moment.Steam.KilogramsPerSecond / steam),
            Bed = units.Format(bed.Temperature),
            Humidity = units.Format(bed.RelativeHumidity),
            CarbonDioxide = units.Format(bed.CarbonDioxide),
            Film = units.Format(moment.Film),
            Heater = units.Format(moment.Heater),
            OutdoorAir = units.Format(moment.Air.OutdoorAir),
        };

        double Width(VolumeFlow? flow) => flow is { } known && known.CubicMetersPerHour >= LeastFlow ? Round(1.2 + (4 * Math.Sqrt(known.CubicMetersPerSecond / largest))) : 0;
    }

    private static OpeningFlow? Flow(NightMoment moment, string id) => moment.Air.Openings.FirstOrDefault(flow => flow.OpeningId == id);

    private static double Strength(PlayedNight night, NightMoment moment, string id)
    {
        for (var index = 0; index < night.Surfaces.Length; index++)
        {
            if (night.Surfaces[index].Id == id)
            {
                return Round(NightStrip.Strength(moment.Films[index].Grams / night.Surfaces[index].Area.SquareMeters));
            }
        }

        return 0;
    }

    private static double Round(double value) => Math.Round(value, 2);
}

/// <summary>What all sides share at a moment.</summary>
/// <param name="Clock">Time of day.</param>
/// <param name="Outdoor">Outdoor temperature.</param>
/// <param name="Doing">What the people do.</param>
public sealed record SharedMoment(string Clock, string Outdoor, string Doing);

/// <summary>One side at a moment.</summary>
public sealed record SideMoment
{
    /// <summary>Step of the shade of each zone, 0 to 4.</summary>
    public required ImmutableArray<int> Steps { get; init; }

    /// <summary>Temperature and humidity of each zone.</summary>
    public required ImmutableArray<string> ZoneWords { get; init; }

    /// <summary>Width of the arrow into each opening; 0 for none.</summary>
    public required ImmutableArray<double> In { get; init; }

    /// <summary>Width of the arrow out of each opening.</summary>
    public required ImmutableArray<double> Out { get; init; }

    /// <summary>Width of the arrow through each passage, negative against its direction.</summary>
    public required ImmutableArray<double> Passages { get; init; }

    /// <summary>Strength of the film on each glass, 0 to 1.</summary>
    public required ImmutableArray<double> Glass { get; init; }

    /// <summary>Film on each surface in words.</summary>
    public required ImmutableArray<string> Films { get; init; }

    /// <summary>Film on each surface against the largest of the night, 0 to 1.</summary>
    public required ImmutableArray<double> FilmShares { get; init; }

    /// <summary>Steam of the cooker against its most, 0 to 1.</summary>
    public required double Steam { get; init; }

    /// <summary>Temperature at the bed.</summary>
    public required string Bed { get; init; }

    /// <summary>Relative humidity at the bed.</summary>
    public required string Humidity { get; init; }

    /// <summary>Carbon dioxide at the bed.</summary>
    public required string CarbonDioxide { get; init; }

    /// <summary>Film on glass and metal.</summary>
    public required string Film { get; init; }

    /// <summary>Heater output.</summary>
    public required string Heater { get; init; }

    /// <summary>Outdoor air.</summary>
    public required string OutdoorAir { get; init; }
}
