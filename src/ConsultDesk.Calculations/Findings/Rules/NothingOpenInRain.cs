using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Rain shuts so much that a way in, a way out, or the air itself is missing.</summary>
internal static class NothingOpenInRain
{
    private const string NeedKey = "night-air-per-sleeper";

    // More than any shortage of air: a way in and a way out come first.
    private const double NoWayM3PerH = 1e6;

    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        int usable = Usable(design);
        if (!context.Occupied && (usable > 0 || design.Openings.IsEmpty))
        {
            return null;
        }

        double neededWays = FindingLimits.Of("openings-in-rain");
        VolumeFlow air = context.Reassess(InRain(design)).Air.OutdoorAir;
        double neededM3PerH = NeededM3PerH(design);
        bool airShort = air.CubicMetersPerHour < neededM3PerH;
        if (usable >= neededWays && !airShort)
        {
            return null;
        }

        return new Finding
        {
            Code = "nothing-open-in-rain",
            Severity = usable == 0 || airShort ? Severity.Warning : Severity.Advice,
            Title = usable switch
            {
                0 => "Nothing can stay open in the rain",
                _ when usable < neededWays => "In the rain only one opening is left, and its air has to come through leaks",
                _ => "What can stay open in the rain lets in too little air",
            },
            Explanation = "Damp nights are wet nights: just when the van needs air most, rain shuts what has no hood. One vent alone is a way out without a way in.",
            Evidence =
            [
                new("Outdoor air left in rain, everything open that may stay open", air),
                new("Low end of the need of all sleepers", VolumeFlow.FromCubicMetersPerHour(neededM3PerH)),
                new("Openings that can stay open in rain while people sleep", Scalar.FromAmount(usable)),
                new("Openings in all", Scalar.FromAmount(design.Openings.Length)),
            ],
            Remedy = "Put a rain hood over the roof vent and fit a low vent that rain cannot reach, or a second hooded vent at the other end. Hooded and low together work best.",
            TriedAs = "The copy takes the first of these that is enough.",
            Apply = changed => MoreAir.First(context with { Design = changed }, (tried, _) => Shortage(context, tried), enough: 0, Ways),
        };
    }

    private static IEnumerable<Func<Design, Design>> Ways =>
    [
        RainHoods.OverLids,
        MoreAir.AddLowVent,
        design => MoreAir.AddLowVent(MoreAir.AddLowVent(design)),
        design => MoreAir.AddLowVent(RainHoods.OverLids(design)),
        design => MoreAir.AddBedLid(RainHoods.OverLids(design)),
        design => MoreAir.AddLowVent(MoreAir.AddLowVent(RainHoods.OverLids(design))),
        design => MoreAir.AddLowVent(MoreAir.AddBedLid(RainHoods.OverLids(design))),
        design => MoreAir.AddLowVent(MoreAir.AddLowVent(MoreAir.AddBedLid(RainHoods.OverLids(design)))),
    ];

    private static double Shortage(FindingContext context, Design design) =>
        (NoWayM3PerH * Math.Max(0, FindingLimits.Of("openings-in-rain") - Usable(design)))
        + Math.Max(0, NeededM3PerH(design) - context.Reassess(InRain(design)).Air.OutdoorAir.CubicMetersPerHour);

    private static double NeededM3PerH(Design design) => Defaults.Low(NeedKey) * design.Household.Sleepers;

    private static int Usable(Design design) => design.Openings.Count(StaysOpen);

    private static bool StaysOpen(Opening opening) => opening.Facts.UsableInRain && opening.Kind != OpeningKind.PressureReliefFlap && (opening.Facts.OpenAsleep || opening.Facts.Fixed);

    // The most the van can do in rain: what may stay open is open, its fan at the speed of a night at least; rain shuts the rest.
    private static Design InRain(Design design) => design with
    {
        Openings =
        [
            .. design.Openings.Select(opening => StaysOpen(opening)
                ? opening with
                {
                    Position = Position.Full,
                    Fan = opening.Fan is Fan fan ? fan with { Speed = Math.Max(fan.Speed, MoreAir.NightFanSpeed) } : null,
                }
                : opening.Facts.Fixed ? opening : opening with { Position = Position.Shut }),
        ],
    };
}
