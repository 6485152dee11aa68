namespace ConsultDesk.Reports.Units;

/// <summary>What kind of number is shown or typed. One kind has one unit in each <see cref="DisplayUnits"/> preset.</summary>
public enum Measure
{
    /// <summary>Temperature of air or a surface: °C or °F.</summary>
    Temperature,

    /// <summary>Difference of two temperatures: K or °F.</summary>
    TemperatureDifference,

    /// <summary>Size of a lid, a layer, a cupboard: mm or in.</summary>
    SmallLength,

    /// <summary>Size of the van: m or ft.</summary>
    LargeLength,

    /// <summary>Height above sea level, whole metres or feet.</summary>
    Altitude,

    /// <summary>Vapour-equivalent air layer thickness sd: m in both presets, as the data sheets give it.</summary>
    VapourEquivalentThickness,

    /// <summary>Free area of an opening: cm² or in².</summary>
    SmallArea,

    /// <summary>Area of glass, walls, floor: m² or ft².</summary>
    LargeArea,

    /// <summary>Volume of a space: m³ or ft³.</summary>
    Volume,

    /// <summary>Air flow: m³/h or cfm.</summary>
    AirFlow,

    /// <summary>Heat per time: W or BTU/h.</summary>
    Heat,

    /// <summary>Small pressure difference across openings: Pa or inH₂O.</summary>
    Pressure,

    /// <summary>Barometric pressure: hPa or inHg.</summary>
    BarometricPressure,

    /// <summary>Mass of water: g in both presets.</summary>
    Water,

    /// <summary>Water per time: g/h in both presets.</summary>
    WaterRate,

    /// <summary>Mass of fuel: kg or lb.</summary>
    Fuel,

    /// <summary>Fuel burnt per time: g/h in both presets.</summary>
    FuelRate,

    /// <summary>Electric energy: kWh in both presets.</summary>
    Energy,

    /// <summary>Mass too large for grams: kg or lb.</summary>
    LargeMass,

    /// <summary>Water by volume, one litre for each kilogram: L or US quarts.</summary>
    WaterVolume,

    /// <summary>Liquid fuel by volume: L or US gallons.</summary>
    FuelVolume,

    /// <summary>Charge drawn from the house battery: Ah in both presets.</summary>
    BatteryCharge,

    /// <summary>Heat or sun on an area: W/m² or BTU/(h·ft²).</summary>
    HeatPerArea,

    /// <summary>Electric power: W in both presets.</summary>
    ElectricPower,

    /// <summary>U-value: W/(m²·K) or BTU/(h·ft²·°F).</summary>
    UValue,

    /// <summary>Thermal conductivity: W/(m·K) or BTU/(h·ft·°F).</summary>
    Conductivity,

    /// <summary>Wind speed: m/s or mph.</summary>
    WindSpeed,

    /// <summary>Share: % in both presets.</summary>
    Share,

    /// <summary>Relative humidity: % in both presets.</summary>
    RelativeHumidity,

    /// <summary>Part of a gas in the air by volume: ppm in both presets.</summary>
    Concentration,

    /// <summary>Time: shown as seconds, minutes or hours, typed in hours.</summary>
    Duration,

    /// <summary>Mass per area, such as water on a pane: g/m² in both presets.</summary>
    WaterPerArea,

    /// <summary>A plain number.</summary>
    Count,
}
