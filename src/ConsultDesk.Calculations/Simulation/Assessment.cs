using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Unknowns;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>The outdoor air the night is calculated with.</summary>
public sealed record NightWeather
{
    /// <summary>Mean air temperature over the night.</summary>
    public required Temperature Temperature { get; init; }

    /// <summary>Dew point, or frost point below 0 C.</summary>
    public required Temperature DewPoint { get; init; }

    /// <summary>Wind speed of the weather station, at 10 m.</summary>
    public required Speed StationWind { get; init; }

    /// <summary>Barometric pressure at the stop's altitude.</summary>
    public required Pressure Pressure { get; init; }

    /// <summary>Coldest night the heater is sized for.</summary>
    public required Temperature DesignTemperature { get; init; }

    /// <summary>What a black level surface at air temperature loses to the open sky.</summary>
    public Irradiance SkyLoss { get; init; } = Irradiance.Zero;
}

/// <summary>
/// Everything calculated for one option: a steady night with the people asleep, and, when asked for, situations, the
/// year, scores, running card and bands.
/// </summary>
public sealed record Assessment
{
    /// <summary>Version of the calculation method, changed whenever a result could change.</summary>
    public required string MethodVersion { get; init; }

    /// <summary>Outdoor air of the night.</summary>
    public required NightWeather Weather { get; init; }

    /// <summary>Length of the night.</summary>
    public required Duration Night { get; init; }

    /// <summary>Air through the openings.</summary>
    public required AirExchange Air { get; init; }

    /// <summary>Air, temperature and humidity of each zone, in the design's order.</summary>
    public required ImmutableArray<ZoneState> Zones { get; init; }

    /// <summary>Where the night's water comes from and goes to.</summary>
    public required WaterBalance Water { get; init; }

    /// <summary>Glass and bare metal against the dew point.</summary>
    public required ImmutableArray<SurfaceState> Surfaces { get; init; }

    /// <summary>Walls, roof and floor.</summary>
    public required ImmutableArray<AssemblyState> Assemblies { get; init; }

    /// <summary>Heat of the night and of the design night.</summary>
    public required HeatBalance Heat { get; init; }

    /// <summary>Combustion gases in the cabin; null when nothing burns cabin air while people sleep.</summary>
    public Combustion? Combustion { get; init; }

    /// <summary>Conclusions, the gravest first.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    /// <summary>Named situations; empty when only the night was asked for.</summary>
    public ImmutableArray<SituationResult> Situations { get; init; } = [];

    /// <summary>The year; null when only the night was asked for.</summary>
    public YearAssessment? Year { get; init; }

    /// <summary>The four scores; null without the year.</summary>
    public Scores? Scores { get; init; }

    /// <summary>How to run the van; null when only the night was asked for.</summary>
    public RunningCard? Card { get; init; }

    /// <summary>Headline numbers with their bands: those of the night with the year, those of the year when they are asked for.</summary>
    public ImmutableArray<HeadlineBand> Bands { get; init; } = [];

    /// <summary>Main numbers and findings through samples of everything nobody measured; null until it was sampled.</summary>
    public Sureness? Sure { get; init; }
}

/// <summary>Air through the openings.</summary>
public sealed record AirExchange
{
    /// <summary>Flow through each opening, in the design's order; a shut one has none.</summary>
    public required ImmutableArray<OpeningFlow> Openings { get; init; }

    /// <summary>Net flow through each passage, in the design's order.</summary>
    public required ImmutableArray<PassageFlow> Passages { get; init; }

    /// <summary>Outdoor air entering by leakage.</summary>
    public required VolumeFlow LeakageIn { get; init; }

    /// <summary>Inside air leaving by leakage.</summary>
    public required VolumeFlow LeakageOut { get; init; }

    /// <summary>All outdoor air entering.</summary>
    public required VolumeFlow OutdoorAir { get; init; }

    /// <summary>Air changes per hour of the whole van.</summary>
    public required double AirChangesPerHour { get; init; }

    /// <summary>Pressure of the living zone below outside at its floor (negative: above outside).</summary>
    public required Pressure Suction { get; init; }

    /// <summary>Each running fan, in the design's order.</summary>
    public required ImmutableArray<FanPoint> Fans { get; init; }
}

/// <summary>Flow through one opening. Both are positive when air passes both ways at once.</summary>
public sealed record OpeningFlow(string OpeningId, VolumeFlow In, VolumeFlow Out);

/// <summary>Net flow through a passage, positive from zone A to zone B, and the exchange on top of it.</summary>
public sealed record PassageFlow(string PassageId, VolumeFlow Net, VolumeFlow Mixing);

/// <summary>Where a fan works on its curve.</summary>
public sealed record FanPoint(string OpeningId, VolumeFlow Flow, VolumeFlow FreeAirFlowAtSpeed, Ratio ShareOfFreeAir, Pressure Pressure);

/// <summary>State of the air in one zone.</summary>
public sealed record ZoneState
{
    /// <summary>Id of the zone.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Air temperature.</summary>
    public required Temperature Temperature { get; init; }

    /// <summary>Relative humidity over water, 0 to 100 %.</summary>
    public required RelativeHumidity RelativeHumidity { get; init; }

    /// <summary>Dew point, or frost point below 0 C.</summary>
    public required Temperature DewPoint { get; init; }

    /// <summary>Local mean age of air.</summary>
    public required Duration AgeOfAir { get; init; }

    /// <summary>Carbon dioxide by volume, outdoor air included.</summary>
    public required VolumeConcentration CarbonDioxide { get; init; }
}

