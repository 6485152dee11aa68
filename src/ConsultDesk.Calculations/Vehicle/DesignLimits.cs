using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// The range of every field of a <see cref="Design"/> that can be edited. One named value that validation, screen
/// and docs share.
/// </summary>
public static class DesignLimits
{
    /// <summary>Inside length.</summary>
    public static readonly ValidRange InteriorLength = new("Inside length", 2, 9, "m");

    /// <summary>Inside width.</summary>
    public static readonly ValidRange InteriorWidth = new("Inside width", 1.2, 2.5, "m");

    /// <summary>Inside height.</summary>
    public static readonly ValidRange InteriorHeight = new("Inside height", 1, 2.6, "m");

    /// <summary>Height of the floor above the ground.</summary>
    public static readonly ValidRange FloorAboveGround = new("Floor above ground", 0.2, 1.2, "m");

    /// <summary>Each size of a piece of furniture.</summary>
    public static readonly ValidRange FurnitureSize = new("Furniture size", 0.02, 4, "m");

    /// <summary>Air volume of a zone.</summary>
    public static readonly ValidRange ZoneAirVolume = new("Air volume", 0.02, 40, "m³");

    /// <summary>Free area of a passage.</summary>
    public static readonly ValidRange PassageFreeArea = new("Free area of the passage", 0.0001, 5, "m²");

    /// <summary>Mixing through a passage.</summary>
    public static readonly ValidRange PassageMixing = new("Mixing", 0, 1000, "m³/h");

    /// <summary>Size of an opening along its face.</summary>
    public static readonly ValidRange OpeningLength = new("Length of the opening", 0.02, 2, "m");

    /// <summary>Size of an opening across its face, or upwards.</summary>
    public static readonly ValidRange OpeningWidth = new("Width of the opening", 0.02, 1.5, "m");

    /// <summary>Share of an opening's frame that is free when fully open.</summary>
    public static readonly ValidRange OpeningFreeShare = new("Free share of the frame", 0.01, 1, "");

    /// <summary>Flow of a fan at full speed with no resistance.</summary>
    public static readonly ValidRange FanFreeAirFlow = new("Free-air flow", 0.005, 1, "m³/s");

    /// <summary>Pressure of a fan at full speed with no flow.</summary>
    public static readonly ValidRange FanShutOffPressure = new("Shut-off pressure", 5, 200, "Pa");

    /// <summary>Speed of a running fan as a share of full speed; off is 0 and valid too.</summary>
    public static readonly ValidRange FanSpeed = new("Fan speed (0 is off)", 0.05, 1, "");

    /// <summary>Sound of a fan at full speed, at 1 m.</summary>
    public static readonly ValidRange FanSound = new("Sound at full speed", 20, 90, "dB(A)");

    /// <summary>Water a dryer removes a day at 20 C and 60 % RH.</summary>
    public static readonly ValidRange DryerRemoval = new("Water removed a day", 0.01, 30, "kg");

    /// <summary>Electric draw of a dryer.</summary>
    public static readonly ValidRange DryerDraw = new("Electric draw", 0, 1000, "W");

    /// <summary>Size of a part on the roof along the van.</summary>
    public static readonly ValidRange RoofPartLength = new("Length of the part on the roof", 0.02, 9, "m");

    /// <summary>Size of a part on the roof across the van.</summary>
    public static readonly ValidRange RoofPartWidth = new("Width of the part on the roof", 0.02, 2.5, "m");

    /// <summary>Area of a pane.</summary>
    public static readonly ValidRange GlazingArea = new("Glass area", 0.02, 4, "m²");

    /// <summary>Area of a patch of bare metal.</summary>
    public static readonly ValidRange BareMetalArea = new("Bare metal area", 0.01, 30, "m²");

    /// <summary>Thickness of a solid layer.</summary>
    public static readonly ValidRange SolidThickness = Envelope.AssemblyRules.SolidThicknessRange;

    /// <summary>Thickness of an air layer.</summary>
    public static readonly ValidRange AirLayerThickness = Envelope.AirLayers.ThicknessRange;

