using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Testing;

/// <summary>
/// One van for every danger rule: it raises that danger and no other. Whatever shows findings must show the danger of
/// each of them.
/// </summary>
public static class DangerVans
{
    /// <summary>A van without danger the others are made from: nothing burns in the room, alarms are fitted.</summary>
    public static Design WithoutDanger()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        return van with
        {
            Household = van.Household with { CookingFuel = CookingFuel.Electric },
            Equipment = van.Equipment with
            {
                CarbonMonoxideAlarm = PartState.Fitted,
                SmokeAlarm = PartState.Fitted,
                LowGasAlarm = PartState.Fitted,
                Extinguisher = PartState.Fitted,
                WaysOutOfBed = 2,
            },
        };
    }

    /// <summary>Each danger rule's code and the van built for it.</summary>
    public static ImmutableArray<(string Code, Design Van)> All { get; } =
    [
        ("unflued-flame-asleep", UnfluedHeater()),
        ("cooker-for-warmth", CookerForWarmth()),
        ("suction-on-flue", StoveAndFan()),
        ("intake-beside-exhaust", WindowOverExhaust()),
        ("snow-over-exhaust", BuriedInSnow()),
        ("gas-locker-inside", OpenLocker()),
        ("gas-without-fixed-openings", GasInTheRain()),
    ];

    // An unflued heater with all the openings a yardstick asks for is no less a danger.
    private static Design UnfluedHeater()
    {
        Design van = WithFixedVents(WithoutDanger());
        return van with { Heater = van.Heater with { Kind = HeaterKind.UnfluedGas } };
    }

    private static Design CookerForWarmth()
    {
        Design van = WithFixedVents(WithoutDanger());
        return van with
        {
            Household = van.Household with { CookingFuel = CookingFuel.Gas },
            Equipment = van.Equipment with { CookerUsedForWarmth = true },
        };
    }

    private static Design StoveAndFan()
    {
        Design van = WithoutDanger();
        return van with { Equipment = van.Equipment with { WoodStove = true } };
    }

    // The exhaust ends in the side wall, a hand's width under the window.
    private static Design WindowOverExhaust()
    {
        Design van = WithoutDanger();
        Opening window = Openings.Find(van, Presets.WindowId)!;
        return van with
        {
            Equipment = van.Equipment with
            {
                HeaterExhaust = new BodyPoint(window.Face, window.X, window.Y, window.Z - (window.Width / 2) - Length.FromMeters(0.1)),
            },
        };
    }

    private static Design BuriedInSnow()
    {
        Design van = WithoutDanger();
        return van with
        {
            Stop = Presets.StopAt("fairbanks", 1),
            Equipment = van.Equipment with { RoofNotCleared = true },
        };
    }

    private static Design OpenLocker()
    {
        Design van = WithoutDanger();
        return van with { Equipment = van.Equipment with { GasBottles = true, GasLockerOpensInside = true } };
    }

    // Gas cooking, one lid without a hood, nothing fixed.
    private static Design GasInTheRain()
    {
        Design van = WithoutDanger();
        return van with { Household = van.Household with { CookingFuel = CookingFuel.Gas } };
    }

    private static Design WithFixedVents(Design van)
    {
        van = Openings.Change(van, Presets.RoofFanId, o => o with { Facts = o.Facts with { UsableInRain = true } });
        van = Openings.Add(van, FixedVent("fixed-high", "Fixed vent in the roof", OpeningKind.RoofVent, Face.Roof, van.Body.InteriorHeight, 0.16));
        return Openings.Add(van, FixedVent("fixed-low", "Fixed vent in the floor", OpeningKind.FloorVent, Face.Floor, Length.Zero, 0.08));
    }

    private static Opening FixedVent(string id, string name, OpeningKind kind, Face face, Length z, double sideM) => new()
    {
        Id = id,
        Name = name,
        Kind = kind,
        Face = face,
        ZoneId = "living",
        X = Length.FromMeters(2),
        Y = Length.FromMeters(0.9),
        Z = z,
        Length = Length.FromMeters(sideM),
        Width = Length.FromMeters(sideM),
        FreeShare = 0.5,
        Position = Position.Full,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true, Fixed = true },
    };
}
