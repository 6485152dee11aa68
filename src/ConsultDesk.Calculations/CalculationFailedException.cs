namespace ConsultDesk.Calculations;

/// <summary>A calculation was given up before its sums closed. No result is returned instead; the message says what did not settle.</summary>
public abstract class CalculationFailedException : Exception
{
    /// <summary>Says what did not settle.</summary>
    protected CalculationFailedException(string message)
        : base(message)
    {
    }
}
