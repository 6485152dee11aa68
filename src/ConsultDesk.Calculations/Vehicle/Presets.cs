using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Where people sleep and sit in a new van.</summary>
public enum Layout
{
    /// <summary>A platform bed along the van at the rear, storage under it.</summary>
    RearPlatformBed,

    /// <summary>A fixed bed across the van at the rear, high over storage.</summary>
    FixedBedAcross,

    /// <summary>A lounge behind the cab that becomes the bed; the galley at the rear.</summary>
    FrontLounge,
}

/// <summary>Complete vans to start from. What nobody entered is our judgement and starts as assumed.</summary>
public static class Presets
{
    /// <summary>Id of the roof fan of every preset.</summary>
    public const string RoofFanId = "roof-fan";

    /// <summary>Id of the sliding window of every preset.</summary>
    public const string WindowId = "side-window";

    /// <summary>A household to start from: two sleepers, one cooked meal a day on gas.</summary>
    public static Household DefaultHousehold { get; } = new()
    {
        Sleepers = 2,
        CookingFuel = CookingFuel.Gas,
        CookingHabit = CookingHabit.Everyday,
    };

    /// <summary>A stop to start from: a mild damp coast in January.</summary>
    public static Stop DefaultStop { get; } = StopAt("seattle", month: 1);

    /// <summary>A stop at the station of a place, on an ordinary site.</summary>
    public static Stop StopAt(string placeKey, int month) => new()
    {
        PlaceKey = placeKey,
        Month = month,
        Altitude = ClimateTable.Get(placeKey).Elevation,
        Shelter = Shelter.Ordinary,
    };

    /// <summary>A complete valid van of a body class with a layout, for the default household and stop.</summary>
    public static Design Build(string bodyClass, Layout layout) => Build(bodyClass, layout, DefaultHousehold, DefaultStop);

    /// <summary>A complete valid van of a body class with a layout.</summary>
    /// <param name="bodyClass">Key of a body class.</param>
    /// <param name="layout">Where people sleep and sit.</param>
    /// <param name="household">Who sleeps in it and what they do.</param>
    /// <param name="stop">Where and when it stands.</param>
    public static Design Build(string bodyClass, Layout layout, Household household, Stop stop) =>
        new Plan(BodyClasses.Get(bodyClass), layout).Design(household, stop);

    /// <summary>
    /// The van a consultant starts with: the conversion of <see cref="Build(string, Layout, Household, Stop)"/> in a van with
    /// everything it came with, each part as far as the stage of the work says.
    /// </summary>
    /// <param name="bodyClass">Key of a body class.</param>
    /// <param name="layout">Where people sleep and sit.</param>
    /// <param name="household">Who sleeps in it and what they do.</param>
    /// <param name="stop">Where and when it stands.</param>
    /// <param name="stage">How far the conversion has come.</param>
    public static Design Start(string bodyClass, Layout layout, Household household, Stop stop, BuildStage stage) =>
        BuildStages.Started(FactoryOpenings.With(Build(bodyClass, layout, household, stop)), stage);

    /// <summary>The lengths a layout gives the parts of a van, and everything that follows from them.</summary>
    private sealed class Plan
    {
        // Share of a zone's box that is air, the rest being furniture and trim. Our judgement.
        private const double CabAirShare = 0.6;
        private const double LivingAirShare = 0.8;
        private const double SleepingAirShare = 0.9;
        private const double UnderBedAirShare = 0.5;
        // Share of the van's cross-section left free by shelves and cupboards over the bed. Our judgement.
        private const double BedOpeningShare = 0.6;
        private const double MattressM = 0.12;

        private readonly BodyClass _body;
        private readonly Layout _layout;
        private readonly double _lengthM;
        private readonly double _widthM;
        private readonly double _heightM;
        private readonly double _cabM;
        private readonly double _bedLengthM;
        private readonly double _platformM;

        public Plan(BodyClass body, Layout layout)
        {
            _body = body;
            _layout = layout;
            _lengthM = body.InteriorLength.Meters;
            _widthM = body.InteriorWidth.Meters;
            _heightM = body.InteriorHeight.Meters;
            _cabM = body.CabLength.Meters;
            _bedLengthM = layout == Layout.FixedBedAcross ? 1.35 : 1.9;
            double tall = layout switch
            {
                Layout.RearPlatformBed => 0.75,
                Layout.FixedBedAcross => 0.85,
                Layout.FrontLounge => 0.45,
                _ => throw new ArgumentOutOfRangeException(nameof(layout), layout, "Expected one of the three layouts."),
            };
            // A low roof leaves the sleepers at least 0.8 m over the mattress.
            _platformM = Math.Min(tall, _heightM - MattressM - 0.8);
        }

