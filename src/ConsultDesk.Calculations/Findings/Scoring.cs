using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>The four scores of a year. Each is its lowest part; danger stands outside them.</summary>
internal static class Scoring
{
    /// <summary>The scores, or null without a year or without anybody who sleeps in the van.</summary>
    public static Scores? Of(Design design, YearAssessment? year) => year is null || design.Household.Sleepers == 0 || year.WetMornings.Nights == 0
        ? null
        : new Scores(
            Score("Ventilation", Ventilation(design, year)),
            Score("Heating", Heating(year)),
            Score("Breathability", Breathability(design, year)),
            Score("Hot nights", HotNights(year.HotNights)));

    private static Score Score(string name, IEnumerable<ScorePart> parts)
    {
        ImmutableArray<ScorePart> ordered = [.. parts.OrderBy(part => part.Points)];
        return new Score(name, ordered[0].Points, ordered);
    }

    private static IEnumerable<ScorePart> Ventilation(Design design, YearAssessment year)
    {
        VolumeFlow perSleeper = year.NightAir / design.Household.Sleepers;
        yield return Part("night-air", "Outdoor air per sleeper by night", perSleeper, perSleeper.CubicMetersPerHour);

        WetMornings mornings = year.WetMornings;
        double wetPercent = 100.0 * mornings.Count / mornings.Nights;
        yield return Part("wet-mornings", "Wet mornings of the nights slept in the van", Ratio.FromPercent(wetPercent), wetPercent);

        ZoneYear[] rooms = Rooms(design, year);
        VolumeConcentration carbonDioxide = rooms.Select(room => room.NightCarbonDioxide).MaxBy(value => value.PartsPerMillion);
        yield return Part("carbon-dioxide", "Carbon dioxide by night", carbonDioxide, carbonDioxide.PartsPerMillion);

        Duration age = rooms.Select(room => room.NightAge).MaxBy(value => value.Hours);
        yield return Part("air-age", "Age of the air by night", age, age.Hours);
    }

    private static IEnumerable<ScorePart> Heating(YearAssessment year)
    {
        HeatYear heat = year.Heat;
        yield return Part("coldest-bed", "Coldest hour in bed", heat.ColdestBed, heat.ColdestBed.DegreesCelsius);
        yield return Part("hours-short", "Time the heater cannot hold its temperature", Duration.FromHours(heat.HoursShort), heat.HoursShort);
        yield return Part("cycling", "Time it starts and stops", heat.CyclingShare, heat.CyclingShare.Percent);
    }

    // The room's air is always a part: no wall is judged without what it has to bear.
    private static IEnumerable<ScorePart> Breathability(Design design, YearAssessment year)
    {
        double roomHours = Rooms(design, year).Max(room => room.HoursAbove80);
        yield return Hours("room-damp", "Time the room's air is above 80 % humidity", roomHours);
        if (!year.Skins.IsDefaultOrEmpty)
        {
            yield return Hours("skin-wet", "Time with water or frost on the skin behind a lining", year.Skins.Max(skin => skin.WetHours));
            yield return Hours("skin-damp", "Time above 80 % humidity at the skin", year.Skins.Max(skin => skin.HoursAbove80));
            double days = year.Skins.Max(skin => skin.Accumulates ? ScoreCurve.Of("days-to-dry").Rows[^1].Number : skin.DaysToDry.Days);
            yield return Part("days-to-dry", "Longest time until the skin is dry again", Duration.FromDays(days), days);
        }

        if (year.Mattress is MattressYear mattress)
        {
            yield return Hours("mattress-damp", "Time above 80 % humidity under the mattress", mattress.HoursAbove80);
        }
    }

    private static IEnumerable<ScorePart> HotNights(HotNights nights)
    {
        yield return Part("hot-nights", "Hot nights in the year", Scalar.FromAmount(nights.Nights), nights.Nights);
        yield return Part("hottest-asleep", "Hottest hour asleep, as it feels", nights.Felt, nights.Felt.DegreesCelsius);
    }

    private static ZoneYear[] Rooms(Design design, YearAssessment year)
    {
        ZoneYear[] rooms = [.. design.Zones.Zip(year.Zones).Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping).Select(pair => pair.Second)];
        return rooms.Length > 0 ? rooms : [.. year.Zones];
    }

    private static ScorePart Hours(string key, string label, double hours) => Part(key, label, Duration.FromHours(hours), hours);

    private static ScorePart Part(string key, string label, IQuantity value, double number)
    {
        ScoreCurve curve = ScoreCurve.Of(key);
        return new ScorePart(new Evidence(label, value), curve.Points(number), curve.Source);
    }
}
