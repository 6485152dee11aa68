namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// What the year's simulation writes down, hour by hour in flat arrays: member k of a list at hour h stands at
/// [k * Hours + h]. States are those at the end of the hour, flows and powers the hour's mean.
/// </summary>
internal sealed class YearSeries
{
    public const int Hours = Climate.YearWeather.Hours;

    /// <summary>Room for a year.</summary>
    /// <param name="zones">Zones, in the design's order.</param>
    /// <param name="surfaces">Glass and metal, as they come first in <see cref="NightModel.Surfaces"/>.</param>
    /// <param name="skins">Linings in the order of <see cref="NightModel.Surfaces"/>, and one for a mattress.</param>
    public YearSeries(int zones, int surfaces, int skins)
    {
        SkinFilmAtStartKgPerM2 = new double[skins];
        SkinRanOffKgPerM2 = new double[skins];
        ZoneC = new double[zones * Hours];
        ZoneVapourPressurePa = new double[zones * Hours];
        ZoneCarbonDioxideShare = new double[zones * Hours];
        ZoneAgeS = new double[zones * Hours];
        SurfaceC = new double[surfaces * Hours];
        SurfaceFilmKgPerM2 = new double[surfaces * Hours];
        SurfaceCondensedKgPerM2 = new double[surfaces * Hours];
        SurfaceRanOffKgPerM2 = new double[surfaces * Hours];
        SkinC = new double[skins * Hours];
        SkinFilmKgPerM2 = new double[skins * Hours];
        SkinHumidityShare = new double[skins * Hours];
    }

    /// <summary>Room for a van's year.</summary>
    public static YearSeries Of(VanModel van) => new(van.ZoneCount, van.FirstLining, van.SkinCount + (van.Mattress is null ? 0 : 1));

    /// <summary>The hour the year was begun with, at the end of its warmest month, when skins are driest.</summary>
    public int FirstHour { get; set; }

    /// <summary>Film on each skin when the year was begun; the end of the year is the hour before <see cref="FirstHour"/>.</summary>
    public double[] SkinFilmAtStartKgPerM2 { get; }

    /// <summary>Water that ran down each skin to the sills over the year.</summary>
    public double[] SkinRanOffKgPerM2 { get; }

    /// <summary>Temperature of each zone.</summary>
    public double[] ZoneC { get; }

    /// <summary>Vapour pressure in each zone.</summary>
    public double[] ZoneVapourPressurePa { get; }

    /// <summary>Carbon dioxide in each zone, share by volume.</summary>
    public double[] ZoneCarbonDioxideShare { get; }

    /// <summary>Local mean age of the air in each zone at the hour's air flows.</summary>
    public double[] ZoneAgeS { get; }

    /// <summary>Temperature of each surface of the model.</summary>
    public double[] SurfaceC { get; }

    /// <summary>Film or frost on each surface.</summary>
    public double[] SurfaceFilmKgPerM2 { get; }

    /// <summary>Condensed on each surface within the hour, 0 or more.</summary>
    public double[] SurfaceCondensedKgPerM2 { get; }

    /// <summary>Run off or wiped off each surface within the hour.</summary>
    public double[] SurfaceRanOffKgPerM2 { get; }

    /// <summary>Temperature of each skin behind a lining; the mattress underside is the last when there is a bed.</summary>
    public double[] SkinC { get; }

    /// <summary>Water or frost on each skin.</summary>
    public double[] SkinFilmKgPerM2 { get; }

    /// <summary>Relative humidity at each skin, over ice below freezing, 0 to 1.</summary>
    public double[] SkinHumidityShare { get; }

    /// <summary>Heater output.</summary>
    public double[] HeaterW { get; } = new double[Hours];

    /// <summary>Water running off furnishings that mist wetted over the year, kg.</summary>
    public double FurnishingRanOffKg { get; set; }

    /// <summary>Most rounds a step needed to settle its films.</summary>
    public int MostFilmRounds { get; set; }

    /// <summary>Time within the hour the heater was at its limit, 0 to 1.</summary>
    public double[] HeaterLimitedShare { get; } = new double[Hours];

    /// <summary>Most oxygen used by flame and breath in any zone at the end of any ten minutes of the hour, share by volume.</summary>
    public double[] MostOxygenUsedShare { get; } = new double[Hours];

    /// <summary>Most carbon dioxide, in the same way: a meal is over before its hour is.</summary>
    public double[] MostCarbonDioxideShare { get; } = new double[Hours];

    /// <summary>Electric draw of roof and circulation fans and of dryers.</summary>
    public double[] FanW { get; } = new double[Hours];

    /// <summary>Air speed over the sleepers at the hour's last air flows; 0 while nobody sleeps.</summary>
    public double[] BedAirSpeedMPerS { get; } = new double[Hours];

    /// <summary>Outdoor air entering, m3/s.</summary>
    public double[] OutdoorAirM3PerS { get; } = new double[Hours];

    /// <summary>People in the van at the end of the hour.</summary>
    public bool[] Occupied { get; } = new bool[Hours];

    /// <summary>People asleep in the van at the end of the hour.</summary>
    public bool[] Asleep { get; } = new bool[Hours];

    /// <summary>Water put in by all sources over the year, kg.</summary>
    public double WaterInKg { get; set; }

    /// <summary>Water dehumidifiers and absorbers took out of the air over the year, kg.</summary>
    public double DriedKg { get; set; }

    /// <summary>Water in less water out less water stored over the year, kg.</summary>
    public double WaterUnaccountedKg { get; set; }

    /// <summary>Heat put in over the year, J.</summary>
    public double HeatInJ { get; set; }

    /// <summary>Heat in less heat out less heat stored over the year, J.</summary>
    public double HeatUnaccountedJ { get; set; }

    /// <summary>Water put in and brought by outdoor air over the year, kg: what the unaccounted water is measured against.</summary>
    public double WaterThroughputKg { get; set; }

    /// <summary>Heat given off inside, of the sun and of condensation over the year, J.</summary>
    public double HeatThroughputJ { get; set; }

    /// <summary>Time steps taken.</summary>
    public int Steps { get; set; }

    /// <summary>Network solves.</summary>
    public int NetworkSolves { get; set; }

    /// <summary>Newton steps of all network solves.</summary>
    public long NewtonSteps { get; set; }
}
