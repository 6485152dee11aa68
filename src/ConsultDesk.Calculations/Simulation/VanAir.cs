using System.Runtime.InteropServices;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>The air flows of a van through time: its network with openings and fans that people set.</summary>
internal sealed class VanAir
{
    /// <summary>
    /// Largest imbalance left in a zone, kg/s: 0.03 m3/h, and mostly far less, because the last Newton step squares it. The balances of the steps close whatever is left, because a
    /// zone gives off what it takes in.
    /// </summary>
    public const double ToleranceKgPerS = 1e-5;

    private readonly VanAirLanes<ScalarLane> _lanes;

    public VanAir(VanModel van)
    {
        Solution = van.Night.Network.CreateSolution();
        _lanes = new VanAirLanes<ScalarLane>([van], van.Night.Network.Lanes, Solution.Flow);
    }

    /// <summary>Share of its full free area each opening stands open.</summary>
    public Span<double> OpenShare => MemoryMarshal.Cast<ScalarLane, double>(_lanes.OpenShare.AsSpan());

    /// <summary>Speed of each opening's fan.</summary>
    public Span<double> FanSpeed => MemoryMarshal.Cast<ScalarLane, double>(_lanes.FanSpeed.AsSpan());

    /// <summary>The latest flows.</summary>
    public AirFlowSolution Solution { get; }

    /// <summary>The same for one van or several.</summary>
    public VanAirLanes<ScalarLane> Lanes => _lanes;

    /// <summary>Outdoor air entering at the latest flows.</summary>
    public double OutdoorAirM3PerS => _lanes.OutdoorAirM3PerS.Value;

    /// <summary>Electric draw of all fans at the latest setting.</summary>
    public double FanW => _lanes.FanW.Value;

    /// <summary>Net air leaving by the openings above the cooker, m3/s.</summary>
    public double AboveCookerM3PerS => _lanes.AboveCookerM3PerS.Value;

    /// <summary>Network solves so far.</summary>
    public int Solves => _lanes.Solves;

    /// <summary>Newton steps of all solves.</summary>
    public long NewtonSteps => (long)_lanes.NewtonSteps.Value;

    /// <summary>Solves the network for the openings as set and the zones as they are.</summary>
    /// <exception cref="AirOutOfRangeException">A room is hotter or colder than the properties of air are known.</exception>
    /// <exception cref="NonConvergenceException">It does not balance.</exception>
    /// <param name="zoneC">Temperature of each zone.</param>
    /// <param name="humidityRatio">Humidity ratio of each zone.</param>
    /// <param name="outdoor">Outdoor air.</param>
    /// <param name="occupied">Somebody is in the van.</param>
    /// <param name="covered">Covers hang.</param>
    public void Solve(ReadOnlySpan<double> zoneC, ReadOnlySpan<double> humidityRatio, in Outdoor outdoor, bool occupied, bool covered)
    {
        _ = _lanes.Solve(
            MemoryMarshal.Cast<double, ScalarLane>(zoneC), MemoryMarshal.Cast<double, ScalarLane>(humidityRatio), outdoor, occupied, covered, ScalarLane.AllBits);
        Tell();
        if (!Solution.Converged)
        {
            throw _lanes.Failure(0);
        }
    }

    /// <summary>Makes <see cref="Solution"/> that of the latest solve of <see cref="Lanes"/>.</summary>
    public void Tell()
    {
        Solution.Converged = ScalarLane.Any(_lanes.Flow.Balanced);
        MemoryMarshal.Cast<ScalarLane, double>(_lanes.State.Speed.AsSpan()).CopyTo(Solution.FanSpeed);
    }
}
