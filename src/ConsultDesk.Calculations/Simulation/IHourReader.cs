using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Reads the hours of vans that are run side by side, as they come.</summary>
internal interface IHourReader<TLane>
    where TLane : struct, ILane<TLane>
{
    /// <summary>The vans have settled; the first hour that counts comes next.</summary>
    /// <param name="run">The vans.</param>
    /// <param name="firstHour">That hour of the year.</param>
    void Begin(VanRun<TLane> run, int firstHour);

    /// <summary>An hour has run.</summary>
    /// <param name="run">The vans at its end. Numbers of a van that failed mean nothing.</param>
    /// <param name="hour">Hour of the year; whole days come, from their first hour on.</param>
    /// <param name="slot">What the people do at its end, the same in all vans but for what they give off.</param>
    void Hour(VanRun<TLane> run, int hour, DaySlot slot);

    /// <summary>The last hour has run.</summary>
    void End(VanRun<TLane> run);
}
