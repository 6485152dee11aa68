using ConsultDesk.Calculations;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace;

/// <summary>What a command of the records or a calculation refuses, in words for the page.</summary>
public static class RefusalWords
{
    /// <summary>The words; null for what is no refusal but a fault, which nobody may swallow.</summary>
    public static string? Of(Exception exception) => exception switch
    {
        InvalidInputException refused => string.Join(" ", refused.Errors.Select(error => error.Message)),
        OptionInDangerException refused => refused.Message + " Change the option, or try a remedy on a copy and choose that.",
        CalculationFailedException or ArgumentException => "This could not be worked out: " + exception.Message,
        RecordChangedException or RecordNotFoundException => exception.Message + " Load the page again to see how it stands.",
        _ => null,
    };
}