        private bool BedBehindCab => _layout == Layout.FrontLounge;

        private double BedFromM => BedBehindCab ? _cabM : _lengthM - _bedLengthM;

        private double BedToM => BedFromM + _bedLengthM;

        private double LivingFromM => BedBehindCab ? BedToM : _cabM;

        private double LivingToM => BedBehindCab ? _lengthM : BedFromM;

        public Design Design(Household household, Stop stop)
        {
            Design design = new()
            {
                Body = Body(),
                Zones = Zones(),
                Passages = Passages(),
                Openings = [],
                Glazings =
                [
                    CabGlass("windscreen", "Windscreen", Face.Nose, Math.Min(1.3, 0.6 * _widthM * _heightM)),
                    CabGlass("door-window-left", "Left door window", Face.Left, 0.35),
                    CabGlass("door-window-right", "Right door window", Face.Right, 0.35),
                ],
                BareMetal =
                [
                    Metal("metal-cab", "Bare metal of the cab doors and pillars", "cab", 0.6),
                    Metal("metal-doors", "Bare metal of the rear door frames", BedBehindCab ? "living" : "sleeping", 0.4),
                    Metal("metal-ribs", "Bare ribs in the living room", "living", 0.3),
                ],
                Walls = PresetAssemblies.Walls,
                Roof = PresetAssemblies.Roof,
                Floor = PresetAssemblies.Floor,
                Leakage = new Leakage
                {
                    EffectiveArea = Area.FromSquareCentimeters(Defaults.Likely("leakage-area")),
                    Exponent = Defaults.Likely("leakage-exponent"),
                },
                Heater = new Heater
                {
                    Kind = HeaterKind.RoomSealedLiquidFuel,
                    RatedOutput = Power.FromKilowatts(2),
                    NightSetPoint = Temperature.FromDegreesCelsius(16),
                    ZoneId = "living",
                },
                Household = household,
                Stop = stop,
                // What nobody has told is taken the careful way: no alarms, and bottles where gas is cooked with.
                Equipment = new Equipment { GasBottles = household.CookingFuel == CookingFuel.Gas },
            };
            design = Openings.Add(design, RoofFan(design));
            return Openings.Add(design, SideWindow());
        }

        private Body Body() => new()
        {
            BodyClass = _body.Key,
            InteriorLength = _body.InteriorLength,
            InteriorWidth = _body.InteriorWidth,
            InteriorHeight = _body.InteriorHeight,
            FloorAboveGround = _body.FloorAboveGround,
            Furniture = Furniture(),
        };

        private ImmutableArray<Furniture> Furniture()
        {
            double livingM = LivingToM - LivingFromM;
            double galleyM = Math.Min(1.2, livingM);
            double seatHeightM = Math.Min(1.1, _heightM);
            double worktopM = Math.Min(0.9, _heightM - 0.4);
            return
            [
                Box("seat-left", FurnitureKind.CabSeat, _cabM - 0.7, 0.1, 0, 0.6, 0.55, seatHeightM),
                Box("seat-right", FurnitureKind.CabSeat, _cabM - 0.7, _widthM - 0.65, 0, 0.6, 0.55, seatHeightM),
                Box("bed", BedBehindCab ? FurnitureKind.Lounge : FurnitureKind.Bed, BedFromM, 0.05, _platformM, _bedLengthM, _widthM - 0.1, MattressM),
                Box("galley", FurnitureKind.Cupboard, LivingFromM, 0, 0, galleyM, 0.45, worktopM),
                Box("cooker", FurnitureKind.Cooker, LivingFromM + (galleyM / 2) - Math.Min(0.2, galleyM / 4), 0.03, worktopM, Math.Min(0.4, galleyM / 2), 0.35, 0.05),
            ];
        }

        private ImmutableArray<Zone> Zones() =>
        [
            Zone("cab", ZoneKind.Cab, "Cab", 0, _cabM, 0, _heightM, CabAirShare),
            Zone("living", ZoneKind.Living, "Living", LivingFromM, LivingToM, 0, _heightM, LivingAirShare),
            Zone("sleeping", ZoneKind.Sleeping, "Bed", BedFromM, BedToM, _platformM, _heightM, SleepingAirShare),
            Zone("under-bed", ZoneKind.UnderBed, "Under the bed", BedFromM, BedToM, 0, _platformM, UnderBedAirShare),
        ];

