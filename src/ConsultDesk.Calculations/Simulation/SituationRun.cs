using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Runs named situations from what people awake have left in warmth and air with the same openings: air flows,
/// temperatures and heat by one implicit step over the situation, water and carbon dioxide through its time.
/// </summary>
public static class SituationRun
{
    /// <summary>Runs one situation with the openings as they stand, as far as their facts allow.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="situation">The situation.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="NightNotConvergedException">It did not balance.</exception>
    public static SituationResult Of(Design design, Situation situation, Assumptions assumed, CancellationToken cancellation = default) =>
        Of(design, [situation], assumed, cancellation)[0];

    /// <summary>Runs situations with the openings as they stand, as far as their facts allow.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="situations">The situations.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="NightNotConvergedException">One did not balance.</exception>
    public static ImmutableArray<SituationResult> Of(
        Design design, IReadOnlyList<Situation> situations, Assumptions assumed, CancellationToken cancellation = default)
    {
        SituationModel model = new(design, assumed);
        ImmutableArray<OpeningSetting> standing = OpeningSetting.Of(design);
        return [.. situations.Select(situation =>
        {
            SituationSolver solver = new(model, situation, flameAsleep: true);
            SituationStart start = Before(model, situation, standing, flameAsleep: true, toleranceK: 1e-6, cancellation);
            solver.Solve(Allowed(design, standing, situation).AsSpan(), start, cancellation);
            return Result(model, solver, standing);
        })];
    }

    /// <summary>Runs one situation and keeps the air of every room and every cold surface beside what it comes to.</summary>
    /// <param name="design">A valid design; parts that come later are left out.</param>
    /// <param name="situation">The situation. Other people in the van than sleep in it by the design live there in their stead.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="NightNotConvergedException">It did not balance.</exception>
    public static SituationState State(Design design, Situation situation, Assumptions assumed, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(situation);
        SituationModel model = new(With(LaterParts.Without(design), situation), assumed);
        ImmutableArray<OpeningSetting> standing = OpeningSetting.Of(model.Design);
        SituationSolver solver = new(model, situation, flameAsleep: true);
        SituationStart start = Before(model, situation, standing, flameAsleep: true, toleranceK: 1e-6, cancellation);
        solver.Solve(Allowed(model.Design, standing, situation).AsSpan(), start, cancellation);
        return SituationState.Of(model, solver, Result(model, solver, standing));
    }

    /// <summary>The design with the people of a situation for its household, when there are any in it.</summary>
    internal static Design With(Design design, Situation situation) => situation.People == 0 || situation.People == design.Household.Sleepers
        ? design
        : design with { Household = design.Household with { Sleepers = situation.People } };

    /// <summary>Every setting as far as the facts of its opening allow.</summary>
    internal static ImmutableArray<OpeningSetting> Allowed(Design design, ImmutableArray<OpeningSetting> wished, Situation situation) =>
        [.. design.Openings.Select((opening, index) => OpeningUse.AsFarAsAllowed(opening, wished[index], situation))];

    /// <summary>What people awake have left in the air of the same weather, nothing wet yet: before bed with the showers of the evening and the wet clothes.</summary>
    internal static SituationStart Before(
        SituationModel model, Situation situation, ImmutableArray<OpeningSetting> standing, bool flameAsleep, double toleranceK, CancellationToken cancellation)
    {
        Situation earlier = situation with { Activity = Activity.Awake, People = model.Design.Household.Sleepers, Next = situation.Activity };
        SituationSolver awake = new(model, earlier, flameAsleep, toleranceK);
        awake.Solve(Allowed(model.Design, standing, awake.Situation).AsSpan(), start: null, cancellation);
        SituationStart start = awake.End();
        Array.Clear(start.FilmKgPerM2);
        return start;
    }

    /// <summary>What a solved situation comes to.</summary>
    internal static SituationResult Result(SituationModel model, SituationSolver solver, ImmutableArray<OpeningSetting> wished)
    {
        Design design = model.Design;
        NightModel night = model.Night;
        int[] livedIn = LivedIn(night);
        return new SituationResult
        {
            Situation = solver.Situation,
            OutdoorAir = solver.Air.OutdoorAir(),
            Room = Temperature.FromDegreesCelsius(livedIn.Max(zone => solver.Balance.TemperatureC[zone])),
            Humidity = RelativeHumidity.FromPercent(livedIn.Max(zone => HumidityPercent(solver, zone))),
            CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1e6 * livedIn.Max(zone => solver.CarbonDioxideShare[zone])),
            Condensed = Mass.FromKilograms(solver.CondensedOnGlassAndMetalKg()),
            GlassAndMetal = Area.FromSquareMeters(solver.GlassAndMetalM2()),
            WetGlassAndMetal = Area.FromSquareMeters(solver.WetGlassAndMetalM2()),
            Heater = Power.FromWatts(solver.Balance.HeaterW),
            BedAge = Duration.FromSeconds(solver.Air.ZoneAgeS[night.FirstOf(ZoneKind.Sleeping)]),
            ShutHere =
            [
                .. design.Openings
                    .Where((opening, index) => wished[index].Position != Position.Shut && !OpeningUse.MayStandOpen(opening, solver.Situation))
                    .Select(opening => opening.Id),
            ],
        };
    }

    /// <summary>Indices of the zones people live and sleep in; the heated one when there are none.</summary>
    internal static int[] LivedIn(NightModel night)
    {
        int[] zones = [.. Enumerable.Range(0, night.ZoneCount).Where(zone => night.Design.Zones[zone].Kind is ZoneKind.Living or ZoneKind.Sleeping)];
        return zones.Length > 0 ? zones : [night.HeaterZone];
    }

    /// <summary>Relative humidity of a zone at the end, per cent over water.</summary>
    internal static double HumidityPercent(SituationSolver solver, int zone)
    {
        double vapourPa = MoistAir.VapourPressurePa(solver.HumidityRatio[zone], solver.Balance.PressurePa);
        // Air is held at saturation, so what is over 100 % is rounding.
        return 100 * Math.Min(1, MoistAir.RelativeHumidityShare(solver.Balance.TemperatureC[zone], vapourPa));
    }
}
