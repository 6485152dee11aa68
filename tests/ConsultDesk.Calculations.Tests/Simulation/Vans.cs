using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Vans the tests share.</summary>
internal static class Vans
{
    /// <summary>The long high van with everything on the roof and walls in the position given.</summary>
    public static Design With(Position fan, Position window, HeaterKind heater = HeaterKind.RoomSealedLiquidFuel)
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = Openings.SetPosition(van, Presets.RoofFanId, fan);
        van = Openings.SetPosition(van, Presets.WindowId, window);
        return van with { Heater = van.Heater with { Kind = heater } };
    }

    /// <summary>A dozen vans that take every turn of the model: shut, open, cold, unflued, empty, one zone.</summary>
    public static IEnumerable<Design> Varied()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        yield return van;
        yield return With(Position.Shut, Position.Shut);
        yield return With(Position.Full, Position.Full);
        yield return With(Position.Ajar, Position.Half, HeaterKind.UnfluedGas);
        yield return With(Position.Shut, Position.Shut, HeaterKind.UnfluedGas);
        yield return With(Position.Shut, Position.Shut, HeaterKind.None);
        yield return With(Position.Full, Position.Shut, HeaterKind.Electric);
        yield return van with { Openings = [] };
        yield return van with { Household = van.Household with { Sleepers = 0 } };
        yield return van with { Household = van.Household with { Sleepers = 6, CookingHabit = CookingHabit.Heavy } };
        yield return Openings.Change(van, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0 } });
        yield return Covered(van, Cover.InsideLoose);
        yield return Covered(van, Cover.InsideTight);
        yield return Covered(van, Cover.Outside);
        yield return OneRoom();
        yield return Presets.Build("compact-low", Layout.FixedBedAcross);
        yield return Presets.Build("extra-long-high", Layout.FrontLounge);
    }

    /// <summary>The van with one cover before all its glass.</summary>
    public static Design Covered(Design van, Cover cover) => van with
    {
        Glazings = [.. van.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = cover } })],
        Openings = [.. van.Openings.Select(opening => opening.Pane is Pane pane ? opening with { Pane = pane with { Cover = cover } } : opening)],
    };

    /// <summary>The whole van as one volume of air.</summary>
    public static Design OneRoom()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        Zone room = van.Zones.Single(zone => zone.Id == "living") with
        {
            From = Length.Zero,
            To = van.Body.InteriorLength,
            Bottom = Length.Zero,
            Top = van.Body.InteriorHeight,
            AirVolume = Volume.FromCubicMeters(12),
        };
        return van with
        {
            Zones = [room],
            Passages = [],
            Openings = [.. van.Openings.Select(opening => opening with { ZoneId = room.Id })],
            Glazings = [.. van.Glazings.Select(glazing => glazing with { ZoneId = room.Id })],
            BareMetal = [.. van.BareMetal.Select(patch => patch with { ZoneId = room.Id })],
        };
    }
}
