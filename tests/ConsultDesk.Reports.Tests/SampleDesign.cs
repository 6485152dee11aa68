using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Reports.Tests;

/// <summary>
/// An invented van with an invented assessment. The numbers are made up to be easily told apart in a drawing or a
/// document; they are not results of the calculation.
/// </summary>
internal static class SampleDesign
{
    public static Design Design { get; } = new()
    {
        Body = new Body
        {
            BodyClass = "long-high",
            InteriorLength = Length.FromMeters(5.2),
            InteriorWidth = Length.FromMeters(1.78),
            InteriorHeight = Length.FromMeters(1.95),
            FloorAboveGround = Length.FromMeters(0.65),
            Furniture =
            [
                Piece("seat-left", FurnitureKind.CabSeat, 0.8, 0.1, 0, 0.6, 0.55, 1.1),
                Piece("seat-right", FurnitureKind.CabSeat, 0.8, 1.13, 0, 0.6, 0.55, 1.1),
                Piece("bed", FurnitureKind.Bed, 3.3, 0.05, 0.75, 1.9, 1.68, 0.12),
                Piece("galley", FurnitureKind.Cupboard, 1.5, 0, 0, 1.2, 0.45, 0.9),
                Piece("cooker", FurnitureKind.Cooker, 1.9, 0.03, 0.9, 0.4, 0.35, 0.05),
            ],
        },
        Zones =
        [
            Room("cab", ZoneKind.Cab, "Cab", 0, 1.5, 0, 1.95, 3.1),
            Room("living", ZoneKind.Living, "Living", 1.5, 3.3, 0, 1.95, 5),
            Room("sleeping", ZoneKind.Sleeping, "Bed", 3.3, 5.2, 0.75, 1.95, 3.6),
            Room("under-bed", ZoneKind.UnderBed, "Under the bed", 3.3, 5.2, 0, 0.75, 1.3),
        ],
        Passages =
        [
            Gap("cab-gap", "Between the cab seats and over them", "cab", "living", 2.0, 0.3, 1.95, 100),
            Gap("bed-opening", "Over the end of the bed", "living", "sleeping", 1.7, 0.87, 1.95, 150),
            Gap("bed-platform", "Slats and gaps of the bed platform", "sleeping", "under-bed", 0.05, 0.75, 0.75, 30),
            Gap("storage-doors", "Gaps of the storage doors under the bed", "living", "under-bed", 0.02, 0, 0.75, 0),
        ],
        Openings =
        [
            new Opening
            {
                Id = "roof-fan",
                Name = "Roof fan, 350 mm, rain hood",
                Kind = OpeningKind.RoofVent,
                Face = Face.Roof,
                ZoneId = "sleeping",
                X = Length.FromMeters(4.2),
                Y = Length.FromMeters(0.89),
                Z = Length.FromMeters(1.95),
                Length = Length.FromMillimeters(350),
                Width = Length.FromMillimeters(350),
                FreeShare = 1,
                Position = Position.Full,
                Facts = new OpeningFacts { OpenAsleep = true, UsableInRain = true },
                Fan = new Fan
                {
                    FreeAirFlow = VolumeFlow.FromCubicMetersPerHour(1500),
                    ShutOffPressure = Pressure.FromPascals(40),
                    Speed = 0.3,
                    Direction = FanDirection.Exhaust,
                },
            },
            new Opening
            {
                Id = "side-window",
                Name = "Half-slider window",
                Kind = OpeningKind.SlidingWindow,
                Face = Face.Right,
                ZoneId = "living",
                X = Length.FromMeters(2.4),
                Y = Length.FromMeters(1.78),
                Z = Length.FromMeters(1.27),
                Length = Length.FromMillimeters(700),
                Width = Length.FromMillimeters(400),
                FreeShare = 0.45,
                Position = Position.Half,
                Facts = new OpeningFacts { OpenAsleep = true, Screened = true },
                Pane = new Pane(GlassKind.AcrylicDouble, Cover.None),
            },
            new Opening
            {
                Id = "front-lid",
                Name = "Roof lid over the galley, 400 mm",
                Kind = OpeningKind.RoofVent,
                Face = Face.Roof,
                ZoneId = "living",
                X = Length.FromMeters(1.95),
                Y = Length.FromMeters(0.89),
                Z = Length.FromMeters(1.95),
                Length = Length.FromMillimeters(400),
                Width = Length.FromMillimeters(400),
                FreeShare = 0.8,
                Position = Position.Ajar,
                Facts = new OpeningFacts(),
            },
            new Opening
            {
                Id = "floor-vent",
                Name = "Floor vent at the galley",
                Kind = OpeningKind.FloorVent,
                Face = Face.Floor,
                ZoneId = "living",
                X = Length.FromMeters(2.85),
                Y = Length.FromMeters(0.3),
                Z = Length.Zero,
                Length = Length.FromMillimeters(120),
                Width = Length.FromMillimeters(120),
                FreeShare = 0.7,
                Position = Position.Full,
                Facts = new OpeningFacts { Fixed = true },
            },
            new Opening
            {
                Id = "bed-window",
                Name = "Hinged window at the bed",
                Kind = OpeningKind.HingedWindow,
                Face = Face.Left,
                ZoneId = "sleeping",
                X = Length.FromMeters(4.4),
                Y = Length.Zero,
                Z = Length.FromMeters(1.35),
                Length = Length.FromMillimeters(600),
                Width = Length.FromMillimeters(350),
                FreeShare = 0.6,
                Position = Position.Shut,
                Facts = new OpeningFacts(),
                Pane = new Pane(GlassKind.AcrylicDouble, Cover.InsideLoose),
            },
        ],
        Glazings =
        [
            Glass("windscreen", "Windscreen", Face.Nose, 1.3),
            Glass("door-window-left", "Left door window", Face.Left, 0.35),
            Glass("door-window-right", "Right door window", Face.Right, 0.35),
        ],
        BareMetal =
        [
            new MetalPatch { Id = "metal-cab", Name = "Bare metal of the cab doors and pillars", ZoneId = "cab", Area = Area.FromSquareMeters(0.6) },
            new MetalPatch { Id = "metal-doors", Name = "Bare metal of the rear door frames", ZoneId = "sleeping", Area = Area.FromSquareMeters(0.4) },
        ],
        Walls = Wall,
        Roof = Wall with { Name = "Insulated roof" },
        Floor = new LayeredAssembly
        {
            Name = "Insulated floor",
            Layers =
            [
                new SolidLayer { Id = "floor-ply", Material = "plywood-500", Thickness = Length.FromMillimeters(12) },
                new SolidLayer { Id = "floor-foam", Material = "xps", Thickness = Length.FromMillimeters(20) },
                new SolidLayer { Id = "floor-skin", Material = "mild-steel", Thickness = Length.FromMillimeters(1) },
            ],
        },
        Leakage = new Leakage { EffectiveArea = Area.FromSquareCentimeters(100), Exponent = 0.65 },
        Heater = new Heater
        {
            Kind = HeaterKind.RoomSealedLiquidFuel,
            RatedOutput = Power.FromKilowatts(2),
            NightSetPoint = Temperature.FromDegreesCelsius(16),
            ZoneId = "living",
        },
        Household = new Household { Sleepers = 2, CookingFuel = CookingFuel.Gas, CookingHabit = CookingHabit.Everyday },
        Stop = new Stop { PlaceKey = "seattle", Month = 1, Altitude = Length.FromMeters(130), Shelter = Shelter.Ordinary },
    };

