using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Tests.Validation;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Yardsticks of fixed openings.</summary>
public static class FixedOpeningChecks
{
    private const string En721 = "EN 721 as quoted in VdTUEV Merkblatt 740 (secondary)";
    private const string En721Recalled = "EN 721:2004 table";
    private const string AsNzs = "AS/NZS 5601.2 clause 7.3, formula and example as printed by the Victorian regulator's magazine no. 42 and a trade page (secondary)";

    public static CheckGroup Group { get; } = new("Fixed openings",
    [
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
            () => FixedOpenings.En721RoomSealed(highInRoof: true).High.SquareCentimeters, En721, Sureness.Read) { Equation = "Table of EN 721" },
        new("Fixed opening high", "no or room-sealed appliances, not in the roof", 30, "cm2", Tolerance.Absolute(0.1),
            () => FixedOpenings.En721RoomSealed(highInRoof: false).High.SquareCentimeters, En721, Sureness.Read) { Equation = "Table of EN 721" },
        new("Fixed opening low", "no or room-sealed appliances", 5, "cm2", Tolerance.Absolute(0.1),
            () => FixedOpenings.En721RoomSealed(highInRoof: true).Low.SquareCentimeters, En721, Sureness.Read) { Equation = "Table of EN 721" },
        new("Least height of a high opening over the mattress", "not in the roof", 300, "mm", Tolerance.Absolute(0.1),
            () => FixedOpenings.HighAboveMattress.Millimeters, En721, Sureness.Read) { Equation = "Table of EN 721" },
        new("Highest lower edge of a low opening over the floor", "-", 100, "mm", Tolerance.Absolute(0.1),
            () => FixedOpenings.LowLimit.Millimeters, En721, Sureness.Read) { Equation = "Table of EN 721" },
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
        recalled ? Sureness.Memory : Sureness.Read)
    {
        Equation = "Table of EN 721",
    };

    private static Check Vent(string inputs, double megajoulePerHour, int berths, double mm2, string source, Sureness origin) => new(
        "Fixed openings in all", inputs, mm2, "mm2", Tolerance.Absolute(0.5),
        () => FixedOpenings.AsNzs5601(Power.FromWatts(megajoulePerHour * 1e6 / 3600), berths).SquareMillimeters, source, origin);
}
