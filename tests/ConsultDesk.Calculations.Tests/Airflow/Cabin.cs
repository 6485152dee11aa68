using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Airflow;

/// <summary>A small network under construction, with the state and answer beside it.</summary>
internal sealed class Cabin
{
    /// <summary>Dry-bulb temperature at which dry air at sea level weighs 1.2 kg/m3.</summary>
    public static readonly double StandardAirC = DryAirC(1.2);

    public AirNetworkBuilder Builder { get; } = new();

    /// <summary>The one zone of a cabin that has but one.</summary>
    public AirNode Room { get; set; }

    public AirNetwork Network { get; private set; } = null!;

    public AirState State { get; private set; } = null!;

    public AirFlowSolution Air { get; private set; } = null!;

    public static AirNode Outside => AirNode.Outside;

    /// <summary>Compiles, with every zone and outside at one temperature and every fan at full speed.</summary>
    public Cabin Compile(double temperatureC)
    {
        Network = Builder.Build();
        State = Network.CreateState();
        Air = Network.CreateSolution();
        State.ZoneTemperatureC.Fill(temperatureC);
        State.OutdoorTemperatureC = temperatureC;
        for (int path = 0; path < Network.PathCount; path++)
        {
            State.FanSpeed[path] = Network.IsFan(path) ? 1 : 0;
        }

        return this;
    }

    public AirFlowSolution Solve()
    {
        Network.Solve(State, Air);
        return Air;
    }

    /// <summary>Dry-bulb temperature, °C, at which dry air at sea level has a density.</summary>
    public static double DryAirC(double densityKgPerM3) =>
        (StandardAtmosphere.SeaLevelPressurePa / (MoistAir.DryAirGasConstant * densityKgPerM3)) - MoistAir.ZeroCelsiusK;

    /// <summary>Density of dry air at sea level.</summary>
    public static Density DryAir(double temperatureC) => Density.FromKilogramsPerCubicMeter(
        MoistAir.DensityKgPerM3(temperatureC, 0, StandardAtmosphere.SeaLevelPressurePa));

    public static Length Metres(double metres) => Length.FromMeters(metres);

    public static Area SquareMetres(double squareMetres) => Area.FromSquareMeters(squareMetres);

    public static Area SquareCentimetres(double squareCentimetres) => Area.FromSquareCentimeters(squareCentimetres);
}
