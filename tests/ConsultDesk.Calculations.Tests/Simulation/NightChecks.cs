using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Rows of the steady night and of the yardsticks its findings use.</summary>
public static class NightChecks
{
    private const string En721 = "EN 721 as quoted in VdTUEV Merkblatt 740 (secondary)";
    private const string En721Recalled = "EN 721:2004 table";
    private const string AsNzs = "AS/NZS 5601.2 clause 7.3, formula and example as printed by the Victorian regulator's magazine no. 42 and a trade page (secondary)";
    private const string TwoZones = "C1 = 420 + 18/30 x 1000; C2 = C1 + 18/10 x 1000";

    public static CheckGroup Group { get; } = new("Night and fixed openings",
    [
        new("Carbon dioxide in the room", "30 m3/h through it, 10 m3/h of exchange with a dead end that holds an 18 L/h source", 1020, "ppm",
            Tolerance.Absolute(1), () => DeadEnd(0), TwoZones, Sureness.Derived),
        new("Carbon dioxide in the dead end", "30 m3/h through the room, 10 m3/h of exchange, 18 L/h source", 2820, "ppm",
            Tolerance.Absolute(1), () => DeadEnd(1), TwoZones, Sureness.Derived),
        new("Air change of a shut, unheated, empty van", "van to start from, ordinary site, 3.9 m/s at the station", 0.7, "1/h",
            Tolerance.Absolute(0.7), ShutAirChange, "parked cars, all closed: 0 to 1.4 per hour (Knibbs et al. 2009, six cars)", Sureness.Read),

        Fixed("high", "appliances take room air", 5, 75, recalled: false),
        Fixed("low", "appliances take room air", 5, 10, recalled: false),
        Fixed("high", "appliances take room air", 10, 100, recalled: false),
        Fixed("low", "appliances take room air", 10, 15, recalled: false),
        Fixed("high", "appliances take room air", 15, 125, recalled: true),
        Fixed("high", "appliances take room air", 20, 150, recalled: true),
        Fixed("low", "appliances take room air", 20, 30, recalled: true),
        Fixed("high", "appliances take room air", 25, 200, recalled: true),
        Fixed("low", "appliances take room air", 25, 50, recalled: true),
        new("Fixed opening high", "no or room-sealed appliances, in the roof", 15, "cm2", Tolerance.Absolute(0.1),
            () => FixedOpenings.En721RoomSealed(highInRoof: true).High.SquareCentimeters, En721, Sureness.Read),
        new("Fixed opening high", "no or room-sealed appliances, not in the roof", 30, "cm2", Tolerance.Absolute(0.1),
            () => FixedOpenings.En721RoomSealed(highInRoof: false).High.SquareCentimeters, En721, Sureness.Read),
        new("Fixed opening low", "no or room-sealed appliances", 5, "cm2", Tolerance.Absolute(0.1),
            () => FixedOpenings.En721RoomSealed(highInRoof: true).Low.SquareCentimeters, En721, Sureness.Read),
        new("Least height of a high opening over the mattress", "not in the roof", 300, "mm", Tolerance.Absolute(0.1),
            () => FixedOpenings.HighAboveMattress.Millimeters, En721, Sureness.Read),
        new("Highest lower edge of a low opening over the floor", "-", 100, "mm", Tolerance.Absolute(0.1),
            () => FixedOpenings.LowLimit.Millimeters, En721, Sureness.Read),
        Vent("29 MJ/h, 2 berths", 29, 2, 18_990, AsNzs, Sureness.Read),
        Vent("only room-sealed appliances, 2 berths", 0, 2, 4000, AsNzs, Sureness.Read),
        Vent("1.5 kW unflued, 2 berths", 5.4, 2, 4594, "V = 610 U + 650 P, U = 5.4 MJ/h", Sureness.Derived),
    ]);

    private static Check Fixed(string end, string appliances, double planM2, double cm2, bool recalled) => new(
        $"Fixed opening {end}",
        $"{appliances}, {(planM2 > 20 ? "over 20" : $"up to {planM2}")} m2",
        cm2,
        "cm2",
        Tolerance.Absolute(0.1),
        () =>
        {
            FixedOpenings.Areas areas = FixedOpenings.En721(Area.FromSquareMeters(planM2));
            return (end == "high" ? areas.High : areas.Low).SquareCentimeters;
        },
        recalled ? En721Recalled : En721,
        recalled ? Sureness.Memory : Sureness.Read);

    private static Check Vent(string inputs, double megajoulePerHour, int berths, double mm2, string source, Sureness origin) => new(
        "Fixed openings in all", inputs, mm2, "mm2", Tolerance.Absolute(0.5),
        () => FixedOpenings.AsNzs5601(Power.FromWatts(megajoulePerHour * 1e6 / 3600), berths).SquareMillimeters, source, origin);

    // Zones: room, dead end; outside last. Any unit of flow will do.
    private static double DeadEnd(int zone) =>
        1e6 * TraceGas.Shares([0, 10, 30, 10, 0, 0], [0, 0.018], 420e-6, zones: 2)[zone];

    private static double ShutAirChange()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        return Assessor.Assess(van with
        {
            Openings = [],
            Household = van.Household with { Sleepers = 0 },
            Heater = van.Heater with { Kind = HeaterKind.None },
        }).Air.AirChangesPerHour;
    }
}
