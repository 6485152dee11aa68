using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Findings;

/// <summary>
/// The random vans of <see cref="RandomVan"/> with everything the findings look at besides: alarms there or not, bottles
/// in an open or a sealed locker, a stove in one of eight, a cooker used for warmth, an exhaust anywhere on the body or
/// unknown, every battery, water and steel, a rib and a loom behind roof and walls, every bed base.
/// </summary>
internal static class RandomOption
{
    /// <summary>The same option every time for the same position in the row.</summary>
    public static IEnumerable<Design> Row(int count, ulong seed = 20_261_127)
    {
        PCG generator = new(2, seed);
        foreach (Design van in RandomVan.Row(count))
        {
            yield return Added.Generate(generator, null, out _)(van);
        }
    }

    private static Gen<Func<Design, Design>> Added =>
        from flags in Gen.Int[0, (1 << 11) - 1]
        from stove in Gen.Int[0, 7]
        from exhaust in Exhaust
        from battery in Gen.Enum<BatteryKind>()
        from steel in Gen.Enum<SteelCondition>()
        from bedBase in Gen.Enum<BedBase>()
        from rated in Gen.Double[500, 4000]
        from inside in Gen.Bool
        from ribAt in Gen.Double.Unit
        from hidden in Gen.Int[0, 2]
        select (Func<Design, Design>)(van => van with
        {
            BedBase = bedBase,
            Body = van.Body with { HiddenParts = [.. Hidden(van, ribAt).Take(hidden)] },
            Equipment = new Equipment
            {
                CarbonMonoxideAlarm = Has(flags, 0) ? PartState.Fitted : null,
                SmokeAlarm = Has(flags, 1) ? PartState.Fitted : null,
                LowGasAlarm = Has(flags, 2) ? PartState.Fitted : null,
                Extinguisher = Has(flags, 3) ? PartState.Fitted : null,
                WaysOutOfBed = Has(flags, 4) ? 2 : 1,
                GasBottles = Has(flags, 5),
                GasLockerOpensInside = Has(flags, 5) && Has(flags, 6),
                WoodStove = stove == 0,
                CookerUsedForWarmth = Has(flags, 7),
                HeaterExhaust = exhaust(van),
                HeaterRatedAltitude = Has(flags, 8) ? Length.FromMeters(rated) : null,
                Battery = battery,
                BatteryZoneId = inside ? van.Heater.ZoneId : null,
                WaterCarried = Has(flags, 9),
                WaterZoneId = inside ? null : van.Zones[0].Id,
                Steel = steel,
                RoofNotCleared = Has(flags, 10),
                LeftInLockedVan = Has(flags, 1) && Has(flags, 3),
            },
        });

    private static Gen<Func<Design, BodyPoint?>> Exhaust =>
        from known in Gen.Bool
        from face in Gen.Enum<Face>()
        from x in Gen.Double.Unit
        from y in Gen.Double.Unit
        from z in Gen.Double.Unit
        select (Func<Design, BodyPoint?>)(van => known
            ? new BodyPoint(face, van.Body.InteriorLength * x, van.Body.InteriorWidth * y, van.Body.InteriorHeight * z)
            : null);

    private static bool Has(int flags, int bit) => (flags & (1 << bit)) != 0;

    private static IEnumerable<HiddenPart> Hidden(Design van, double at)
    {
        yield return new HiddenPart
        {
            Id = "bow",
            Kind = HiddenPartKind.Rib,
            Name = "Roof bow",
            Face = Face.Roof,
            X = van.Body.InteriorLength * (0.3 + (0.5 * at)),
            Y = van.Body.InteriorWidth / 2,
            Z = van.Body.InteriorHeight,
            Length = Length.FromMillimeters(60),
            Width = van.Body.InteriorWidth,
        };
        yield return new HiddenPart
        {
            Id = "loom",
            Kind = HiddenPartKind.Wiring,
            Name = "Wiring loom",
            Face = Face.Right,
            X = van.Body.InteriorLength * (0.3 + (0.5 * at)),
            Y = van.Body.InteriorWidth,
            Z = van.Body.InteriorHeight / 2,
            Length = Length.FromMillimeters(100),
            Width = van.Body.InteriorHeight,
        };
    }
}