    /// <summary>Vapour-equivalent air layer thickness of a membrane.</summary>
    public static readonly ValidRange MembraneVapourResistance = Envelope.AssemblyRules.MembraneRange;

    /// <summary>Effective leakage area of the body.</summary>
    public static readonly ValidRange LeakageArea = new("Leakage area", 5, 1000, "cm²");

    /// <summary>Flow exponent of the cracks.</summary>
    public static readonly ValidRange LeakageExponent = new("Leakage exponent", 0.5, 1, "");

    /// <summary>Rated heat output of a heater that is there.</summary>
    public static readonly ValidRange HeaterOutput = new("Rated output", 0.3, 15, "kW");

    /// <summary>Temperature kept by night.</summary>
    public static readonly ValidRange NightSetPoint = new("Night temperature", 0, 30, "°C");

    /// <summary>Temperature kept while people are awake.</summary>
    public static readonly ValidRange DaySetPoint = new("Day temperature", 0, 30, "°C");

    /// <summary>People who sleep in the van.</summary>
    public static readonly ValidRange Sleepers = new("Sleepers", 0, 6, "people");

    /// <summary>Animals that breathe about as much as a dog.</summary>
    public static readonly ValidRange Animals = new("Animals", 0, 6, "");

    /// <summary>Showers taken in the van.</summary>
    public static readonly ValidRange ShowersPerDay = new("Showers a day", 0, 10, "");

    /// <summary>Hot drinks made in the van a day.</summary>
    public static readonly ValidRange HotDrinksPerDay = new("Hot drinks a day", 0, 30, "");

    /// <summary>Potted plants in the van.</summary>
    public static readonly ValidRange Plants = new("Plants", 0, 20, "");

    /// <summary>Depth of a cupboard from the wall.</summary>
    public static readonly ValidRange CupboardDepth = new("Depth of the cupboard", 0.1, 1, "m");

    /// <summary>Air a circulation fan exchanges.</summary>
    public static readonly ValidRange CirculationFlow = new("Air moved", 5, 500, "m³/h");

    /// <summary>Electric draw of a circulation fan.</summary>
    public static readonly ValidRange CirculationDraw = new("Electric draw", 0, 60, "W");

    /// <summary>Size of what lies hidden behind the skin.</summary>
    public static readonly ValidRange HiddenPartSize = new("Size of the hidden part", 0.005, 9, "m");

    /// <summary>Ways out of the bed.</summary>
    public static readonly ValidRange WaysOutOfBed = new("Ways out of the bed", 1, 10, "");

    /// <summary>Usable energy of the battery.</summary>
    public static readonly ValidRange BatteryUsable = new("Usable battery energy", 0, 30, "kWh");

    /// <summary>Altitude a heater is made for.</summary>
    public static readonly ValidRange HeaterRatedAltitude = new("Altitude the heater is made for", 0, 6000, "m");

    /// <summary>Month of the stop.</summary>
    public static readonly ValidRange Month = new("Month", 1, 12, "");

    /// <summary>Altitude of the stop.</summary>
    public static readonly ValidRange Altitude = Air.StandardAtmosphere.AltitudeRange;

    /// <summary>Every range, for the docs.</summary>
    public static ImmutableArray<ValidRange> All { get; } =
    [
        InteriorLength, InteriorWidth, InteriorHeight, FloorAboveGround, FurnitureSize, ZoneAirVolume,
        PassageFreeArea, PassageMixing, OpeningLength, OpeningWidth, OpeningFreeShare, FanFreeAirFlow,
        FanShutOffPressure, FanSpeed, GlazingArea, BareMetalArea, SolidThickness, AirLayerThickness,
        MembraneVapourResistance, LeakageArea, LeakageExponent, HeaterOutput, NightSetPoint, DaySetPoint, Sleepers,
        Animals, ShowersPerDay, HotDrinksPerDay, Plants, CupboardDepth, CirculationFlow, CirculationDraw, HiddenPartSize, WaysOutOfBed,
        BatteryUsable, HeaterRatedAltitude, Month, Altitude,
    ];
}
