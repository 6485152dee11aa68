using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Web.Tests.Workspace;

/// <summary>A small invented van and an invented assessment of it, for tests that do not calculate.</summary>
internal static partial class Samples
{
    public static Design Design(int sleepers = 2) =>
        Presets.Build("long-high", Layout.RearPlatformBed, Presets.DefaultHousehold with { Sleepers = sleepers }, Presets.DefaultStop);

    public static Finding Finding(string code, Severity severity = Severity.Warning, Func<Design, Design>? apply = null) => new()
    {
        Code = code,
        Severity = severity,
        Title = "Title of " + code,
        Explanation = "Because.",
        Evidence = [new Evidence("Flow reached", VolumeFlow.FromCubicMetersPerHour(80))],
        Remedy = "Open it.",
        Apply = apply,
    };

    public static Assessment Assessment(params Finding[] findings) => new()
    {
        MethodVersion = "test",
        Weather = new NightWeather
        {
            Temperature = Temperature.FromDegreesCelsius(4),
            DewPoint = Temperature.FromDegreesCelsius(2),
            StationWind = Speed.FromMetersPerSecond(3),
            Pressure = Pressure.FromPascals(101325),
            DesignTemperature = Temperature.FromDegreesCelsius(-8),
        },
        Night = Duration.FromHours(12),
        Air = new AirExchange
        {
            Openings = [new("roof-fan", VolumeFlow.Zero, VolumeFlow.FromCubicMetersPerHour(80)), new("side-window", VolumeFlow.Zero, VolumeFlow.Zero)],
            Passages = [],
            LeakageIn = VolumeFlow.FromCubicMetersPerHour(80),
            LeakageOut = VolumeFlow.Zero,
            OutdoorAir = VolumeFlow.FromCubicMetersPerHour(80),
            AirChangesPerHour = 6.7,
            Suction = Pressure.FromPascals(11),
            Fans = [new("roof-fan", VolumeFlow.FromCubicMetersPerHour(80), VolumeFlow.FromCubicMetersPerHour(300), Ratio.FromPercent(27), Pressure.FromPascals(11))],
        },
        Zones =
        [
            new ZoneState
            {
                ZoneId = "sleeping", Temperature = Temperature.FromDegreesCelsius(16), RelativeHumidity = RelativeHumidity.FromPercent(62),
                DewPoint = Temperature.FromDegreesCelsius(8.7), AgeOfAir = Duration.FromMinutes(9),
                CarbonDioxide = VolumeConcentration.FromPartsPerMillion(900),
            },
        ],
        Water = new WaterBalance
        {
            Sources = [new("People", MassFlow.FromGramsPerHour(80))],
            CarriedOut = MassFlow.FromGramsPerHour(70),
            Condensing = MassFlow.FromGramsPerHour(10),
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
            People = Power.FromWatts(140),
            Other = Power.FromWatts(10),
            Heater = Power.FromWatts(420),
            DesignLoad = Power.FromWatts(1300),
        },
        Findings = [.. findings],
    };
}
