namespace ConsultDesk.Calculations.Simulation;

/// <summary>A steady night was given up before it balanced. No result is returned instead.</summary>
public sealed class NightNotConvergedException : CalculationFailedException
{
    /// <summary>Says what did not settle.</summary>
    public NightNotConvergedException(string message)
        : base(message)
    {
    }
}
