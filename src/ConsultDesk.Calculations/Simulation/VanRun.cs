using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>How a run steps and who moves the openings.</summary>
internal sealed record RunOptions
{
    /// <summary>
    /// Length of every step, a divisor of 600 s; null for twenty minutes, shorter after a change, and second order wherever the step before is at least half as long.
    /// </summary>
    public int? StepSeconds { get; init; }

    /// <summary>Steps of <see cref="StepSeconds"/> are of second order, across changes too; without it of first order.</summary>
    public bool SecondOrder { get; init; }

    /// <summary>Fans stand still while the van is locked and left.</summary>
    public bool FansFailWhenLocked { get; init; }
}

/// <summary>One van lived in hour by hour: <see cref="VanRun{TLane}"/> with a single lane.</summary>
internal sealed class VanRun
{
    private readonly VanRun<ScalarLane> _lanes;
    private readonly HouseholdDay[] _day = new HouseholdDay[1];

    public VanRun(VanModel van, RunOptions? options = null)
        : this(new VanBatch<ScalarLane>([van]), options)
    {
    }

    public VanRun(VanBatch<ScalarLane> batch, RunOptions? options = null)
    {
        Air = new VanAir(batch.Vans[0]);
        _lanes = new VanRun<ScalarLane>(batch, options, Air.Lanes);
        Zones = new VanStep(batch, _lanes.Zones);
    }

    /// <summary>The same as one lane.</summary>
    public VanRun<ScalarLane> Lanes => _lanes;

    /// <summary>Air, faces, skins and stores.</summary>
    public VanStep Zones { get; }

    /// <summary>Openings and air flows.</summary>
    public VanAir Air { get; }

    /// <summary>Steps taken.</summary>
    public int Steps => _lanes.Steps[0];

    /// <summary>Heat of the heater in the latest hour, J.</summary>
    public double HourHeaterJ => _lanes.HourHeaterJ.Value;

    /// <summary>Puts the van at one temperature, with the outdoor air's humidity.</summary>
    public void Start(in Outdoor outdoor, double temperatureC) => _lanes.Start(outdoor, new(temperatureC));

    /// <summary>Starts the sums of the balances anew.</summary>
    public void ClearSums() => _lanes.ClearSums();

    /// <summary>One hour.</summary>
    /// <param name="before">Outdoor air of the hour before.</param>
    /// <param name="now">Outdoor air of this hour.</param>
    /// <param name="after">Outdoor air of the hour after.</param>
    /// <param name="day">What the household does.</param>
    /// <param name="hourOfDay">0 to 23.</param>
    public void Hour(in Outdoor before, in Outdoor now, in Outdoor after, HouseholdDay day, int hourOfDay)
    {
        _day[0] = day;
        _lanes.Hour(before, now, after, _day, hourOfDay);
        Air.Tell();
    }
}
