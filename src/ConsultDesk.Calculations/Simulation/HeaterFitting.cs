using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Fits the heater to van and itinerary: in each stay's cold quantile the steady output needed, with the larger of the
/// ventilation that the openings as they stand give then and the one the sleepers need. The stay in which the heater has
/// least to spare decides.
/// </summary>
internal static class HeaterFitting
{
    /// <summary>The fit.</summary>
    /// <param name="design">The design.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="weather">Stays with their cold quantiles.</param>
    /// <param name="days">Heat and electric energy of the year's days.</param>
    /// <param name="coldestDay">The coldest day of the year, from 0.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static HeaterFit Of(Design design, Assumptions assumed, YearWeather weather, HeaterDays days, int coldestDay, CancellationToken cancellation)
    {
        (ColdStay worst, double loadW, double airM3PerS, double presentM3PerS) = weather.Stays
            .Select(stay => ColdStay.Of(design, stay))
            .Select(stay =>
            {
                (double load, double air, double present) = Load(stay, assumed, cancellation);
                return (Stay: stay, LoadW: load, Air: air, Present: present);
            })
            .MaxBy(stay => (stay.LoadW / Math.Max(1, HeaterLimit.OfW(stay.Stay.Design)), -stay.Stay.Night.Temperature.DegreesCelsius));
        ColdStay awake = worst with
        {
            Design = worst.Design with { Heater = worst.Design.Heater with { NightSetPoint = worst.Design.Heater.DaySetPoint } },
        };
        Heater heater = design.Heater;
        HeaterClass? heaterClass = Heaters.Nearest(heater.Kind, heater.RatedOutput);
        int[] heated = [.. Enumerable.Range(0, YearWeather.Days).Where(day => days.HeatJ[day] > 0)];
        double perDayJ = heated.Length == 0 ? days.ElectricJ.Average() : heated.Average(day => days.ElectricJ[day]);
        double batteryJ = design.Equipment.BatteryUsable.Joules;
        return new HeaterFit
        {
            DesignOutdoor = worst.Night.Temperature,
            Air = VolumeFlow.FromCubicMetersPerSecond(airM3PerS),
            AirAsItStands = VolumeFlow.FromCubicMetersPerSecond(presentM3PerS),
            LoadAsleep = Power.FromWatts(loadW),
            LoadAwake = Power.FromWatts(Load(awake, assumed, cancellation).LoadW),
            Gives = Power.FromWatts(HeaterLimit.OfW(worst.Design)),
            LowestOutput = Power.FromWatts(heaterClass is null ? 0 : HeaterDays.LowestW(heater, heaterClass)),
            HighestStay = Length.FromMeters(weather.Stays.Max(stay => stay.Stay.Altitude.Meters)),
            RatedAltitude = RatedAltitude(design, assumed),
            HeatingDays = heated.Length,
            FuelPerHeatingDay = days.Fuel(heated.Length == 0 ? 0 : heated.Average(day => days.HeatJ[day])),
            FuelColdestDay = days.Fuel(days.HeatJ[coldestDay]),
            CyclingShare = Ratio.FromDecimalFractions(days.CyclingShare),
            ElectricPerDay = Energy.FromJoules(perDayJ),
            ElectricWorstDay = Energy.FromJoules(days.ElectricJ.Max()),
            WithoutSun = batteryJ > 0 && perDayJ > 0 ? Duration.FromDays(batteryJ / perDayJ) : null,
        };
    }

    private static (double LoadW, double AirM3PerS, double PresentM3PerS) Load(ColdStay stay, Assumptions assumed, CancellationToken cancellation)
    {
        SteadyNight night = new(new NightModel(stay.Design, assumed), stay.Night, HeaterLimit.UnlimitedW, cancellation);
        double presentM3PerS = night.Air.OutdoorAir().CubicMetersPerSecond;
        double neededM3PerS = assumed["night-air-per-sleeper"] / 3600 * stay.Design.Household.Sleepers;
        double missingM3PerS = Math.Max(0, neededM3PerS - presentM3PerS);
        double density = MoistAir.DensityKgPerM3(
            stay.Night.Temperature.DegreesCelsius, NightModel.OutdoorHumidityRatio(stay.Night), stay.Night.Pressure.Pascals);
        double missingW = (double)HeatLoss.Ventilation(
            VolumeFlow.FromCubicMetersPerSecond(missingM3PerS),
            Density.FromKilogramsPerCubicMeter(density),
            Temperature.FromDegreesCelsius(night.Balance.TemperatureC[night.Model.HeaterZone]),
            stay.Night.Temperature).Watts;
        return (night.Balance.HeaterW + Math.Max(0, missingW), presentM3PerS + missingM3PerS, presentM3PerS);
    }

    private static Length? RatedAltitude(Design design, Assumptions assumed) => design.Equipment.HeaterRatedAltitude
        ?? (design.Heater.Kind.BurnsLiquidFuel() ? Length.FromMeters(assumed["liquid-fuel-altitude"]) : null);

    /// <summary>A stay's cold quantile with the design standing there.</summary>
    private sealed record ColdStay(Design Design, NightWeather Night)
    {
        public static ColdStay Of(Design design, StayWeather weather)
        {
            ItineraryStop stay = weather.Stay;
            Place place = DesignPlaces.Get(design, stay.PlaceKey);
            int month = Itineraries.Months(stay).MinBy(month => place.Month(month).Mean.DegreesCelsius);
            NightWeather mean = Nights.At(place, month, stay.Altitude);
            Stop stop = new() { PlaceKey = stay.PlaceKey, Month = month, Altitude = stay.Altitude, Shelter = stay.Shelter };
            return new ColdStay(design with { Stop = stop }, DesignNight.Of(mean with { DesignTemperature = weather.DesignTemperature }));
        }
    }
}
