using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using CsCheck;
using UnitsNet;

namespace ConsultDesk.Records.Tests;

/// <summary>Designs of any finite numbers, in any units, with any text.</summary>
internal static class Designs
{
    private static readonly Gen<double> Number = Gen.OneOf(Gen.Double[-1e6, 1e6], Gen.Double.Unit, Gen.OneOf(0.0, -0.0, 0.1, 1e-9, double.MaxValue));

    private static readonly Gen<string> Words = Gen.OneOf(
        Gen.String[Gen.Char.AlphaNumeric, 1, 300],
        Gen.OneOf("", "\"quoted\" \\ back", "line\nbreak \u0000 nul", "שלום עולם", "<b>&amp;</b>", "🚐 van", "e\u0301", "\u2028"));

    private static readonly Gen<Length> Lengths = Gen.Select(Number, Gen.Int[0, 3]).Select((v, unit) => unit switch
    {
        0 => Length.FromMeters(v),
        1 => Length.FromMillimeters(v),
        2 => Length.FromInches(v),
        _ => Length.FromFeet(v),
    });

    private static readonly Gen<Power> Powers = Gen.Select(Gen.Decimal[0m, 20000m], Gen.Bool).Select((v, kilo) => kilo ? Power.FromKilowatts(v) : Power.FromWatts(v));

    private static readonly Gen<Temperature> Temperatures = Gen.Select(Gen.Double[-60, 120], Gen.Int[0, 2]).Select((v, unit) => unit switch
    {
        0 => Temperature.FromDegreesCelsius(v),
        1 => Temperature.FromDegreesFahrenheit(v),
        _ => Temperature.FromKelvins(v + 273.15),
    });

    private static readonly Gen<Layer> Layers = Gen.OneOf<Layer>(
        Gen.Select(Words, Words, Lengths, (id, material, t) => (Layer)new SolidLayer { Id = id, Material = material, Thickness = t }),
        Gen.Select(Words, Lengths, Gen.Enum<AirLayerVentilation>(), Gen.Enum<PartState>(), (id, t, v, state) => (Layer)new AirLayer { Id = id, Thickness = t, Ventilation = v, State = state }),
        Gen.Select(Words, Words, Lengths, (id, name, sd) => (Layer)new MembraneLayer { Id = id, Name = name, VapourEquivalentThickness = sd }));

    private static readonly Gen<LayeredAssembly> Assemblies = Gen.Select(Words, Layers.Array[0, 6], (name, layers) =>
        new LayeredAssembly { Name = name, Layers = [.. layers] });

    private static readonly Gen<Equipment> Equipments = Gen.Select(Gen.Bool, Number, Lengths, Words, Gen.Enum<Face>(), Gen.Enum<BatteryKind>(), Gen.Enum<SteelCondition>(), Gen.Int[0, 4],
        (yes, energy, length, words, face, battery, steel, ways) => new Equipment
        {
            CarbonMonoxideAlarm = yes ? PartState.Owned : null,
            WoodStove = !yes,
            WaysOutOfBed = ways,
            HeaterExhaust = yes ? new BodyPoint(face, length, length, length) : null,
            GasLocker = yes ? null : new BodyPoint(face, length, length, length),
            HeaterRatedAltitude = yes ? null : length,
            Battery = battery,
            BatteryZoneId = yes ? words : null,
            BatteryUsable = yes ? Energy.FromKilowattHours(energy / 1e9) : Energy.FromJoules(energy),
            Steel = steel,
        });

    private static readonly Gen<ItineraryStop> Stays = Gen.Select(Words, Lengths, Gen.Enum<Shelter>(), Gen.Int[1, 12], Gen.Int[1, 31], (id, altitude, shelter, month, day) =>
        new ItineraryStop { Id = id, PlaceKey = id, Altitude = altitude, Shelter = shelter, From = new MonthDay(month, day), To = new MonthDay(13 - month, day) });

    private static readonly Gen<CirculationFan> MovingFans = Gen.Select(Words, Number, Powers, Gen.Bool, (id, flow, draw, running) =>
        new CirculationFan { Id = id, Name = id, ZoneA = id, ZoneB = "living", Flow = VolumeFlow.FromCubicMetersPerHour(flow), ElectricDraw = draw, Running = running });

    private static readonly Gen<Fan?> Fans = Gen.Select(Number, Number, Number, Gen.Enum<FanDirection>(), Gen.Bool, (flow, pressure, speed, direction, any) => any
        ? new Fan { FreeAirFlow = VolumeFlow.FromCubicMetersPerHour(flow), ShutOffPressure = Pressure.FromPascals(pressure), Speed = speed, Direction = direction, SoundDba = speed > 0 ? pressure : null }
        : null);

