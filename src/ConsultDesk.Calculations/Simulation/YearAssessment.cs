using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>What a whole year does to a van and its people.</summary>
public sealed record YearAssessment
{
    /// <summary>Each glass and bare metal surface, in the order of <see cref="Assessment.Surfaces"/>.</summary>
    public required ImmutableArray<SurfaceYear> Surfaces { get; init; }

    /// <summary>The skin behind each lined part.</summary>
    public required ImmutableArray<SkinYear> Skins { get; init; }

    /// <summary>The underside of the mattress; null without a bed.</summary>
    public MattressYear? Mattress { get; init; }

    /// <summary>Air of each zone, in the design's order.</summary>
    public required ImmutableArray<ZoneYear> Zones { get; init; }

    /// <summary>What the hours of its weather rest on.</summary>
    public Climate.WeatherBasis Weather { get; init; } = Climate.WeatherBasis.Made;

    /// <summary>Wet mornings of the worst surface.</summary>
    public required WetMornings WetMornings { get; init; }

    /// <summary>Water condensed on glass and metal in the year.</summary>
    public required Mass Condensed { get; init; }

    /// <summary>Outdoor air through the nights people sleep in the van, mean.</summary>
    public required VolumeFlow NightAir { get; init; }

    /// <summary>Heat, fuel and current.</summary>
    public required HeatYear Heat { get; init; }

    /// <summary>How the heater fits van and itinerary; null before anybody asked for it.</summary>
    public HeaterFit? HeaterFit { get; init; }

    /// <summary>Walls, roof and floor by the monthly dew-point method with the year's own room air.</summary>
    public ImmutableArray<WallCheck> Walls { get; init; } = [];

    /// <summary>Hot nights at the bed.</summary>
    public required HotNights HotNights { get; init; }

    /// <summary>Mould on the worst surface of each kind, the worst first.</summary>
    public ImmutableArray<MouldSurface> Mould { get; init; } = [];

    /// <summary>Heat and cold while the van is locked and left, and for what stands in it.</summary>
    public required Extremes Extremes { get; init; }

    /// <summary>Unflued gases of the year; null when nothing burns cabin air.</summary>
    public CombustionYear? Combustion { get; init; }

    /// <summary>Each day, 365 of them.</summary>
    public required ImmutableArray<DayState> Days { get; init; }

    /// <summary>Each hour, for the strip and the zoom.</summary>
    public required YearHours Hours { get; init; }

    /// <summary>How well the sums close, and what the calculation took.</summary>
    public required YearClosure Closure { get; init; }
}

/// <summary>A year of a surface. A morning is wet when the film holds 5 g/m2 or more at 07:00.</summary>
public sealed record SurfaceYear
{
    /// <summary>Id of the glazing, opening or metal patch.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Glass or metal.</summary>
    public required SurfaceKind Kind { get; init; }

    /// <summary>Area.</summary>
    public required Area Area { get; init; }

    /// <summary>Wet mornings after nights people slept in the van.</summary>
    public required int WetMornings { get; init; }

    /// <summary>Hours with a film or frost.</summary>
    public required int WetHours { get; init; }

    /// <summary>Part of <see cref="WetHours"/> below freezing.</summary>
    public required int FrostHours { get; init; }

    /// <summary>Largest film or frost, mass per area.</summary>
    public required Mass PeakPerSquareMetre { get; init; }

    /// <summary>Water condensed in the year.</summary>
    public required Mass Condensed { get; init; }

    /// <summary>Water that ran off or was wiped off.</summary>
    public required Mass RanOff { get; init; }
}

/// <summary>A year of the steel behind a lining: what "sealed or breathable" means in numbers.</summary>
public sealed record SkinYear
{
    /// <summary>Walls, roof or floor.</summary>
    public required string Part { get; init; }

    /// <summary>Id of the zone before it.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Lined area.</summary>
    public required Area Area { get; init; }

    /// <summary>Largest water or frost on the skin, mass per area.</summary>
    public required Mass PeakPerSquareMetre { get; init; }

    /// <summary>Water that ran down it to the sills, mass per area.</summary>
    public Mass RanOffPerSquareMetre { get; init; }

    /// <summary>Hours above 80 % relative humidity at the skin.</summary>
    public required int HoursAbove80 { get; init; }

    /// <summary>Hours with liquid or frost on the skin.</summary>
    public required int WetHours { get; init; }

    /// <summary>Longest time from a peak to a dry skin; the whole year when it never dries or accumulates.</summary>
    public required Duration DaysToDry { get; init; }

    /// <summary>True when the skin holds more at the end of the repeated year than at its start.</summary>
    public required bool Accumulates { get; init; }

