using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>The van at the end of a situation, room by room, in the terms an assessment of a night has, so that both are drawn alike.</summary>
public sealed record SituationState
{
    /// <summary>What the situation comes to.</summary>
    public required SituationResult Result { get; init; }

    /// <summary>Outdoor air while it lasts.</summary>
    public required NightWeather Weather { get; init; }

    /// <summary>Air through the openings.</summary>
    public required AirExchange Air { get; init; }

    /// <summary>Each zone at the end, in the design's order.</summary>
    public required ImmutableArray<ZoneState> Zones { get; init; }

    /// <summary>Glass and bare metal at the end; the water is what condensed while it lasted.</summary>
    public required ImmutableArray<SurfaceState> Surfaces { get; init; }

    /// <summary>Water left on surfaces other than glass and metal, and as mist, while it lasted.</summary>
    public required Mass CondensedElsewhere { get; init; }

    /// <summary>Rounds of air network and balance it took.</summary>
    public required int Rounds { get; init; }

    /// <summary>
    /// The situation in place of the night of an assessment, for whatever draws one: its air, rooms, surfaces, length and
    /// weather. Findings, scores, walls and heat stay those of the assessment.
    /// </summary>
    public Assessment InPlaceOfNight(Assessment night)
    {
        ArgumentNullException.ThrowIfNull(night);
        Mass condensed = Result.Condensed + CondensedElsewhere;
        return night with
        {
            Weather = Weather,
            Night = Result.Situation.Lasts,
            Air = Air,
            Zones = Zones,
            Surfaces = Surfaces,
            Water = night.Water with
            {
                CondensedPerNight = condensed,
                Condensing = MassFlow.FromKilogramsPerSecond(condensed.Kilograms / Result.Situation.Lasts.Seconds),
            },
        };
    }

    internal static SituationState Of(SituationModel model, SituationSolver solver, SituationResult result)
    {
        NightModel night = solver.Night;
        Situation situation = solver.Situation;
        double[] dewPointC = [.. Enumerable.Range(0, night.ZoneCount).Select(zone =>
            MoistAir.DewPointC(MoistAir.VapourPressurePa(solver.HumidityRatio[zone], solver.Balance.PressurePa)))];
        return new SituationState
        {
            Result = result,
            Weather = new NightWeather
            {
                Temperature = situation.Outdoor,
                DewPoint = Temperature.FromDegreesCelsius(MoistAir.DewPointC(
                    situation.OutdoorHumidity.Percent / 100 * MoistAir.SaturationPressurePa(situation.Outdoor.DegreesCelsius))),
                StationWind = situation.StationWind,
                Pressure = situation.Pressure,
                DesignTemperature = situation.Outdoor,
                SkyLoss = situation.SkyLoss,
            },
            Air = NightReport.Air(night, solver.Air),
            Zones =
            [
                .. model.Design.Zones.Select((zone, index) => new ZoneState
                {
                    ZoneId = zone.Id,
                    Temperature = Temperature.FromDegreesCelsius(solver.Balance.TemperatureC[index]),
                    RelativeHumidity = RelativeHumidity.FromPercent(SituationRun.HumidityPercent(solver, index)),
                    DewPoint = Temperature.FromDegreesCelsius(dewPointC[index]),
                    AgeOfAir = Duration.FromSeconds(solver.Air.ZoneAgeS[index]),
                    CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1e6 * solver.CarbonDioxideShare[index]),
                }),
            ],
            Surfaces =
            [
                .. night.Surfaces.Select((surface, k) => (Surface: surface, Index: k))
                    .Where(pair => IsGlassOrMetal(pair.Surface.Part))
                    .Select(pair => new SurfaceState
                    {
                        Id = pair.Surface.Id,
                        Name = pair.Surface.Name,
                        ZoneId = night.Design.Zones[pair.Surface.Zone].Id,
                        Kind = pair.Surface.Part == SurfacePart.Metal ? SurfaceKind.Metal : SurfaceKind.Glass,
                        Area = Area.FromSquareMeters(pair.Surface.AreaM2),
                        Temperature = Temperature.FromDegreesCelsius(solver.Balance.SurfaceC[pair.Index]),
                        DewPoint = Temperature.FromDegreesCelsius(dewPointC[pair.Surface.Zone]),
                        CondensedPerNight = Mass.FromKilograms(solver.CondensedKgPerM2[pair.Index] * pair.Surface.AreaM2),
                        Frost = solver.CondensedKgPerM2[pair.Index] > 0 && solver.Balance.SurfaceC[pair.Index] < MoistAir.TriplePointC,
                        UValue = pair.Surface.Path.UValue(),
                    }),
            ],
            CondensedElsewhere = Mass.FromKilograms(solver.MistKg + night.Surfaces
                .Select((surface, k) => IsGlassOrMetal(surface.Part) ? 0 : solver.CondensedKgPerM2[k] * surface.AreaM2).Sum()),
            Rounds = solver.Rounds,
        };
    }

    private static bool IsGlassOrMetal(SurfacePart part) => part is SurfacePart.Glazing or SurfacePart.Pane or SurfacePart.Metal;
}
