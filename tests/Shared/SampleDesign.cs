using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Testing;

/// <summary>An invented van that uses every member and every kind of layer a design has. No danger stands in it.</summary>
public static class SampleDesign
{
    public static Design Van()
    {
        Design van = VanOfFormat1();
        return van with
        {
            Body = van.Body with
            {
                HiddenParts =
                [
                    new HiddenPart { Id = "bow", Kind = HiddenPartKind.Rib, Name = "Roof bow over the bed", Face = Face.Roof, X = Length.FromMeters(3.1), Y = Length.FromMeters(0.9), Z = Length.FromMeters(1.9), Length = Length.FromMeters(0.06), Width = Length.FromMeters(1.7) },
                ],
                RoofParts =
                [
                    new RoofPart { Id = "panel", Kind = RoofPartKind.SolarPanel, Name = "Panel, 200 W", X = Length.FromMeters(3.7), Y = Length.FromMeters(1.2), Length = Length.FromMeters(1.1), Width = Length.FromMeters(0.7), State = PartState.Owned, PriceKey = "solar-panel" },
                ],
            },
            Openings =
            [
                van.Openings[0] with
                {
                    State = PartState.Owned,
                    PriceKey = "roof-fan-hooded",
                    Fan = van.Openings[0].Fan! with { SoundDba = 62 },
                },
                van.Openings[1] with
                {
                    State = PartState.Fitted,
                    Facts = van.Openings[1].Facts with { SeenThrough = true },
                    Pane = van.Openings[1].Pane! with { CoverState = PartState.Owned },
                },
                new Opening
                {
                    Id = "relief",
                    Name = "Pressure-relief flap at the rear",
                    Kind = OpeningKind.PressureReliefFlap,
                    Face = Face.Tail,
                    ZoneId = "living",
                    X = Length.FromMeters(4.6),
                    Y = Length.FromMeters(1.6),
                    Z = Length.FromMeters(0.3),
                    Length = Length.FromMeters(0.1),
                    Width = Length.FromMeters(0.15),
                    FreeShare = 0.5,
                    Position = Position.Shut,
                    Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenLocked = true },
                    Covered = true,
                    State = PartState.Fitted,
                },
                new Opening
                {
                    Id = "lid",
                    Name = "Roof lid with a rain sensor",
                    Kind = OpeningKind.RoofVent,
                    Face = Face.Roof,
                    ZoneId = "living",
                    X = Length.FromMeters(3.6),
                    Y = Length.FromMeters(0.5),
                    Z = Length.FromMeters(1.9),
                    Length = Length.FromMeters(0.4),
                    Width = Length.FromMeters(0.4),
                    FreeShare = 0.9,
                    Position = Position.Half,
                    Facts = new OpeningFacts { RainSensor = true, OpenAsleep = true, Screened = true },
                    State = PartState.Later,
                },
            ],
            Walls = van.Walls with
            {
                Gaps = LiningGaps.PlannedAirGap,
                Layers = [.. van.Walls.Layers.Select(layer => layer.Id == "skin" ? layer with { State = PartState.Fitted } : layer)],
            },
            Roof = van.Roof with { Gaps = LiningGaps.Sealed },
            Heater = van.Heater with { DaySetPoint = Temperature.FromDegreesCelsius(20.5), RunsWhenAway = true, State = PartState.Fitted, PriceKey = "air-heater-2kw" },
            Household = van.Household with { CookingFuel = CookingFuel.Electric, Presence = Presence.AllDay, Animals = 1, ShowersPerDay = 2, DriesClothes = true },
            Itinerary =
            [
                new ItineraryStop { Id = "coast", PlaceKey = "bergen", Altitude = Length.FromMeters(-2), Shelter = Shelter.Exposed, From = new MonthDay(11, 1), To = new MonthDay(3, 15) },
                new ItineraryStop { Id = "summer", PlaceKey = "madrid", Altitude = Length.FromMeters(650), Shelter = Shelter.Sheltered, From = new MonthDay(3, 16), To = new MonthDay(10, 31) },
            ],
            CirculationFans =
            [
                new CirculationFan { Id = "bed-fan", Name = "Small fan at the cab", ZoneA = "cab", ZoneB = "living", Flow = VolumeFlow.FromCubicMetersPerSecond(0.02), ElectricDraw = Power.FromWatts(4.5m), Running = true, State = PartState.Owned, PriceKey = "circulation-fan" },
            ],
            BedBase = BedBase.VentilatedUnderlay,
            BedBaseState = PartState.Fitted,
            CabDivider = CabDivider.Curtain,
            CabDividerState = PartState.Owned,
            Dryers =
            [
                new Dryer { Id = "tub", Name = "Absorber tub", Kind = DryerKind.AbsorberTub, ZoneId = "cab", RemovedPerDay = Mass.FromKilograms(0.06), ElectricDraw = Power.Zero, Running = true, State = PartState.Owned, PriceKey = "absorber-tub" },
            ],
            BuildStage = BuildStage.PartlyBuilt,
            Country = "NO",
            OwnPlaces =
            [
                new OwnPlace
                {
                    Id = "fell",
                    Name = "Fell above the lake (invented)",
                    Country = "SE",
                    Latitude = Angle.FromDegrees(63.5),
                    Elevation = Length.FromMeters(420),
                    Months =
                    [
                        .. Enumerable.Range(1, 12).Select(month => new OwnMonth(
                            month.ToString(System.Globalization.CultureInfo.InvariantCulture),
                            Temperature.FromDegreesCelsius(2.5 - (11 * Math.Cos((month - 1) * Math.PI / 6))),
                            RelativeHumidity.FromPercent(month is > 4 and < 9 ? 70 : 82))),
                    ],
                    Hours = new HourFile
                    {
                        Sha256 = "5d0c1f3b4a6978877869a4b1c2d3e4f5061728394a5b6c7d8e9fa0b1c2d3e4f5",
                        FileName = "fell-2019.csv",
                        Origin = "",
                        Longitude = Angle.FromDegrees(17.25),
                        Coldest = Temperature.FromDegreesCelsius(-31.5),
                        ColdForHeating = Temperature.FromDegreesCelsius(-27.5),
                        Months =
                        [
                            .. Enumerable.Range(1, 12).Select(month => new HourFileMonth(
                                month.ToString(System.Globalization.CultureInfo.InvariantCulture),
                                Temperature.FromDegreesCelsius(month is > 4 and < 9 ? 18.5 : 1.5),
                                Temperature.FromDegreesCelsius(month is > 4 and < 9 ? 6.5 : -9.5),
                                Temperature.FromDegreesCelsius(month is > 4 and < 9 ? 5.5 : -7.5),
                                WindMPerS: 4.25,
                                SunWPerM2: null,
                                WetDays: month == 2 ? 9 : 14)),
                        ],
                    },
                },
            ],
            Origins =
            [
                new InputOrigin("body.interiorLengthM", Origin.Measured),
                new InputOrigin("household.sleepers", Origin.Told),
            ],
            Zones =
            [
                .. van.Zones,
                new Zone
                {
                    Id = "wardrobe",
                    Kind = ZoneKind.Cupboard,
                    Name = "Wardrobe",
                    From = Length.FromMeters(3.6),
                    To = Length.FromMeters(4.2),
                    Bottom = Length.FromMeters(0.9),
                    Top = Length.FromMeters(1.8),
                    AirVolume = Volume.FromCubicMeters(0.1),
                    Cupboard = new CupboardPlace { HostZoneId = "living", Wall = Face.Right, Depth = Length.FromMeters(0.4), Air = CupboardAir.OpenTopAndBottom },
                },
            ],
            Passages =
            [
                .. van.Passages,
                new Passage { Id = "wardrobe-top", Name = "Over the wardrobe's doors", ZoneA = "living", ZoneB = "wardrobe", FreeArea = Area.FromSquareMeters(0.018), Bottom = Length.FromMeters(1.8), Top = Length.FromMeters(1.8), Mixing = VolumeFlow.FromCubicMetersPerSecond(0.0007) },
                new Passage { Id = "wardrobe-bottom", Name = "Under the wardrobe's doors", ZoneA = "living", ZoneB = "wardrobe", FreeArea = Area.FromSquareMeters(0.018), Bottom = Length.FromMeters(0.9), Top = Length.FromMeters(0.9), Mixing = VolumeFlow.FromCubicMetersPerSecond(0.0007) },
            ],
            Equipment = new Equipment
            {
                CarbonMonoxideAlarm = PartState.Fitted,
                SmokeAlarm = PartState.Owned,
                LowGasAlarm = PartState.Proposed,
                Extinguisher = PartState.Fitted,
                WaysOutOfBed = 2,
                GasBottles = true,
                GasLocker = new BodyPoint(Face.Right, Length.FromMeters(4.3), Length.FromMeters(1.8), Length.FromMeters(0.1)),
                HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(4.2), Length.FromMeters(0.3), Length.Zero),
                HeaterRatedAltitude = Length.FromMeters(1500),
                Battery = BatteryKind.HeatedLithium,
                BatteryZoneId = "living",
                BatteryUsable = Energy.FromKilowattHours(2.4),
                WaterCarried = true,
                WaterZoneId = "living",
                Steel = SteelCondition.RustTreated,
            },
        };
    }

    /// <summary>The same van as the first format could say it: what came later has the value it had for everybody then.</summary>
    public static Design VanOfFormat1() => new()
    {
        Body = new Body
        {
            BodyClass = "long-high",
            InteriorLength = Length.FromMeters(4.6),
            InteriorWidth = Length.FromMeters(1.8),
            InteriorHeight = Length.FromMeters(1.9),
            FloorAboveGround = Length.FromMeters(0.55),
            Furniture =
            [
                new Furniture { Id = "bed", Kind = FurnitureKind.Bed, X = Length.FromMeters(2.7), Y = Length.Zero, Z = Length.FromMeters(0.75), Length = Length.FromMeters(1.9), Width = Length.FromMeters(1.8), Height = Length.FromMeters(0.15) },
                new Furniture { Id = "hob", Kind = FurnitureKind.Cooker, X = Length.FromMeters(1.6), Y = Length.FromMeters(1.3), Z = Length.Zero, Length = Length.FromMeters(0.5), Width = Length.FromMeters(0.5), Height = Length.FromMeters(0.9) },
            ],
        },
        Zones =
        [
            new Zone { Id = "cab", Kind = ZoneKind.Cab, Name = "Cab", From = Length.Zero, To = Length.FromMeters(1.4), Bottom = Length.Zero, Top = Length.FromMeters(1.9), AirVolume = Volume.FromCubicMeters(3.1) },
            new Zone { Id = "living", Kind = ZoneKind.Living, Name = "Living \"nook\" תא", From = Length.FromMeters(1.4), To = Length.FromMeters(4.6), Bottom = Length.Zero, Top = Length.FromMeters(1.9), AirVolume = Volume.FromCubicMeters(8.2) },
        ],
        Passages =
        [
            new Passage { Id = "curtain", Name = "Cab curtain", ZoneA = "cab", ZoneB = "living", FreeArea = Area.FromSquareMeters(0.06), Bottom = Length.Zero, Top = Length.FromMeters(1.8), Mixing = VolumeFlow.FromCubicMetersPerSecond(0.005) },
        ],
        Openings =
        [
            new Opening
            {
                Id = "roof-fan",
                Name = "Roof fan, 350 mm, rain hood",
                Kind = OpeningKind.RoofVent,
                Face = Face.Roof,
                ZoneId = "living",
                X = Length.FromMeters(2.1),
                Y = Length.FromMeters(0.9),
                Z = Length.FromMeters(1.9),
                Length = Length.FromMeters(0.35),
                Width = Length.FromMeters(0.35),
                FreeShare = 0.6,
                Position = Position.Full,
                Facts = new OpeningFacts { UsableInRain = true, OpenAsleep = true, Screened = true },
                Fan = new Fan { FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.42), ShutOffPressure = Pressure.FromPascals(45), Speed = 0.2, Direction = FanDirection.Exhaust },
            },
            new Opening
            {
                Id = "window",
                Name = "Side window",
                Kind = OpeningKind.HingedWindow,
                Face = Face.Left,
                ZoneId = "living",
                X = Length.FromMeters(2),
                Y = Length.Zero,
                Z = Length.FromMeters(1.2),
                Length = Length.FromMeters(0.9),
                Width = Length.FromMeters(0.5),
                FreeShare = 0.7,
                Position = Position.Ajar,
                Facts = new OpeningFacts { UsableInRain = true },
                Pane = new Pane(GlassKind.AcrylicDouble, Cover.InsideLoose),
            },
        ],
        Glazings = [new Glazing { Id = "windscreen", Name = "Windscreen", ZoneId = "cab", Face = Face.Nose, Area = Area.FromSquareMeters(1.3), Pane = new Pane(GlassKind.SinglePane, Cover.InsideTight) }],
        BareMetal = [new MetalPatch { Id = "sills", Name = "Door sills", ZoneId = "cab", Area = Area.FromSquareMeters(0.4) }],
        Walls = new LayeredAssembly
        {
            Name = "Walls",
            Layers =
            [
                new SolidLayer { Id = "lining", Material = "plywood-500", Thickness = Length.FromMeters(0.006) },
                new MembraneLayer { Id = "vcl", Name = "Vapour control layer", VapourEquivalentThickness = Length.FromMeters(5) },
                new AirLayer { Id = "gap", Thickness = Length.FromMeters(0.01), Ventilation = AirLayerVentilation.SlightlyVentilated },
                new SolidLayer { Id = "wool", Material = "sheeps-wool", Thickness = Length.FromMeters(0.05) },
                new SolidLayer { Id = "skin", Material = "mild-steel", Thickness = Length.FromMeters(0.0008) },
            ],
        },
        Roof = new LayeredAssembly { Name = "Roof", Layers = [new SolidLayer { Id = "foam", Material = "spray-foam-closed", Thickness = Length.FromMeters(0.032) }] },
        Floor = new LayeredAssembly { Name = "Floor", Layers = [new SolidLayer { Id = "board", Material = "plywood-500", Thickness = Length.FromMeters(0.012) }] },
        Leakage = new Leakage { EffectiveArea = Area.FromSquareMeters(0.0085), Exponent = 0.65 },
        Heater = new Heater { Kind = HeaterKind.RoomSealedLiquidFuel, RatedOutput = Power.FromWatts(2000), NightSetPoint = Temperature.FromDegreesCelsius(14.5), ZoneId = "living" },
        Household = new Household { Sleepers = 2, CookingFuel = CookingFuel.Gas, CookingHabit = CookingHabit.Everyday },
        Stop = new Stop { PlaceKey = "bergen", Month = 11, Altitude = Length.FromMeters(-2), Shelter = Shelter.Exposed },
    };
}
