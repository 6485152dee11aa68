namespace ConsultDesk.Calculations.Climate;

/// <summary>When to ask how a first winter went (our judgement).</summary>
public static class FirstWinter
{
    /// <summary>
    /// Days of winter somebody must have lived with what was done, or a report says little: what is done later waits for the
    /// end of the winter after.
    /// </summary>
    public const int FewestDays = 60;

    /// <summary>The first 1 March in the north, or 1 September in the south, at least <see cref="FewestDays"/> days after something was accepted or built in.</summary>
    /// <param name="done">The day it was.</param>
    /// <param name="southern">True when the van spends its winters south of the equator.</param>
    public static DateOnly CheckBackOn(DateOnly done, bool southern)
    {
        int month = southern ? 9 : 3;
        DateOnly day = new DateOnly(done.Year, month, 1);
        while (day.DayNumber - done.DayNumber < FewestDays)
        {
            day = day.AddYears(1);
        }

        return day;
    }
}
