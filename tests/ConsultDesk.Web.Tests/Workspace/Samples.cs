using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>A small invented van and an invented assessment of it, for tests that do not calculate.</summary>
internal static class Samples
{
    public static Design Design(int sleepers = 2) => new()
    {
        Body = new Body
        {
            BodyClass = "long-high",
            InteriorLength = Length.FromMeters(5),
            InteriorWidth = Length.FromMeters(1.8),
            InteriorHeight = Length.FromMeters(1.9),
            FloorAboveGround = Length.FromMeters(0.6),
            Furniture = [],
        },
        Zones =
        [
            new Zone
            {
                Id = "living", Kind = ZoneKind.Living, Name = "Living", From = Length.Zero, To = Length.FromMeters(5),
                Bottom = Length.Zero, Top = Length.FromMeters(1.9), AirVolume = Volume.FromCubicMeters(12),
            },
        ],
        Passages = [],
        Openings =
        [
            RoofVent("fan", "Roof fan", 3.2) with
            {
                Position = Position.Full,
                Fan = new Fan
                {
                    FreeAirFlow = VolumeFlow.FromCubicMetersPerHour(1000), ShutOffPressure = Pressure.FromPascals(40), Speed = 0.3,
                    Direction = FanDirection.Exhaust,
                },
            },
            RoofVent("vent", "Roof vent", 1.6),
        ],
        Glazings = [],
        BareMetal = [],
        Walls = Assembly("Walls"),
        Roof = Assembly("Roof"),
        Floor = Assembly("Floor"),
        Leakage = new Leakage { EffectiveArea = Area.FromSquareCentimeters(60), Exponent = 0.65 },
        Heater = new Heater
        {
            Kind = HeaterKind.RoomSealedLiquidFuel, RatedOutput = Power.FromWatts(2000),
            NightSetPoint = Temperature.FromDegreesCelsius(16), ZoneId = "living",
        },
        Household = new Household { Sleepers = sleepers, CookingFuel = CookingFuel.Gas, CookingHabit = CookingHabit.Everyday },
        Stop = new Stop { PlaceKey = "somewhere", Month = 11, Altitude = Length.FromMeters(100), Shelter = Shelter.Ordinary },
    };

    public static Opening RoofVent(string id, string name, double xM) => new()
    {
        Id = id, Name = name, Kind = OpeningKind.RoofVent, Face = Face.Roof, ZoneId = "living",
        X = Length.FromMeters(xM), Y = Length.FromMeters(0.9), Z = Length.FromMeters(1.9),
        Length = Length.FromMillimeters(350), Width = Length.FromMillimeters(350), FreeShare = 0.8,
        Position = Position.Shut, Facts = new OpeningFacts(),
    };

    private static LayeredAssembly Assembly(string name) => new()
    {
        Name = name,
        Layers = [new SolidLayer { Id = "1", Material = "plywood-500", Thickness = Length.FromMillimeters(9) }],
    };

    public static Assessment Assessment(params Finding[] findings) => new()
    {
        MethodVersion = "test",
        Weather = new NightWeather
        {
            Temperature = Temperature.FromDegreesCelsius(4), DewPoint = Temperature.FromDegreesCelsius(2),
            StationWind = Speed.FromMetersPerSecond(3), Pressure = Pressure.FromPascals(101325),
            DesignTemperature = Temperature.FromDegreesCelsius(-8),
        },
        Night = Duration.FromHours(12),
        Air = new AirExchange
        {
            Openings = [new("fan", VolumeFlow.Zero, VolumeFlow.FromCubicMetersPerHour(80)), new("vent", VolumeFlow.Zero, VolumeFlow.Zero)],
            Passages = [],
            LeakageIn = VolumeFlow.FromCubicMetersPerHour(80),
            LeakageOut = VolumeFlow.Zero,
            OutdoorAir = VolumeFlow.FromCubicMetersPerHour(80),
            AirChangesPerHour = 6.7,
            Suction = Pressure.FromPascals(11),
            Fans = [new("fan", VolumeFlow.FromCubicMetersPerHour(80), VolumeFlow.FromCubicMetersPerHour(300), Ratio.FromPercent(27), Pressure.FromPascals(11))],
        },
        Zones =
        [
            new ZoneState
            {
                ZoneId = "living", Temperature = Temperature.FromDegreesCelsius(16), RelativeHumidity = RelativeHumidity.FromPercent(62),
                DewPoint = Temperature.FromDegreesCelsius(8.7), AgeOfAir = Duration.FromMinutes(9),
                CarbonDioxide = VolumeConcentration.FromPartsPerMillion(900),
            },
        ],
        Water = new WaterBalance
        {
            Sources = [new("People", MassFlow.FromGramsPerHour(80))],
            CarriedOut = MassFlow.FromGramsPerHour(70), Condensing = MassFlow.FromGramsPerHour(10),
            CondensedPerNight = Mass.FromGrams(120),
        },
        Surfaces =
        [
            new SurfaceState
            {
                Id = "windscreen", Name = "Windscreen", ZoneId = "living", Kind = SurfaceKind.Glass, Area = Area.FromSquareMeters(1.2),
                Temperature = Temperature.FromDegreesCelsius(6), DewPoint = Temperature.FromDegreesCelsius(8.7),
                CondensedPerNight = Mass.FromGrams(120), Frost = false, UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(5.7),
            },
        ],
        Assemblies =
        [
            new AssemblyState
            {
                Part = "Walls", Name = "Walls", Area = Area.FromSquareMeters(18),
                UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1.1), Temperatures = [],
            },
        ],
        Heat = new HeatBalance
        {
            Losses = [new("Air", Power.FromWatts(330)), new("Walls", Power.FromWatts(240))],
            People = Power.FromWatts(140), Other = Power.FromWatts(10), Heater = Power.FromWatts(420), DesignLoad = Power.FromWatts(1300),
        },
        Findings = [.. findings],
    };
}
