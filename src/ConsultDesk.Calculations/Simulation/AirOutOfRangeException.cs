namespace ConsultDesk.Calculations.Simulation;

/// <summary>The air of a room left the range in which its properties are known. No result is returned instead.</summary>
public sealed class AirOutOfRangeException : CalculationFailedException
{
    /// <summary>Says which room's air left which range.</summary>
    public AirOutOfRangeException(string message)
        : base(message)
    {
    }
}