    /// <summary>Largest water or frost on the skin in each month, mass per area, January first; empty when it was not asked for.</summary>
    public ImmutableArray<Mass> PeakByMonth { get; init; } = [];
}

/// <summary>A year of the mattress's underside.</summary>
public sealed record MattressYear(int HoursAbove80, int WetHours, Mass PeakPerSquareMetre);

/// <summary>A year of a zone's air.</summary>
public sealed record ZoneYear
{
    /// <summary>Id of the zone.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Hours above 80 % relative humidity.</summary>
    public required int HoursAbove80 { get; init; }

    /// <summary>Hours below 30 % with people in the van.</summary>
    public required int HoursBelow30 { get; init; }

    /// <summary>Mean age of the air by night.</summary>
    public required Duration NightAge { get; init; }

    /// <summary>Coldest hour.</summary>
    public required Temperature Coldest { get; init; }

    /// <summary>Warmest hour.</summary>
    public required Temperature Warmest { get; init; }

    /// <summary>Mean carbon dioxide by night, by volume.</summary>
    public required VolumeConcentration NightCarbonDioxide { get; init; }
}

/// <summary>Wet mornings of the year.</summary>
/// <param name="Count">Wet mornings of the worst surface.</param>
/// <param name="Nights">Nights slept in the van.</param>
/// <param name="SurfaceId">The worst surface; empty without glass and metal.</param>
/// <param name="SurfaceName">Its name.</param>
/// <param name="CondensedPerNight">Water condensed on all glass and metal in a night, mean of the nights slept in the van in the cold season.</param>
public sealed record WetMornings(int Count, int Nights, string SurfaceId, string SurfaceName, Mass CondensedPerNight)
{
    /// <summary>Part of <see cref="Count"/> in the cold season: the four months of the itinerary with the lowest mean outdoor temperature.</summary>
    public int ColdSeasonCount { get; init; }

    /// <summary>Part of <see cref="Nights"/> in the cold season.</summary>
    public int ColdSeasonNights { get; init; }
}

/// <summary>A year of heat.</summary>
public sealed record HeatYear
{
    /// <summary>Heat the heater gave.</summary>
    public required Energy Heat { get; init; }

    /// <summary>Fuel burnt; null when it burns none.</summary>
    public Mass? Fuel { get; init; }

    /// <summary>Fuel on the coldest day of the year; null when it burns none.</summary>
    public Mass? FuelColdestDay { get; init; }

    /// <summary>Electric energy for heat, fans, dryers and the heater's own draw.</summary>
    public required Energy Electric { get; init; }

    /// <summary>Electric energy on the day that takes most.</summary>
    public required Energy ElectricWorstDay { get; init; }

    /// <summary>Hours in which the heater gave all it had and did not hold its temperature by 1 K.</summary>
    public required int HoursShort { get; init; }

    /// <summary>Coldest bed zone in an hour people slept.</summary>
    public required Temperature ColdestBed { get; init; }

    /// <summary>Share of its running time the heater spends below its lowest steady output.</summary>
    public required Ratio CyclingShare { get; init; }

    /// <summary>Each month's heat, January first.</summary>
    public required ImmutableArray<Energy> ByMonth { get; init; }
}

/// <summary>
/// How the heater fits van and itinerary. Loads are steady ones in the cold quantile of the stay in which the heater has
/// least to spare, with the larger of two ventilations: what the openings as they stand let in then, and what the sleepers
/// need. Warming up a cold van takes more.
/// </summary>
public sealed record HeaterFit
{
    /// <summary>Outdoor temperature the heater is sized for.</summary>
    public required Temperature DesignOutdoor { get; init; }

    /// <summary>Outdoor air counted.</summary>
    public required VolumeFlow Air { get; init; }

    /// <summary>Outdoor air the openings as they stand let in then.</summary>
    public required VolumeFlow AirAsItStands { get; init; }

    /// <summary>Output needed to hold the temperature of the night.</summary>
    public required Power LoadAsleep { get; init; }

    /// <summary>Output needed to hold the temperature of the day in the same cold.</summary>
    public required Power LoadAwake { get; init; }

    /// <summary>Output at that stay's altitude.</summary>
    public required Power Gives { get; init; }

    /// <summary>Lowest steady output; below it the heater starts and stops. Zero for an electric one and none.</summary>
    public required Power LowestOutput { get; init; }

    /// <summary>Highest stay of the itinerary.</summary>
    public required Length HighestStay { get; init; }

    /// <summary>Altitude the heater runs at without a setting: its maker's, or the usual one of its kind; null where there is none.</summary>
    public Length? RatedAltitude { get; init; }

    /// <summary>True when <see cref="HighestStay"/> lies above <see cref="RatedAltitude"/>.</summary>
    public bool AboveRatedAltitude => RatedAltitude is Length rated && HighestStay.Meters > rated.Meters;