    private static readonly Gen<Dryer> Dryers = Gen.Select(Words, Gen.Enum<DryerKind>(), Number, Powers, Gen.Enum<PartState>(), Gen.Bool, (id, kind, mass, draw, state, yes) =>
        new Dryer { Id = id, Name = id, Kind = kind, ZoneId = id, RemovedPerDay = yes ? Mass.FromPounds(mass) : Mass.FromGrams(mass), ElectricDraw = draw, Running = yes, State = state, PriceKey = yes ? id : null });

    private static readonly Gen<OwnPlace> Places = Gen.Select(Words, Number, Lengths, Temperatures, Number, Gen.Bool, (id, angle, length, mean, humidity, yes) =>
        new OwnPlace
        {
            Id = id,
            Name = id,
            Country = yes ? id : null,
            Latitude = yes ? Angle.FromDegrees(angle) : Angle.FromRadians(angle / 1e6),
            Elevation = length,
            Months = yes ? [new OwnMonth("1", mean, RelativeHumidity.FromPercent(humidity))] : [],
            Hours = yes
                ? null
                : new HourFile
                {
                    Sha256 = id,
                    FileName = id,
                    Origin = id,
                    Longitude = humidity > angle ? Angle.FromDegrees(angle) : null,
                    Coldest = mean,
                    ColdForHeating = mean,
                    Months = [new HourFileMonth("1", mean, mean, mean, humidity > angle ? humidity : null, null, angle)],
                },
        });

    private static readonly Gen<RoofPart> RoofParts = Gen.Select(Words, Gen.Enum<RoofPartKind>(), Lengths, Lengths, Gen.Enum<PartState>(), Gen.Bool, (id, kind, x, size, state, yes) =>
        new RoofPart { Id = id, Kind = kind, Name = id, X = x, Y = size, Length = size, Width = x, State = state, PriceKey = yes ? id : null });

    private static readonly Gen<InputOrigin> Origins = Gen.Select(Words, Gen.Enum<Origin>(), (id, origin) => new InputOrigin(id, origin));

    private static readonly Gen<Opening> Openings = Gen.Select(Words, Gen.Enum<OpeningKind>(), Gen.Enum<Position>(), Lengths, Number, Fans, Gen.Enum<PartState>(), Gen.Bool,
        (id, kind, position, length, share, fan, state, yes) => SampleDesign.Van().Openings[0] with
        {
            Id = id,
            Kind = kind,
            Position = position,
            Width = length,
            FreeShare = share,
            Fan = fan,
            Pane = yes ? new Pane((GlassKind)((int)state % 3), Cover.OutsideLoose) { CoverState = state } : null,
            Facts = new OpeningFacts { Fixed = yes, OpenLocked = !yes, RainSensor = yes, SeenThrough = !yes },
            Covered = !yes,
            State = state,
            PriceKey = yes ? id : null,
        });

    private static readonly Gen<Design> Basis = Gen.Select(Assemblies, Openings.Array[0, 4], Powers, Temperatures, Lengths, Words, Gen.Int[0, 6], Gen.Enum<Shelter>(),
        (walls, openings, power, temperature, length, words, count, shelter) =>
        {
            var van = SampleDesign.Van();
            return van with
            {
                Walls = walls,
                Openings = openings.ToImmutableArray(),
                Heater = van.Heater with { RatedOutput = power, NightSetPoint = temperature },
                Household = van.Household with { Sleepers = count },
                Stop = new Stop { PlaceKey = words, Month = 1 + count, Altitude = length, Shelter = shelter },
            };
        });

    private static readonly Gen<Design> Stages = Gen.Select(Basis, Dryers.Array[0, 2], Places.Array[0, 2], RoofParts.Array[0, 2], Origins.Array[0, 3], Gen.Enum<BuildStage>(), Gen.Enum<PartState>(), Words,
        (van, dryers, places, parts, origins, stage, state, words) => van with
        {
            Body = van.Body with { RoofParts = [.. parts] },
            Heater = van.Heater with { State = state, PriceKey = words },
            Dryers = [.. dryers],
            OwnPlaces = [.. places],
            Origins = [.. origins],
            BuildStage = stage,
            BedBaseState = state,
            CabDividerState = state,
            Country = state == PartState.Later ? null : words,
        });

    public static readonly Gen<Design> Any = Gen.Select(Stages, Equipments, Stays.Array[0, 3], MovingFans.Array[0, 3], Gen.Enum<BedBase>(), Gen.Enum<LiningGaps>(),
        (van, equipment, stays, fans, bed, gaps) => van with
        {
            Equipment = equipment,
            Itinerary = [.. stays],
            CirculationFans = [.. fans],
            BedBase = bed,
            Walls = van.Walls with { Gaps = gaps },
        });
}
