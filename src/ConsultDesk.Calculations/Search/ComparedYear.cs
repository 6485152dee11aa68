using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Search;

/// <summary>What a search compares of a year.</summary>
/// <param name="WetHoursM2">Hours with a film or frost times area, over glass and bare metal, h m2.</param>
/// <param name="MouldThirdYear">Highest mould index in the third year on the worst surfaces, 0 to 6.</param>
/// <param name="ColdHours">Hours with people more than 1 K below the temperature asked for.</param>
/// <param name="HotHours">Hot hours asleep.</param>
/// <param name="Fuel">Fuel burnt; null when the heater burns none.</param>
/// <param name="Electric">Electric energy for heat, fans, dryers and the heater's own draw.</param>
/// <param name="ElectricWorstDay">The same on the day that takes most.</param>
public sealed record ComparedYear(
    double WetHoursM2, double MouldThirdYear, int ColdHours, int HotHours, Mass? Fuel, Energy Electric, Energy ElectricWorstDay)
{
    // A room counts as cold when it stays this far below the temperature asked for, as the year's hours in which a heater is short. K.
    private const double ColdByK = 1;

    /// <summary>The same of a year that was assessed.</summary>
    /// <param name="now">The design without what comes later.</param>
    /// <param name="year">Its year.</param>
    public static ComparedYear Of(Design now, YearAssessment year)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(year);
        return new ComparedYear(
            year.Surfaces.Sum(surface => surface.WetHours * surface.Area.SquareMeters),
            year.Mould.Select(surface => surface.ThirdYear).DefaultIfEmpty(0).Max(),
            OfColdHours(now, year),
            year.HotNights.Hours,
            year.Heat.Fuel,
            year.Heat.Electric,
            year.Heat.ElectricWorstDay);
    }

    /// <summary>True for an hour that counts as cold. Temperatures as the assessment keeps them, in single precision.</summary>
    internal static bool IsCold(Heater heater, bool asleep, bool occupied, float bedC, float livingC) => asleep
        ? bedC < heater.NightSetPoint.DegreesCelsius - ColdByK
        : occupied && livingC < heater.DaySetPoint.DegreesCelsius - ColdByK;

    private static int OfColdHours(Design now, YearAssessment year)
    {
        HouseholdDay day = HouseholdDay.Of(now, Assumptions.Likely);
        int cold = 0;
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            DaySlot slot = day.Slot[(6 * (hour % 24)) + 5];
            cold += IsCold(now.Heater, slot.Asleep, slot.Occupied, year.Hours.BedC[hour], year.Hours.LivingC[hour]) ? 1 : 0;
        }

        return cold;
    }
}