    /// <summary>Days on which the heater gave heat.</summary>
    public required int HeatingDays { get; init; }

    /// <summary>Mean fuel of the heating days; null when it burns none.</summary>
    public Mass? FuelPerHeatingDay { get; init; }

    /// <summary>Fuel on the coldest day; null when it burns none.</summary>
    public Mass? FuelColdestDay { get; init; }

    /// <summary>Share of the hours with heat in which less than the lowest steady output was wanted: it starts and stops.</summary>
    public required Ratio CyclingShare { get; init; }

    /// <summary>Mean electric energy of the heating days for heat, heater and fans; of all days when none is heated.</summary>
    public required Energy ElectricPerDay { get; init; }

    /// <summary>The same on the day that takes most.</summary>
    public required Energy ElectricWorstDay { get; init; }

    /// <summary>
    /// How long the battery carries <see cref="ElectricPerDay"/> without sun, engine or mains, other users apart; null
    /// without a battery or without draw.
    /// </summary>
    public Duration? WithoutSun { get; init; }
}

/// <summary>
/// A lined part by the monthly dew-point method of ISO 13788, between the year's own monthly mean room air and outdoor air.
/// The method knows vapour diffusion only; air that passes the lining is in <see cref="SkinYear"/>, and both stand here.
/// </summary>
public sealed record WallCheck
{
    /// <summary>Walls, roof or floor.</summary>
    public required string Part { get; init; }

    /// <summary>Name of the assembly.</summary>
    public required string Name { get; init; }

    /// <summary>Direction of the heat in the cold season.</summary>
    public required HeatFlow Flow { get; init; }

    /// <summary>Mean room and outdoor air of each month, January first: what <see cref="MonthlyDewPoint.Profiles"/> asks for.</summary>
    public required ImmutableArray<MonthClimate> Months { get; init; }

    /// <summary>Water in the layers at the end of each month, all planes together, mass per area, January first.</summary>
    public required ImmutableArray<Mass> ByMonth { get; init; }

    /// <summary>The largest of <see cref="ByMonth"/>.</summary>
    public required Mass PeakPerSquareMetre { get; init; }

    /// <summary>Month of the peak, 1 to 12; null when nothing condenses.</summary>
    public int? PeakMonth { get; init; }

    /// <summary>True when nothing is left at some time of the year; true when nothing condenses.</summary>
    public required bool DriesWithinYear { get; init; }

    /// <summary>The plane that gets wettest, in words; empty when nothing condenses.</summary>
    public required string WorstPlane { get; init; }

    /// <summary>Mean relative humidity of the room air before it in each month, January first.</summary>
    public required ImmutableArray<RelativeHumidity> RoomHumidity { get; init; }

    /// <summary>
    /// Months in which its room side lies above 80 % relative humidity, the limit from which mould can grow (ISO 13788, with the
    /// inside surface resistance of 0.25 m2 K/W that allows for furniture and corners).
    /// </summary>
    public required int MouldMonths { get; init; }

    /// <summary>Temperature factor fRsi of its room side with the same resistance: how well it is insulated, whatever the weather, 0 to 1.</summary>
    public required double SurfaceTemperatureFactor { get; init; }

    /// <summary>The wettest skin behind it by the hourly calculation; null when it lines nothing.</summary>
    public SkinYear? Skin { get; init; }
}

/// <summary>
/// Hot nights: hours asleep in which the bed feels warmer than the threshold to a sleeper: warmer than still air at 50 %
/// relative humidity of that temperature, by the standard effective temperature of ASHRAE 55.
/// </summary>
/// <param name="Threshold">Felt temperature above which an hour is hot.</param>
/// <param name="Hours">Hot hours asleep.</param>
/// <param name="Nights">Nights with two hot hours or more.</param>
/// <param name="Hottest">Air temperature of the hottest hour asleep.</param>
public sealed record HotNights(Temperature Threshold, int Hours, int Nights, Temperature Hottest)
{
    /// <summary>
    /// The hour asleep that feels hottest, as it feels; the air's own temperature outside the 0 to 50 degrees Celsius the
    /// method is made for.
    /// </summary>
    public required Temperature Felt { get; init; }

    /// <summary>Air speed over the sleepers, mean of the warm hours asleep; 0 when there are none.</summary>
    public Speed AirSpeed { get; init; }
}

/// <summary>Where mould is looked for.</summary>
public enum MouldPlace
{
    /// <summary>The room side of a lining.</summary>
    LiningFace,

    /// <summary>What lies on the steel behind a lining.</summary>
    BehindLining,

    /// <summary>The underside of the mattress.</summary>
    Mattress,

    /// <summary>The wall of a cupboard or of the space under the bed.</summary>
    Cupboard,
}