    public static Assessment Assessment { get; } = new()
    {
        MethodVersion = "test-7",
        Weather = new NightWeather
        {
            Temperature = Temperature.FromDegreesCelsius(3.2),
            DewPoint = Temperature.FromDegreesCelsius(1.7),
            StationWind = Speed.FromMetersPerSecond(3.9),
            Pressure = Pressure.FromPascals(99770),
            DesignTemperature = Temperature.FromDegreesCelsius(-6.4),
        },
        Night = Duration.FromHours(8),
        Air = new AirExchange
        {
            Openings =
            [
                new OpeningFlow("roof-fan", Flow(0), Flow(312)),
                new OpeningFlow("side-window", Flow(171), Flow(0)),
                new OpeningFlow("front-lid", Flow(37), Flow(14)),
                new OpeningFlow("floor-vent", Flow(46), Flow(0)),
                new OpeningFlow("bed-window", Flow(0), Flow(0)),
            ],
            Passages =
            [
                new PassageFlow("cab-gap", Flow(33), Flow(100)),
                new PassageFlow("bed-opening", Flow(282), Flow(150)),
                new PassageFlow("bed-platform", Flow(-18), Flow(30)),
                new PassageFlow("storage-doors", Flow(11), Flow(0)),
            ],
            LeakageIn = Flow(73),
            LeakageOut = Flow(1),
            OutdoorAir = Flow(327),
            AirChangesPerHour = 25.2,
            Suction = Pressure.FromPascals(2.31),
            Fans = [new FanPoint("roof-fan", Flow(312), Flow(450), Ratio.FromPercent(69.3), Pressure.FromPascals(2.4))],
        },
        Zones =
        [
            State("cab", 11.3, 58, 3.4, 9.1, 812),
            State("living", 16, 47, 4.7, 4.2, 901),
            State("sleeping", 15.1, 53, 5.6, 5.5, 1135),
            State("under-bed", 12.4, 61, 5.1, 14.3, 988),
        ],
        Water = new WaterBalance
        {
            Sources = [new("Two sleepers", MassFlow.FromGramsPerHour(80)), new("Cooking", MassFlow.FromGramsPerHour(37.5)), new("Gas flame", MassFlow.FromGramsPerHour(9.6))],
            CarriedOut = MassFlow.FromGramsPerHour(103.9),
            Condensing = MassFlow.FromGramsPerHour(23.2),
            CondensedPerNight = Mass.FromGrams(185.6),
        },
        Surfaces =
        [
            Surface("windscreen", "Windscreen", "cab", SurfaceKind.Glass, 1.3, 1.1, 3.4, 124, 5.7),
            Surface("door-window-left", "Left door window", "cab", SurfaceKind.Glass, 0.35, 2.0, 3.4, 26, 5.7),
            Surface("door-window-right", "Right door window", "cab", SurfaceKind.Glass, 0.35, 2.0, 3.4, 27, 5.7),
            Surface("side-window", "Half-slider window", "living", SurfaceKind.Glass, 0.28, 9.8, 4.7, 0, 2.6),
            Surface("bed-window", "Hinged window at the bed", "sleeping", SurfaceKind.Glass, 0.21, 7.4, 5.6, 0, 1.7),
            Surface("metal-cab", "Bare metal of the cab doors and pillars", "cab", SurfaceKind.Metal, 0.6, 4.4, 3.4, 0, 6.1),
            Surface("metal-doors", "Bare metal of the rear door frames", "sleeping", SurfaceKind.Metal, 0.4, 4.9, 5.6, 8.6, 6.1),
        ],
        Assemblies =
        [
            new AssemblyState
            {
                Part = "Walls",
                Name = "Insulated wall",
                Area = Area.FromSquareMeters(16.4),
                UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(0.87),
                Temperatures = [Celsius(13.6), Celsius(13.0), Celsius(12.8), Celsius(3.9), Celsius(3.9)],
            },
            new AssemblyState
            {
                Part = "Roof",
                Name = "Insulated roof",
                Area = Area.FromSquareMeters(7.9),
                UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(0.91),
                Temperatures = [Celsius(13.8), Celsius(13.1), Celsius(12.9), Celsius(3.8), Celsius(3.8)],
            },
            new AssemblyState
            {
                Part = "Floor",
                Name = "Insulated floor",
                Area = Area.FromSquareMeters(8.6),
                UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1.12),
                Temperatures = [Celsius(12.2), Celsius(10.7), Celsius(3.7), Celsius(3.7)],
            },
        ],
        Heat = new HeatBalance
        {
            Losses = [new("Walls, roof and floor", Power.FromWatts(412)), new("Glass", Power.FromWatts(173)), new("Bare metal", Power.FromWatts(97)), new("Air exchange", Power.FromWatts(1290))],
            People = Power.FromWatts(104),
            Other = Power.FromWatts(63),
            Heater = Power.FromWatts(1805),
            DesignLoad = Power.FromWatts(3370),
            FuelPerNight = Mass.FromKilograms(1.62),
        },
        Combustion = new Combustion
        {
            Fuel = MassFlow.FromGramsPerHour(6),
            Water = MassFlow.FromGramsPerHour(9.6),
            CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1420),
            Oxygen = Ratio.FromPercent(20.7),
        },
        Findings =
        [
            Finding("gas-cooking", Severity.Danger, "The gas hob burns the cabin’s air", "An unflued flame uses oxygen and can make carbon monoxide.", "Never heat with the hob or sleep with a flame burning; keep the fixed vents open; fit a carbon monoxide alarm. Gas work belongs to a licensed gas fitter.", new Evidence("Carbon dioxide while cooking", VolumeConcentration.FromPartsPerMillion(1420))),
            Finding("wet-windscreen", Severity.Warning, "The windscreen is wet every morning", "Its inside is colder than the dew point of the cab’s air.", "Cover the windscreen from outside.", new Evidence("Water on the windscreen", Mass.FromGrams(124)), new Evidence("Windscreen", Celsius(1.1)), new Evidence("Dew point", Celsius(3.4))),
            Finding("heater-small", Severity.Warning, "The heater is too small for the coldest night", "With this much air exchange the design night needs more than it gives.", "Run the fan slower on the coldest nights, or fit a larger room-sealed heater.", new Evidence("Needed", Power.FromWatts(3370)), new Evidence("Rated", Power.FromWatts(2000))),
            Finding("more-air-than-needed", Severity.Advice, "The fan moves more air than two sleepers need", "Every extra cubic metre is heated and thrown away.", "Run the fan at 10 % while asleep.", new Evidence("Outdoor air", Flow(327))),
            Finding("covers", Severity.Note, "The loose cover at the bed keeps the glass wet longer", "Room air reaches the glass behind it.", "", new Evidence("Glass", Celsius(7.4))),
        ],
    };

    private static LayeredAssembly Wall => new()
    {
        Name = "Insulated wall",
        Layers =
        [
            new SolidLayer { Id = "ply", Material = "plywood-500", Thickness = Length.FromMillimeters(6) },
            new MembraneLayer { Id = "vcl", Name = "Vapour control layer", VapourEquivalentThickness = Length.FromMeters(20) },
            new SolidLayer { Id = "wool", Material = "sheeps-wool", Thickness = Length.FromMillimeters(40) },
            new SolidLayer { Id = "skin", Material = "mild-steel", Thickness = Length.FromMillimeters(1) },
        ],
    };

    private static VolumeFlow Flow(double cubicMetresPerHour) => VolumeFlow.FromCubicMetersPerHour(cubicMetresPerHour);

    private static Temperature Celsius(double celsius) => Temperature.FromDegreesCelsius(celsius);

    private static Furniture Piece(string id, FurnitureKind kind, double x, double y, double z, double length, double width, double height) => new()
    {
        Id = id,
        Kind = kind,
        X = Length.FromMeters(x),
        Y = Length.FromMeters(y),
        Z = Length.FromMeters(z),
        Length = Length.FromMeters(length),
        Width = Length.FromMeters(width),
        Height = Length.FromMeters(height),
    };

    private static Zone Room(string id, ZoneKind kind, string name, double from, double to, double bottom, double top, double air) => new()
    {
        Id = id,
        Kind = kind,
        Name = name,
        From = Length.FromMeters(from),
        To = Length.FromMeters(to),
        Bottom = Length.FromMeters(bottom),
        Top = Length.FromMeters(top),
        AirVolume = UnitsNet.Volume.FromCubicMeters(air),
    };

    private static Passage Gap(string id, string name, string a, string b, double area, double bottom, double top, double mixing) => new()
    {
        Id = id,
        Name = name,
        ZoneA = a,
        ZoneB = b,
        FreeArea = Area.FromSquareMeters(area),
        Bottom = Length.FromMeters(bottom),
        Top = Length.FromMeters(top),
        Mixing = Flow(mixing),
    };

    private static Glazing Glass(string id, string name, Face face, double area) => new()
    {
        Id = id,
        Name = name,
        ZoneId = "cab",
        Face = face,
        Area = Area.FromSquareMeters(area),
        Pane = new Pane(GlassKind.SinglePane, Cover.None),
    };

    private static ZoneState State(string id, double temperature, double humidity, double dewPoint, double minutes, double carbonDioxide) => new()
    {
        ZoneId = id,
        Temperature = Celsius(temperature),
        RelativeHumidity = RelativeHumidity.FromPercent(humidity),
        DewPoint = Celsius(dewPoint),
        AgeOfAir = Duration.FromMinutes(minutes),
        CarbonDioxide = VolumeConcentration.FromPartsPerMillion(carbonDioxide),
    };

    private static SurfaceState Surface(string id, string name, string zone, SurfaceKind kind, double area, double temperature, double dewPoint, double grams, double uValue) => new()
    {
        Id = id,
        Name = name,
        ZoneId = zone,
        Kind = kind,
        Area = Area.FromSquareMeters(area),
        Temperature = Celsius(temperature),
        DewPoint = Celsius(dewPoint),
        CondensedPerNight = Mass.FromGrams(grams),
        Frost = false,
        UValue = HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(uValue),
    };

    private static Finding Finding(string code, Severity severity, string title, string why, string remedy, params ImmutableArray<Evidence> evidence) => new()
    {
        Code = code,
        Severity = severity,
        Title = title,
        Explanation = why,
        Evidence = evidence,
        Remedy = remedy,
    };
}