        private ImmutableArray<Passage> Passages()
        {
            string behindCab = BedBehindCab ? "sleeping" : "living";
            double sillM = BedBehindCab ? _platformM + MattressM : 0.3;
            double mattressTopM = _platformM + MattressM;
            return
            [
                Passage("cab-gap", "Between the cab seats and over them", "cab", behindCab, Defaults.Likely("cab-gap-open") / 100 * _widthM * (_heightM - sillM), sillM, _heightM, "mixing-cab-open"),
                Passage("bed-opening", "Over the end of the bed", "living", "sleeping", BedOpeningShare * _widthM * (_heightM - mattressTopM), mattressTopM, _heightM, "mixing-rooms"),
                Passage("bed-platform", "Slats and gaps of the bed platform", "sleeping", "under-bed", Defaults.Likely("bed-gap-slats"), _platformM, _platformM, "mixing-under-bed-slats"),
                Passage("storage-doors", "Gaps of the storage doors under the bed", "living", "under-bed", 0.02, 0, _platformM, mixing: null),
            ];
        }

        private Opening RoofFan(Design design) => new()
        {
            Id = RoofFanId,
            Name = "Roof fan, 350 mm",
            Kind = OpeningKind.RoofVent,
            Face = Face.Roof,
            ZoneId = "",
            X = Openings.RoofX(design, RoofPlace.Rear),
            Y = _body.InteriorWidth / 2,
            Z = _body.InteriorHeight,
            Length = Length.FromMillimeters(350),
            Width = Length.FromMillimeters(350),
            FreeShare = 1,
            Position = Position.Full,
            Facts = new OpeningFacts { OpenAsleep = true, Screened = true },
            Fan = new Fan
            {
                FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(0.42),
                ShutOffPressure = Pressure.FromPascals(40),
                Speed = 0.3,
                Direction = FanDirection.Exhaust,
                // As its like in the price book; our judgement.
                SoundDba = 64,
            },
        };

        private Opening SideWindow()
        {
            double heightM = Math.Min(0.4, 0.25 * _heightM);
            double lengthM = Math.Min(0.7, LivingToM - LivingFromM - 0.02);
            return new Opening
            {
                Id = WindowId,
                Name = "Half-slider window",
                Kind = OpeningKind.SlidingWindow,
                Face = Face.Right,
                ZoneId = "living",
                X = Length.FromMeters((LivingFromM + LivingToM) / 2),
                Y = _body.InteriorWidth,
                Z = Length.FromMeters(0.65 * _heightM),
                Length = Length.FromMeters(lengthM),
                Width = Length.FromMeters(heightM),
                FreeShare = 0.45,
                Position = Position.Shut,
                Facts = new OpeningFacts { OpenAsleep = true, SeenThrough = true, Screened = true },
                Pane = new Pane(GlassKind.AcrylicDouble, Cover.None),
            };
        }

        private Zone Zone(string id, ZoneKind kind, string name, double fromM, double toM, double bottomM, double topM, double airShare) => new()
        {
            Id = id,
            Kind = kind,
            Name = name,
            From = Length.FromMeters(fromM),
            To = Length.FromMeters(toM),
            Bottom = Length.FromMeters(bottomM),
            Top = Length.FromMeters(topM),
            AirVolume = Volume.FromCubicMeters((toM - fromM) * (topM - bottomM) * _widthM * airShare),
        };

        private static Passage Passage(string id, string name, string zoneA, string zoneB, double freeM2, double bottomM, double topM, string? mixing) => new()
        {
            Id = id,
            Name = name,
            ZoneA = zoneA,
            ZoneB = zoneB,
            FreeArea = Area.FromSquareMeters(freeM2),
            Bottom = Length.FromMeters(bottomM),
            Top = Length.FromMeters(topM),
            Mixing = VolumeFlow.FromCubicMetersPerHour(mixing is null ? 0 : Defaults.Likely(mixing)),
        };

        private static Glazing CabGlass(string id, string name, Face face, double areaM2) => new()
        {
            Id = id,
            Name = name,
            ZoneId = "cab",
            Face = face,
            Area = Area.FromSquareMeters(areaM2),
            Pane = new Pane(GlassKind.SinglePane, Cover.None),
        };

        private static MetalPatch Metal(string id, string name, string zoneId, double areaM2) =>
            new() { Id = id, Name = name, ZoneId = zoneId, Area = Area.FromSquareMeters(areaM2) };

        private static Furniture Box(string id, FurnitureKind kind, double xM, double yM, double zM, double lengthM, double widthM, double heightM) => new()
        {
            Id = id,
            Kind = kind,
            X = Length.FromMeters(xM),
            Y = Length.FromMeters(yM),
            Z = Length.FromMeters(zM),
            Length = Length.FromMeters(lengthM),
            Width = Length.FromMeters(widthM),
            Height = Length.FromMeters(heightM),
        };
    }
}