/// <summary>
/// Mould by the VTT index on the worst surface of a kind, from a clean start: 0 none, 1 some under a microscope, 3 some
/// seen by eye, 6 all covered. It says how likely mould is to start, not what it does to health.
/// </summary>
/// <param name="Place">Where it is looked for.</param>
/// <param name="Name">The surface in words.</param>
/// <param name="Index">Highest index in the first year, 0 to 6.</param>
/// <param name="ThirdYear">Highest index in the third year of the same weather and habits, 0 to 6.</param>
public sealed record MouldSurface(MouldPlace Place, string Name, double Index, double ThirdYear);

/// <summary>What the locked van and its parts see.</summary>
public sealed record Extremes
{
    /// <summary>Hottest living zone while locked, with its fan running as far as its facts allow.</summary>
    public required Temperature HottestLocked { get; init; }

    /// <summary>The same with the fan failed.</summary>
    public required Temperature HottestLockedFanFailed { get; init; }

    /// <summary>Hours the battery's zone was below 0 C; null without a battery that minds.</summary>
    public int? BatteryFrostHours { get; init; }

    /// <summary>Hours the water's zone was below 0 C; null without water.</summary>
    public int? WaterFrostHours { get; init; }
}

/// <summary>Gases of an unflued flame over the year.</summary>
/// <param name="HighestCarbonDioxide">Highest of any zone in ten minutes, by volume.</param>
/// <param name="LowestOxygen">Lowest of any zone in ten minutes, by volume.</param>
/// <param name="Water">Water of the flame in the year.</param>
public sealed record CombustionYear(VolumeConcentration HighestCarbonDioxide, Ratio LowestOxygen, Mass Water)
{
    /// <summary>
    /// How long the flame at full input would take, with no air coming in at all, to bring the oxygen of the whole van down
    /// to where the cut-off of an unflued heater acts. Carbon monoxide can kill long before, and no such time is a limit to
    /// work to. Null when the flame has no input.
    /// </summary>
    public Duration? SealedToCutOff { get; init; }
}

/// <summary>One day of the year. Its night runs from noon of the day before to noon.</summary>
/// <param name="Slept">People slept in the van in its night.</param>
/// <param name="WetMorning">Some named surface was wet at 07:00.</param>
/// <param name="CondensedG">Grams condensed on glass and metal in its night.</param>
/// <param name="HeatKwh">Heat of the heater from midnight to midnight, kWh.</param>
/// <param name="MeanOutdoorC">Mean outdoor temperature from midnight to midnight.</param>
/// <param name="HotHours">Hot hours asleep in its night.</param>
public readonly record struct DayState(bool Slept, bool WetMorning, float CondensedG, float HeatKwh, float MeanOutdoorC, byte HotHours);

/// <summary>Hours of the year as plain numbers, 8760 each.</summary>
public sealed record YearHours
{
    /// <summary>Outdoor temperature, degrees Celsius.</summary>
    public required ImmutableArray<float> OutdoorC { get; init; }

    /// <summary>Living zone, degrees Celsius.</summary>
    public required ImmutableArray<float> LivingC { get; init; }

    /// <summary>Bed zone, degrees Celsius.</summary>
    public required ImmutableArray<float> BedC { get; init; }

    /// <summary>Relative humidity of the living zone, 0 to 100 %.</summary>
    public required ImmutableArray<float> LivingHumidityPercent { get; init; }

    /// <summary>Dew point of the living zone, degrees Celsius.</summary>
    public required ImmutableArray<float> LivingDewPointC { get; init; }

    /// <summary>Temperature of the wettest surface of the year, degrees Celsius.</summary>
    public required ImmutableArray<float> WettestSurfaceC { get; init; }

    /// <summary>Film or frost on the wettest surface of the year, g/m2.</summary>
    public required ImmutableArray<float> FilmGPerM2 { get; init; }

    /// <summary>Heater output, W.</summary>
    public required ImmutableArray<float> HeaterW { get; init; }

    /// <summary>Outdoor air, m3/h.</summary>
    public required ImmutableArray<float> OutdoorAirM3PerH { get; init; }
}

/// <summary>How well the year's sums close, as shares of throughput, and what it took.</summary>
/// <param name="Water">Water in less water out less water stored, over water put in and brought by outdoor air.</param>
/// <param name="Heat">Heat in less heat out less heat stored, over heat given off, of the sun and of condensation.</param>
/// <param name="Steps">Time steps.</param>
/// <param name="NetworkSolves">Times the air network was solved.</param>
/// <param name="NewtonSteps">Newton steps of all network solves.</param>
public sealed record YearClosure(double Water, double Heat, int Steps, int NetworkSolves, long NewtonSteps);
