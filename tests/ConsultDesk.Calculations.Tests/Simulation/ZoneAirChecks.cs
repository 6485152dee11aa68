using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Gases and water in zones that exchange air.</summary>
public static class ZoneAirChecks
{
    private const string TwoZones = "C1 = 420 + 18/30 x 1000; C2 = C1 + 18/10 x 1000";
    private const string DryAir = "solar housing text, section on humidity: 30 m3/h take out 110 to 210 g/h; 3.8 g/m3 at 10 °C and 7.0 g/m3 at 0 °C outside of 70 %, room 20 °C 60 %";

    private const string Purge = "CDC, MMWR 28 October 1994, table S3-1: air changes an hour and minutes to remove 90, 99 and 99.9 %";

    public static CheckGroup Group { get; } = new("Air of the zones",
    [
        new("Carbon dioxide in the room", "30 m3/h through it, 10 m3/h of exchange with a dead end that holds an 18 L/h source", 1020, "ppm",
            Absolute(1), () => DeadEnd(0), TwoZones, Sureness.Derived) { Equation = "Carbon dioxide of zones" },
        new("Carbon dioxide in the dead end", "30 m3/h through the room, 10 m3/h of exchange, 18 L/h source", 2820, "ppm",
            Absolute(1), () => DeadEnd(1), TwoZones, Sureness.Derived) { Equation = "Carbon dioxide of zones" },
        new("Air change of a shut, unheated, empty van", "van to start from, ordinary site, 3.9 m/s at the station", 0.7, "1/h",
            Absolute(0.7), ShutAirChange, "parked cars, all closed: 0 to 1.4 per hour (Knibbs et al. 2009, six cars)", Sureness.Read),
        new("Air change of a shut, unheated, empty van", "the same, four other vehicles", 0.5, "1/h",
            Absolute(0.5), ShutAirChange, "parked, windows closed, fan off: below 1 per hour (Ott, Klepeis, Switzer 2008, four vehicles); Park et al. 1998 had 1 to 3 in three cars, which the van stays below", Sureness.Read),
        new("Carbon dioxide above outdoors", "one person, 18.6 L/h, 7.5 L/s", 700, "ppm", Relative(0.02),
            () => 1e6 * (TraceGas.Shares([0, 27], [0.0186], 420e-6, zones: 1)[0] - 420e-6), "700 ppm above outdoors at the rate of ASHRAE 62.1, in several guides", Sureness.Read) { Equation = "Carbon dioxide of zones" },
        Water(10, 3.8),
        Water(0, 7.0),
        new("Carbon dioxide in a dead end behind a dead end", "30 m3/h through the room, 20 and 10 m3/h of exchange, 18 L/h in each dead end", 1620 + 1800 + 1800, "ppm",
            Absolute(2), () => Row(2), "C1 = 420 + 36/30 x 1000; C2 = C1 + 36/20 x 1000; C3 = C2 + 18/10 x 1000", Sureness.Derived) { Equation = "Carbon dioxide of zones" },
        new("Carbon dioxide in the middle of the same", "30 m3/h through the room, 20 and 10 m3/h of exchange, 18 L/h in each dead end", 1620 + 1800, "ppm",
            Absolute(2), () => Row(1), "C1 = 420 + 36/30 x 1000; C2 = C1 + 36/20 x 1000", Sureness.Derived) { Equation = "Carbon dioxide of zones" },
        Flushed(1, 90, 138),
        Flushed(1, 99, 276),
        Flushed(2, 99.9, 207),
        Flushed(6, 90, 23),
        Flushed(12, 99, 23),
        Flushed(6, 99.9, 69),
    ]);

    // The table gives whole minutes, and half a minute's steps lag the curve by up to 5 % at twelve air changes.
    private static Check Flushed(double changesPerHour, double percent, double minutes) => new(
        "Time to flush a gas out of a room", FormattableString.Invariant($"{changesPerHour} air changes an hour, {percent} % gone"), minutes, "min", Relative(0.06),
        () => FlushMinutes(changesPerHour, percent, stepS: 30), Purge, Sureness.Read);

    private static Check Water(double outdoorC, double expected) => new(
        "Water a cubic metre of outdoor air takes out", $"room 20 °C 60 %, outside {outdoorC} °C 70 %", expected, "g/m3", Absolute(0.06),
        () => 1000 * (Concentration(20, 60) - Concentration(outdoorC, 70)), DryAir, Sureness.Read);

    private static double Concentration(double celsius, double percent)
    {
        Temperature air = Temperature.FromDegreesCelsius(celsius);
        return MoistAir.VapourConcentration(air, MoistAir.VapourPressure(air, RelativeHumidity.FromPercent(percent))).KilogramsPerCubicMeter;
    }

    // Zones: room, dead end; outside last. Any unit of flow will do.
    private static double DeadEnd(int zone) =>
        1e6 * TraceGas.Shares([0, 10, 30, 10, 0, 0], [0, 0.018], 420e-6, zones: 2)[zone];

    // Zones: room, dead end, dead end behind it; outside last.
    private static double Row(int zone) =>
        1e6 * TraceGas.Shares([0, 20, 0, 30, 20, 0, 10, 0, 0, 10, 0, 0], [0, 0.018, 0.018], 420e-6, zones: 3)[zone];

    /// <summary>Minutes until a share of the gas in a van of one room is gone, by the year's own gas balance in steps of some seconds.</summary>
    internal static double FlushMinutes(double changesPerHour, double percent, int stepS)
    {
        VanStep step = new(new VanModel(Vans.OneRoom(), Assumptions.Likely));
        step.Start(20, 0.007, 101_325, 0);
        step.SetAir([0, changesPerHour * step.AirKg[0] / 3600]);
        double left = step.CarbonDioxide[0] = 0.01;
        double minutes = 0;
        double gone = left * (1 - (percent / 100));
        while (step.CarbonDioxide[0] > gone)
        {
            left = step.CarbonDioxide[0];
            step.StepGases(stepS, 0);
            minutes += stepS / 60.0;
        }

        // Within the last step along the decay.
        return minutes - (stepS / 60.0 * Math.Log(gone / step.CarbonDioxide[0]) / Math.Log(left / step.CarbonDioxide[0]));
    }

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
