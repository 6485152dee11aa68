namespace ConsultDesk.Calculations.Comfort;

/// <summary>A comfort index was given up: its equation has no root within the method's range.</summary>
public sealed class ComfortNotFoundException : CalculationFailedException
{
    internal ComfortNotFoundException(string message)
        : base(message)
    {
    }
}
