using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Nights too hot to sleep.</summary>
internal static class HotBed
{
    // Speed a fan runs at in a hot night, as a share of full speed. Our judgement.
    private const double HotNightFanSpeed = 0.6;

    public static Finding? Judge(FindingContext context)
    {
        if (context.Assessment.Year?.HotNights is not HotNights nights || !context.Occupied || nights.Nights < FindingLimits.Of("hot-nights-few"))
        {
            return null;
        }

        return new Finding
        {
            Code = "hot-nights",
            Severity = nights.Nights >= FindingLimits.Of("hot-nights-many") ? Severity.Warning : Severity.Advice,
            Title = "Nights too hot to sleep at the bed",
            Explanation = "What the sun stored in the van by day leaves it only with air, and moving air over the sleepers cools them further. "
                + "A fan that blows out moves air at the open window, not at the bed.",
            Evidence =
            [
                new("Hot nights in the year", Scalar.FromAmount(nights.Nights)),
                new("Hot hours asleep", Duration.FromHours(nights.Hours)),
                new("Hottest hour asleep", nights.Hottest),
                new("As it feels, with humidity, walls and moving air", nights.Felt),
                new("Hot is what feels warmer than still air of", nights.Threshold),
                new("Moving air over the bed in warm hours, mean", nights.AirSpeed),
            ],
            Remedy = "Shade the glass outside by day. By night open lid and windows near the bed and run the roof fan faster as far as the noise allows, or let a small fan blow over the bed.",
            TriedAs = "The copy opens everything that may stay open asleep and runs the fan at six tenths; where that is not enough in the year, with a small fan over the bed as well.",
            Apply = design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.HotNights.Nights, FindingLimits.Of("hot-nights-few") - 1,
                [Aired, changed => FanOverBed(Aired(changed)), changed => FanOverBed(Aired(MoreAir.AddBedLid(changed)))]),
        };
    }

    private static Design FanOverBed(Design design)
    {
        Zone? bed = design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping);
        Zone? room = design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Living);
        return bed is null || room is null ? design : CirculationFans.Add(design, bed.Id, room.Id);
    }

    private static Design Aired(Design design)
    {
        Design open = MoreAir.Windows(MoreAir.Lids(design), Position.Full);
        return open with
        {
            Openings =
            [
                .. open.Openings.Select(opening => opening.Fan is Fan fan && opening.Position != Position.Shut
                    ? opening with { Fan = fan with { Speed = Math.Max(fan.Speed, HotNightFanSpeed) } }
                    : opening),
            ],
        };
    }
}
