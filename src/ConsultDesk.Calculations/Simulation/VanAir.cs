using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>The air flows of a van through time: its network with openings and fans that people set.</summary>
internal sealed class VanAir
{
    /// <summary>
    /// Largest imbalance left in a zone, kg/s: 0.03 m3/h, and mostly far less, because the last Newton step squares it. The balances of the steps close whatever is left, because a
    /// zone gives off what it takes in.
    /// </summary>
    public const double ToleranceKgPerS = 1e-5;

    private readonly VanModel _van;
    private readonly AirState _state;
    private readonly Opening[] _openings;
    private readonly double[] _fullFanW;
    private readonly double[] _coverLoss;
    private readonly double _electronicsW;
    private readonly double _circulationW;
    private readonly double[] _wind;

    public VanAir(VanModel van)
    {
        _van = van;
        NightModel night = van.Night;
        _state = night.Network.CreateState();
        Solution = night.Network.CreateSolution();
        _openings = [.. night.Design.Openings];
        OpenShare = new double[_openings.Length];
        FanSpeed = new double[_openings.Length];
        _fullFanW = [.. _openings.Select(opening => opening.Fan is Fan fan
            ? FanPower.FullSpeedW(fan, night.Assumed)
            : 0)];
        _electronicsW = night.Assumed["fan-electronics"];
        _coverLoss = [.. _openings.Select(opening => opening.Fan is null ? night.Resistance(opening) : (1, 0)).Select(loss => loss.Item2 / loss.Item1)];
        _circulationW = NightModel.RunningFans(night.Design).Sum(fan => (double)fan.ElectricDraw.Watts);
        _wind = [.. Enum.GetValues<Shelter>().Select(night.ShelterFactor)];
    }

    /// <summary>Share of its full free area each opening stands open.</summary>
    public double[] OpenShare { get; }

    /// <summary>Speed of each opening's fan.</summary>
    public double[] FanSpeed { get; }

    /// <summary>The latest flows.</summary>
    public AirFlowSolution Solution { get; }

    /// <summary>Outdoor air entering at the latest flows.</summary>
    public double OutdoorAirM3PerS { get; private set; }

    /// <summary>Electric draw of all fans at the latest setting.</summary>
    public double FanW { get; private set; }

    /// <summary>Net air leaving by the openings above the cooker, m3/s.</summary>
    public double AboveCookerM3PerS { get; private set; }

    /// <summary>Network solves so far.</summary>
    public int Solves { get; private set; }

    /// <summary>Newton steps of all solves.</summary>
    public long NewtonSteps { get; private set; }

    /// <summary>Solves the network for the openings as set and the zones as they are.</summary>
    /// <exception cref="AirOutOfRangeException">A room is hotter or colder than the properties of air are known.</exception>
    public void Solve(VanStep zones, in Outdoor outdoor, bool occupied, bool covered)
    {
        SetPaths(occupied, covered);
        for (int i = 0; i < _van.ZoneCount; i++)
        {
            _state.TemperatureC[i] = zones.ZoneC[i];
            _state.HumidityRatioKgPerKg[i] = zones.HumidityRatio[i];
            if (!MoistAir.TemperatureRange.Contains(_state.TemperatureC[i]))
            {
                throw new AirOutOfRangeException(string.Create(
                    CultureInfo.InvariantCulture,
                    $"The air of '{_van.Night.Design.Zones[i].Name}' came to {_state.TemperatureC[i]:F0} °C; expected {MoistAir.TemperatureRange.Minimum} to {MoistAir.TemperatureRange.Maximum} °C. With so little air in and out its heat goes nowhere."));
            }
        }

        _van.Night.Drive(
            _state,
            outdoor.TemperatureC,
            MoistAir.HumidityRatio(outdoor.VapourPressurePa, outdoor.PressurePa),
            outdoor.PressurePa,
            outdoor.StationWindMPerS * _wind[(int)outdoor.Shelter]);
        _van.Night.Network.Solve(_state, Solution, ToleranceKgPerS);
        Solves++;
        NewtonSteps += Solution.Iterations;
        zones.SetAir(Solution.Transport);
        Gather();
    }

    private void SetPaths(bool occupied, bool covered)
    {
        NightModel night = _van.Night;
        double watts = occupied ? _circulationW : 0;
        for (int index = 0; index < _openings.Length; index++)
        {
            int path = night.OpeningPaths[index]!.Value.Index;
            double share = OpenShare[index];
            // A cover over an open window is a resistance in series with it.
            double cover = covered ? _coverLoss[index] * share * share : 0;
            _state.Open[path] = share / Math.Sqrt(1 + cover);
            if (_fullFanW[index] > 0)
            {
                double speed = FanSpeed[index];
                _state.Speed[path] = speed;
                watts += FanPower.DrawW(_fullFanW[index], _electronicsW, speed);
            }
        }

        foreach (int path in night.CirculationPaths)
        {
            _state.Open[path] = occupied ? 1 : 0;
        }

        FanW = watts;
    }

    private void Gather()
    {
        int nodes = _van.ZoneCount + 1;
        double kgPerS = 0;
        for (int zone = 0; zone < _van.ZoneCount; zone++)
        {
            kgPerS += Solution.Transport[(zone * nodes) + nodes - 1];
        }

        OutdoorAirM3PerS = kgPerS / Solution.Density[nodes - 1];
        double aboveKgPerS = 0;
        foreach (int index in _van.CapturePaths)
        {
            OutsidePath path = _van.Night.OpeningPaths[index]!.Value;
            double net = Solution.PathNet[path.Index];
            aboveKgPerS += OpenShare[index] > 0 ? Math.Max(0, path.Outwards ? net : -net) : 0;
        }

        AboveCookerM3PerS = aboveKgPerS / FlowLaw.ReferenceDensityKgPerM3;
    }
}