/// <summary>One source of water.</summary>
public sealed record WaterSource(string Name, MassFlow Rate);

/// <summary>Where the night's water comes from and goes to. Sources = carried out by air + condensed + taken out by dryers.</summary>
public sealed record WaterBalance
{
    /// <summary>Sources inside the van.</summary>
    public required ImmutableArray<WaterSource> Sources { get; init; }

    /// <summary>Water carried out by air, less what the outdoor air brings.</summary>
    public required MassFlow CarriedOut { get; init; }

    /// <summary>Water condensing or freezing: on glass, metal and linings, and as mist.</summary>
    public required MassFlow Condensing { get; init; }

    /// <summary>Water dehumidifiers and absorbers take out of the air.</summary>
    public MassFlow Removed { get; init; }

    /// <summary>Water condensed over the night.</summary>
    public required Mass CondensedPerNight { get; init; }

    /// <summary>Part of <see cref="Condensing"/> on lined walls, roof and floor.</summary>
    public MassFlow OnLinings { get; init; }

    /// <summary>Part of <see cref="Condensing"/> that leaves saturated air as mist and settles anywhere.</summary>
    public MassFlow Mist { get; init; }
}

/// <summary>What a cold surface is.</summary>
public enum SurfaceKind
{
    /// <summary>Glass or acrylic.</summary>
    Glass,

    /// <summary>Bare metal.</summary>
    Metal,
}

/// <summary>One surface against the dew point of the air before it.</summary>
public sealed record SurfaceState
{
    /// <summary>Id of the glazing, opening or metal patch.</summary>
    public required string Id { get; init; }

    /// <summary>Name the client would use.</summary>
    public required string Name { get; init; }

    /// <summary>Id of the zone.</summary>
    public required string ZoneId { get; init; }

    /// <summary>Glass or metal.</summary>
    public required SurfaceKind Kind { get; init; }

    /// <summary>Area.</summary>
    public required Area Area { get; init; }

    /// <summary>Temperature of the room side.</summary>
    public required Temperature Temperature { get; init; }

    /// <summary>Dew or frost point of the zone's air.</summary>
    public required Temperature DewPoint { get; init; }

    /// <summary>Water condensing over the night, zero or more.</summary>
    public required Mass CondensedPerNight { get; init; }

    /// <summary>True when what forms is frost.</summary>
    public required bool Frost { get; init; }

    /// <summary>U-value of the glass, or metal, with its cover.</summary>
    public required HeatTransferCoefficient UValue { get; init; }
}

/// <summary>Thermal state of an assembly.</summary>
public sealed record AssemblyState
{
    /// <summary>Walls, roof or floor.</summary>
    public required string Part { get; init; }

    /// <summary>Name of the assembly.</summary>
    public required string Name { get; init; }

    /// <summary>Opaque area.</summary>
    public required Area Area { get; init; }

    /// <summary>U-value by ISO 6946, ribs left out.</summary>
    public required HeatTransferCoefficient UValue { get; init; }

    /// <summary>
    /// U-value with the metal ribs of walls and roof counted, as a range; null for the floor and where no insulation is
    /// bridged. The heat balance counts ribs apart, as "Ribs and seams".
    /// </summary>
    public RibbedUValue? WithRibs { get; init; }

    /// <summary>Temperatures at the room side, between the layers, and at the outside, one more than there are layers.</summary>
    public required ImmutableArray<Temperature> Temperatures { get; init; }

    /// <summary>Water condensing on its lining over the night, zero or more; what enters the layers is not counted.</summary>
    public Mass CondensedPerNight { get; init; }
}

/// <summary>A U-value with ribs between its two limits.</summary>
/// <param name="Low">Heat flows straight through each section (upper limit of the resistance).</param>
/// <param name="High">Every plane between layers has one temperature (lower limit of the resistance).</param>
/// <param name="Reason">Why it is a range.</param>
public sealed record RibbedUValue(HeatTransferCoefficient Low, HeatTransferCoefficient High, string Reason);

/// <summary>One path of heat out of the van.</summary>
public sealed record HeatPath(string Name, Power Loss);

/// <summary>Heat of the night and of the design night.</summary>
public sealed record HeatBalance
{
    /// <summary>Losses by path over the night, air exchange included.</summary>
    public required ImmutableArray<HeatPath> Losses { get; init; }

    /// <summary>Sensible heat of the people and animals.</summary>
    public required Power People { get; init; }

    /// <summary>Other heat given off in the van: cooking, and dehumidifiers with the heat of the water they take out.</summary>
    public required Power Other { get; init; }

    /// <summary>Mean heater output over the night.</summary>
    public required Power Heater { get; init; }

    /// <summary>Output needed on the design night with the same ventilation.</summary>
    public required Power DesignLoad { get; init; }

    /// <summary>Fuel for the night; null for an electric heater or none.</summary>
    public Mass? FuelPerNight { get; init; }

    /// <summary>Electric energy for heat over the night; null unless electric.</summary>
    public Energy? ElectricPerNight { get; init; }
}

/// <summary>What burning in the cabin does to its air, in the zone with the highest carbon dioxide.</summary>
public sealed record Combustion
{
    /// <summary>Fuel burnt in the cabin.</summary>
    public required MassFlow Fuel { get; init; }

    /// <summary>Water it makes.</summary>
    public required MassFlow Water { get; init; }

    /// <summary>Carbon dioxide reached, by volume.</summary>
    public required VolumeConcentration CarbonDioxide { get; init; }

    /// <summary>Oxygen left, by volume.</summary>
    public required Ratio Oxygen { get; init; }
}
