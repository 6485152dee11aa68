using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// Random valid vans: every body class and layout; leakage 20 to 300 cm2; the roof fan at three places, four positions,
/// off or any speed in steps of a twentieth, both ways or without a fan, hooded or not; the window in four positions with every glass and cover; cab
/// glass with every cover; half to double the bare metal; no heater to 6 kW of every kind, 5 to 22 degrees; 0 to 6
/// sleepers; every way of cooking; bare, thin and thick walls; every place and month of the climate table from the
/// coast to 3500 m in every shelter; now and then a low vent, a fixed vent, or no opening at all.
/// </summary>
internal static class RandomVan
{
    public static Gen<Design> Any { get; } =
        from bodyClass in OneOf([.. BodyClasses.All.Select(c => c.Key)])
        from layout in Gen.Enum<Layout>()
        from place in OneOf([.. ClimateTable.Places.Select(p => p.Key)])
        from month in Gen.Int[1, 12]
        from altitude in Gen.Double[0, 3500]
        from shelter in Gen.Enum<Shelter>()
        from household in Household
        from heater in HeaterOf
        from leakage in Gen.Double[20, 300]
        from fan in RoofFan
        from window in Window
        from cabCover in Gen.Enum<Cover>()
        from metal in Gen.Double[0.5, 2]
        from walls in OneOf([.. WallKinds])
        from extra in Gen.Int[0, 9]
        let stop = new Stop { PlaceKey = place, Month = month, Altitude = Length.FromMeters(altitude), Shelter = shelter }
        let van = Presets.Build(bodyClass, layout, household, stop)
        select Extra(extra, window(fan(van with
        {
            Heater = heater with { ZoneId = van.Heater.ZoneId },
            Leakage = van.Leakage with { EffectiveArea = Area.FromSquareCentimeters(leakage) },
            Walls = walls,
            BareMetal = [.. van.BareMetal.Select(patch => patch with { Area = patch.Area * metal })],
            Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = cabCover } })],
        })));

    /// <summary>The same van every time for the same position in the row.</summary>
    public static IEnumerable<Design> Row(int count, ulong seed = 20_261_126)
    {
        var generator = new PCG(1, seed);
        for (int i = 0; i < count;)
        {
            Design van = Any.Generate(generator, null, out _);
            // A polar station taken up a mountain is refused; see ItineraryTests.
            if (!DesignCheck.Errors(van).Any(error => error.Path == "stop.altitude"))
            {
                i++;
                yield return van;
            }
        }
    }

    /// <summary>A van in one line, for the message of a failed test.</summary>
    public static string Describe(Design van) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"{van.Body.BodyClass}, {van.Leakage.EffectiveArea.SquareCentimeters:F0} cm2, {van.Heater.Kind} {van.Heater.RatedOutput.Kilowatts:F1} kW to {van.Heater.NightSetPoint.DegreesCelsius:F0} °C, {van.Household.Sleepers} sleepers, {van.Stop.PlaceKey} month {van.Stop.Month} at {van.Stop.Altitude.Meters:F0} m {van.Stop.Shelter}, passages {string.Join("/", van.Passages.Select(p => $"{p.FreeArea.SquareCentimeters:F0}"))} cm2, bed at {van.Zones.FirstOrDefault(z => z.Kind == ZoneKind.Sleeping)?.From.Meters:F1} m, openings: {string.Join("; ", van.Openings.Select(o => $"{o.Id} {o.ZoneId} {o.Position} fan {o.Fan?.Speed} {o.Fan?.Direction} cover {o.Pane?.Cover}"))}");

    private static Gen<Household> Household =>
        from sleepers in Gen.Int[0, 6]
        from fuel in Gen.Enum<CookingFuel>()
        from habit in Gen.Enum<CookingHabit>()
        select new Household { Sleepers = sleepers, CookingFuel = fuel, CookingHabit = habit };

    private static Gen<Heater> HeaterOf =>
        from kind in Gen.Enum<HeaterKind>()
        from kilowatts in Gen.Double[0.5, 6]
        from setPoint in Gen.Double[5, 22]
        select new Heater
        {
            Kind = kind,
            RatedOutput = Power.FromKilowatts(kilowatts),
            NightSetPoint = Temperature.FromDegreesCelsius(setPoint),
            ZoneId = "",
        };

    private static Gen<Func<Design, Design>> RoofFan =>
        from place in Gen.Enum<RoofPlace>()
        from position in Gen.Enum<Position>()
        from steps in Gen.Int[0, 20]
        from direction in Gen.Enum<FanDirection>()
        from hasFan in Gen.Int[0, 3]
        from hooded in Gen.Bool
        select (Func<Design, Design>)(van => Openings.Change(
            Openings.MoveOnRoof(van, Presets.RoofFanId, place),
            Presets.RoofFanId,
            o => o with
            {
                Position = position,
                Facts = o.Facts with { UsableInRain = hooded },
                Fan = hasFan == 0 ? null : o.Fan! with { Speed = steps / 20.0, Direction = direction },
            }));

    private static Gen<Func<Design, Design>> Window =>
        from position in Gen.Enum<Position>()
        from glass in Gen.Enum<GlassKind>()
        from cover in Gen.Enum<Cover>()
        select (Func<Design, Design>)(van => Openings.Change(
            van, Presets.WindowId, o => o with { Position = position, Pane = new Pane(glass, cover) }));

    private static Gen<T> OneOf<T>(T[] values) => Gen.Int[0, values.Length - 1].Select(index => values[index]);

    private static SolidLayer Solid(string id, string material, double millimetres) =>
        new() { Id = id, Material = material, Thickness = Length.FromMillimeters(millimetres) };

    private static Design Extra(int extra, Design van) => extra switch
    {
        0 => van with { Openings = [] },
        1 => Calculations.Findings.MoreAir.AddLowVent(van),
        2 => Calculations.Findings.MoreAir.AddLowVent(Calculations.Findings.MoreAir.AddLowVent(van)),
        3 => van with { Passages = [.. van.Passages.Select(p => p with { FreeArea = Area.FromSquareCentimeters(25), Mixing = VolumeFlow.FromCubicMetersPerHour(3) })] },
        _ => van,
    };

    private static ImmutableArray<LayeredAssembly> WallKinds =>
    [
        PresetAssemblies.Walls,
        new() { Name = "Bare skin", Layers = [Solid("skin", "mild-steel", 1)] },
        new() { Name = "Thin", Layers = [Solid("lining", "carpet", 4), Solid("insulation", "pe-foam", 10), Solid("skin", "mild-steel", 1)] },
        new() { Name = "Thick", Layers = [Solid("lining", "softwood-boards", 10), Solid("insulation", "spray-foam-closed", 60), Solid("skin", "mild-steel", 1)] },
    ];
}
